#include "base/json_fault.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>

#include "base/utf8.hpp"
#include "messages/base.hpp"

namespace zoneproof {

namespace {

bool is_word(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '+' ||
         c == '-' || c == '.';
}

/// What stands at the place, short enough for a sentence: a run of word characters, or one character.
std::string found_at(std::string_view text, std::size_t offset) {
  constexpr std::size_t kLongest = 24;
  std::size_t end = offset;
  while (end < text.size() && is_word(text[end])) ++end;
  if (end == offset) return std::string(text.substr(offset, utf8_at(text, offset).size));
  return std::string(text.substr(offset, end - offset).substr(0, kLongest));
}

/// Inside a text the reader stops at the end of a line, at another control character or behind a wrong escape.
JsonFault text_fault(std::string_view text, const JsonStop& stop) {
  const std::size_t wrong = stop.stopped - 1;
  const char c = text[wrong];
  if (c == '\n' || c == '\r') return {stop.token, say::json_text_not_closed()};
  if (static_cast<unsigned char>(c) < 0x20) {
    return {wrong, say::json_control_character(fmt::format("{:04x}", static_cast<unsigned>(c)))};
  }
  std::size_t begin = text.rfind('\\', wrong);
  if (begin == std::string_view::npos || begin <= stop.token) return {stop.token, say::json_text_not_closed()};
  const bool second_half = begin >= stop.token + 7 && text.substr(begin - 6, 2) == "\\u" && text[begin + 1] == 'u';
  if (second_half && (text[begin - 4] == 'd' || text[begin - 4] == 'D')) begin -= 6;
  return {begin, say::json_bad_escape(std::string(text.substr(begin, wrong - begin + 1)))};
}

JsonFault value_fault(std::string_view text, const JsonStop& stop) {
  const std::string found = found_at(text, stop.token);
  const char first = found.front();
  if ((first >= '0' && first <= '9') || first == '-' || first == '+' || first == '.') {
    return {stop.token, say::json_bad_number(found)};
  }
  if (is_word(first)) return {stop.token, say::json_unknown_word(found)};
  return {stop.token, say::json_expected_value(found)};
}

JsonFault key_fault(std::string_view text, const JsonStop& stop) {
  const std::string found = found_at(text, stop.token);
  if (is_word(found.front())) return {stop.token, say::json_key_not_quoted(found)};
  return {stop.token, say::json_expected_key(found)};
}

JsonFault unfinished(std::string_view text, const JsonStop& stop) {
  if (stop.opened_line > 0) return {text.size(), say::json_unfinished(static_cast<long long>(stop.opened_line))};
  return {text.size(), say::json_value_missing()};
}

}  // namespace

JsonFault describe_fault(std::string_view text, const JsonStop& stop) {
  if (stop.token >= text.size()) return unfinished(text, stop);
  const char c = text[stop.token];
  const std::string_view two = text.substr(stop.token, 2);
  if (two == "//" || two == "/*" || c == '#') return {stop.token, say::json_comment()};
  const bool value_next = stop.expects == JsonExpects::value || stop.expects == JsonExpects::item ||
                          stop.expects == JsonExpects::item_or_end;
  const bool key_next = stop.expects == JsonExpects::key || stop.expects == JsonExpects::key_or_end;
  if (c == '"' && (value_next || key_next)) {
    const bool at_end = stop.stopped >= text.size() && static_cast<unsigned char>(text.back()) >= 0x20;
    const bool escaped = text.substr(stop.token).find('\\') != std::string_view::npos;
    if (at_end && !escaped) return {stop.token, say::json_text_not_closed()};
    return text_fault(text, stop);
  }
  if (c == '\'' && (value_next || key_next)) return {stop.token, say::json_single_quote()};
  if ((c == '}' && stop.expects == JsonExpects::key) || (c == ']' && stop.expects == JsonExpects::item)) {
    return {stop.token, say::json_trailing_comma()};
  }
  if (value_next) return value_fault(text, stop);
  if (key_next) return key_fault(text, stop);
  const std::string found = found_at(text, stop.token);
  switch (stop.expects) {
    case JsonExpects::colon: return {stop.token, say::json_expected_colon(found)};
    case JsonExpects::comma_in_object: return {stop.token, say::json_expected_comma_in_object(found)};
    case JsonExpects::comma_in_list: return {stop.token, say::json_expected_comma_in_list(found)};
    default: return {stop.token, say::json_after_end(found)};
  }
}

}  // namespace zoneproof
