#include "base/json_harmless.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "base/utf8.hpp"
#include "messages/base.hpp"

namespace zoneproof {

namespace {

bool is_literal(char c) {
  return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-' || c == '+' || c == '.';
}

/// The names that programs give to what is no finite number, with or without a sign, in any case.
bool is_no_number(std::string_view word) {
  if (word.front() == '-' || word.front() == '+') word.remove_prefix(1);
  const auto is = [&](std::string_view name) {
    return std::equal(word.begin(), word.end(), name.begin(), name.end(),
                      [](char a, char b) { return a == b || (a >= 'A' && a <= 'Z' && a + 32 == b); });
  };
  return is("nan") || is("inf") || is("infinity");
}

/// Only a JSON number can overflow; anything else is left to the parser. (strtod reads the decimal point because
/// the program stays in the "C" locale.)
bool overflows(std::string_view word) {
  constexpr std::size_t kAlwaysFits = 300;  // so many digits without an exponent stay below 1.8e308
  if (word.size() < kAlwaysFits && word.find_first_of("eE") == std::string_view::npos) return false;
  if (word.find_first_not_of("0123456789+-.eE") != std::string_view::npos) return false;
  const std::string number(word);
  char* end = nullptr;
  const double value = std::strtod(number.c_str(), &end);
  return *end == '\0' && std::isinf(value);
}

}  // namespace

HarmlessText::HarmlessText(std::string_view text, std::vector<JsonFault>& findings) : text_(text), findings_(findings) {
  walk();
}

void HarmlessText::walk() {
  std::size_t at = 0;
  bool inside = false;
  while (at < text_.size()) {
    const char c = text_[at];
    if (static_cast<unsigned char>(c) >= 0x80) {
      at = other_than_ascii(at);
    } else if (inside) {
      inside = c != '"';
      at += c == '\\' && at + 1 < text_.size() && static_cast<unsigned char>(text_[at + 1]) < 0x80 ? 2 : 1;
    } else if (c == '"') {
      inside = true;
      ++at;
    } else if (is_literal(c)) {
      at = literal(at);
    } else if (c == '\0') {  // the library takes it for the end of the text and would pass over what follows
      overwrite(at++, 1, '?', '?');
    } else {
      ++at;
    }
    if (c == '\n') ++line_;
  }
}

void HarmlessText::overwrite(std::size_t at, std::size_t size, char first, char rest) {
  if (copy_.empty()) copy_ = text_;
  copy_.replace(at, size, size, rest);
  copy_[at] = first;
}

std::size_t HarmlessText::other_than_ascii(std::size_t at) {
  const Utf8Step step = utf8_at(text_, at);
  if (step.valid) return at + step.size;
  overwrite(at, 1, '?', '?');
  if (line_ != last_bad_line_) {
    static constexpr char kDigits[] = "0123456789ABCDEF";
    const auto byte = static_cast<unsigned char>(text_[at]);
    findings_.push_back({at, say::json_not_utf8(std::string{kDigits[byte >> 4U], kDigits[byte & 15U]})});
    last_bad_line_ = line_;
  }
  return at + 1;
}

std::size_t HarmlessText::literal(std::size_t at) {
  std::size_t end = at;
  while (end < text_.size() && is_literal(text_[end])) ++end;
  const std::string_view word = text_.substr(at, end - at);
  if (is_no_number(word)) {
    findings_.push_back({at, say::json_not_a_number(std::string(word))});
    overwrite(at, end - at, '0', ' ');
  } else if (overflows(word)) {
    findings_.push_back({at, say::json_number_too_large(printable(word, kLongestQuote))});
    overwrite(at, end - at, '0', ' ');
  }
  return end;
}

}  // namespace zoneproof
