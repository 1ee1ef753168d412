#include "base/json_fault.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
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
  std::size_t end = offset;
  while (end < text.size() && is_word(text[end])) ++end;
  if (end == offset) return std::string(text.substr(offset, utf8_at(text, offset).size));
  return printable(text.substr(offset, end - offset), kLongestQuote);
}

/// The code unit of "\\uXXXX" at `at`; nothing where no such escape stands there.
std::optional<unsigned> code_unit(std::string_view text, std::size_t at) {
  const std::string_view escape = text.substr(std::min(at, text.size()), 6);
  if (escape.size() < 6 || escape.substr(0, 2) != "\\u") return std::nullopt;
  const std::string digits(escape.substr(2));
  if (digits.find_first_not_of("0123456789abcdefABCDEF") != std::string::npos) return std::nullopt;
  return static_cast<unsigned>(std::stoul(digits, nullptr, 16));
}

/// Length of the escape at `at`, 0 where it is none. A high surrogate needs its low one behind it.
std::size_t escape_length(std::string_view text, std::size_t at) {
  constexpr std::string_view kSimple = "\"\\/bfnrt";
  if (at + 1 < text.size() && kSimple.find(text[at + 1]) != std::string_view::npos) return 2;
  const std::optional<unsigned> unit = code_unit(text, at);
  if (!unit || (*unit >= 0xDC00 && *unit < 0xE000)) return 0;
  if (*unit < 0xD800 || *unit >= 0xE000) return 6;
  const std::optional<unsigned> low = code_unit(text, at + 6);
  return low && *low >= 0xDC00 && *low < 0xE000 ? 12 : 0;
}

/// What is wrong inside the text that begins at `token`.
JsonFault text_fault(std::string_view text, std::size_t token) {
  for (std::size_t at = token + 1; at < text.size();) {
    const char c = text[at];
    if (c == '\n' || c == '\r') break;
    if (static_cast<unsigned char>(c) < 0x20) {
      return {at, say::json_control_character(fmt::format("{:04x}", static_cast<unsigned>(c)))};
    }
    const std::size_t length = c == '\\' ? escape_length(text, at) : 1;
    if (length == 0) {
      const std::string_view escape = text.substr(at, text.substr(at, 2) == "\\u" ? 6 : 2);
      if (at + escape.size() == text.size()) break;
      return {at, say::json_bad_escape(std::string(escape.substr(0, escape.find('"'))))};
    }
    at += length;
  }
  return {token, say::json_text_not_closed()};
}

/// A number that goes on in a way numbers do not, such as 5k6 or 012: the whole of it; nothing where what stands at
/// `token` is apart from what was read before.
std::optional<JsonFault> run_on(std::string_view text, std::size_t token) {
  std::size_t begin = token;
  while (begin > 0 && is_word(text[begin - 1])) --begin;
  if (begin == token || !is_word(text[token])) return std::nullopt;
  return JsonFault{begin, say::json_bad_number(found_at(text, begin))};
}

JsonFault value_fault(std::string_view text, const JsonStop& stop) {
  const std::string found = found_at(text, stop.token);
  const char first = found.front();
  if ((first >= '0' && first <= '9') || first == '-' || first == '+' || first == '.') {
    return {stop.token, say::json_bad_number(found)};
  }
  // Nothing was opened yet: a table, a picture, a program; a person took the wrong file.
  if (stop.opened_line == 0) return {stop.token, say::json_is_none(found)};
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
  if (c == '"' && (value_next || key_next)) return text_fault(text, stop.token);
  if (c == '\'' && (value_next || key_next)) return {stop.token, say::json_single_quote()};
  if ((c == '}' && stop.expects == JsonExpects::key) || (c == ']' && stop.expects == JsonExpects::item)) {
    return {stop.token, say::json_trailing_comma()};
  }
  if (value_next) return value_fault(text, stop);
  if (key_next) return key_fault(text, stop);
  if (std::optional<JsonFault> number = run_on(text, stop.token)) return *std::move(number);
  const std::string found = found_at(text, stop.token);
  switch (stop.expects) {
    case JsonExpects::colon: return {stop.token, say::json_expected_colon(found)};
    case JsonExpects::comma_in_object: return {stop.token, say::json_expected_comma_in_object(found)};
    case JsonExpects::comma_in_list: return {stop.token, say::json_expected_comma_in_list(found)};
    default: return {stop.token, say::json_after_end(found)};
  }
}

}  // namespace zoneproof
