#include "book/forms.hpp"

#include <algorithm>

#include "base/utf8.hpp"
#include "messages/book.hpp"

namespace zoneproof::book {

namespace {

constexpr std::size_t kLongestEditId = 64;
constexpr std::size_t kLongestSiteId = 40;
constexpr std::size_t kLongestName = 80;

bool is_digit(char letter) { return letter >= '0' && letter <= '9'; }
bool is_lower(char letter) { return letter >= 'a' && letter <= 'z'; }
bool is_upper(char letter) { return letter >= 'A' && letter <= 'Z'; }

int two_digits(std::string_view text, std::size_t at) { return (text[at] - '0') * 10 + (text[at + 1] - '0'); }

int days_of(int year, int month) {
  if (month == 2) return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) ? 29 : 28;
  return month == 4 || month == 6 || month == 9 || month == 11 ? 30 : 31;
}

/// Digits where the pattern has 0, its own characters elsewhere.
bool fits(std::string_view text, std::string_view pattern) {
  if (text.size() != pattern.size()) return false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (pattern[i] == '0' ? !is_digit(text[i]) : text[i] != pattern[i]) return false;
  }
  return true;
}

/// RFC 3339 in UTC. Texts of this form are in the order of time, up to the second.
bool is_time(std::string_view text) {
  constexpr std::string_view whole = "0000-00-00T00:00:00";
  constexpr std::size_t most_decimals = 9;
  if (text.size() < whole.size() + 1 || text.back() != 'Z' || !fits(text.substr(0, whole.size()), whole)) return false;
  const std::string_view fraction = text.substr(whole.size(), text.size() - whole.size() - 1);
  if (!fraction.empty() && (fraction.front() != '.' || fraction.size() < 2 || fraction.size() > 1 + most_decimals ||
                            !std::all_of(fraction.begin() + 1, fraction.end(), is_digit))) {
    return false;
  }
  const int year = two_digits(text, 0) * 100 + two_digits(text, 2), month = two_digits(text, 5);
  const int day = two_digits(text, 8);
  return month >= 1 && month <= 12 && day >= 1 && day <= days_of(year, month) && two_digits(text, 11) <= 23 &&
         two_digits(text, 14) <= 59 && two_digits(text, 17) <= 60;
}

}  // namespace

bool is_sha256(std::string_view text) {
  return text.size() == 64 && std::all_of(text.begin(), text.end(), [](char letter) {
           return is_digit(letter) || (letter >= 'a' && letter <= 'f');
         });
}

Forms& Forms::time(const char* what, const std::string& text) {
  if (!is_time(text)) problems_.push_back(say::book_bad_time(what, text));
  return *this;
}

Forms& Forms::edit_id(const std::string& text) {
  const bool good =
      !text.empty() && text.size() <= kLongestEditId && std::all_of(text.begin(), text.end(), [](char letter) {
        return is_digit(letter) || is_lower(letter) || is_upper(letter) || letter == '_' || letter == '-';
      });
  if (!good) problems_.push_back(say::book_bad_edit_id(text));
  return *this;
}

Forms& Forms::site_id(const std::string& text) {
  const bool good = !text.empty() && text.size() <= kLongestSiteId && is_lower(text.front()) &&
                    std::all_of(text.begin(), text.end(),
                                [](char letter) { return is_digit(letter) || is_lower(letter) || letter == '_'; });
  if (!good) problems_.push_back(say::book_bad_site_id(text));
  return *this;
}

Forms& Forms::person(const char* what, const std::string& text) {
  const bool control = std::any_of(text.begin(), text.end(), [](char letter) {
    return static_cast<unsigned char>(letter) < 0x20 || letter == 0x7f;
  });
  const bool blank = text.find_first_not_of(' ') == std::string::npos;
  if (blank || control || utf8_length(text) > kLongestName || first_invalid_utf8(text) != std::string_view::npos) {
    problems_.push_back(say::book_bad_name(what, text));
  }
  return *this;
}

Forms& Forms::text(const char* what, const std::string& text, std::size_t longest) {
  if (text.size() > longest) {
    problems_.push_back(
        say::book_text_too_long(what, static_cast<long long>(text.size()), static_cast<long long>(longest)));
  } else if (text.find('\0') != std::string::npos || first_invalid_utf8(text) != std::string_view::npos) {
    problems_.push_back(say::book_bad_text(what));
  }
  return *this;
}

Forms& Forms::sha256(const std::string& text) {
  if (!is_sha256(text)) problems_.push_back(say::book_bad_sha256(text));
  return *this;
}

}  // namespace zoneproof::book
