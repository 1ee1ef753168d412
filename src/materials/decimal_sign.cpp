#include "materials/decimal_sign.hpp"

#include <algorithm>
#include <string>

namespace zoneproof::materials {

namespace {

constexpr const char* kSigns = ".,";
constexpr std::size_t kGroup = 3;  // digits of a thousand

char other_sign(char sign) { return sign == '.' ? ',' : '.'; }

bool all_digits(std::string_view text) {
  return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

/// "1.250.000": what stands before the first mark begins with no 0, and three digits follow each mark.
bool is_grouped(std::string_view whole, char mark) {
  const std::size_t first = std::min(whole.find(mark), whole.size());
  if (!all_digits(whole.substr(0, first)) || first > kGroup || whole.front() == '0') return false;
  for (std::size_t at = first; at < whole.size(); at += kGroup + 1) {
    if (whole[at] != mark || !all_digits(whole.substr(at + 1, kGroup)) || whole.size() - at <= kGroup) return false;
  }
  return true;
}

std::optional<Decimal> value_with(std::string_view text, char decimal, char grouping) {
  std::string plain(text);
  if (grouping != 0) plain.erase(std::remove(plain.begin(), plain.end(), grouping), plain.end());
  return decimal_of(plain, decimal == 0 ? '.' : decimal);
}

}  // namespace

std::optional<WrittenNumber> written_number(std::string_view text) {
  const std::size_t last = text.find_last_of(kSigns);
  if (last == std::string_view::npos) return all_digits(text) ? std::optional(WrittenNumber{}) : std::nullopt;
  const char sign = text[last];
  const std::string_view before = text.substr(0, last), behind = text.substr(last + 1);
  if (!all_digits(behind)) return std::nullopt;
  if (all_digits(before)) return WrittenNumber{sign, 0, is_grouped(text, sign)};
  if (before.find(sign) == std::string_view::npos) {  // 1.250,00
    if (!is_grouped(before, other_sign(sign))) return std::nullopt;
    return WrittenNumber{sign, other_sign(sign), false};
  }
  if (!is_grouped(text, sign)) return std::nullopt;  // 1.250.000
  return WrittenNumber{0, sign, false};
}

void DecimalSigns::see(std::string_view number, int line) {
  const auto written = written_number(number);
  if (!written || written->open) return;
  const char decimal = written->grouping != 0 ? other_sign(written->grouping) : written->decimal;
  if (decimal == '.' && point_ == 0) point_ = line;
  if (decimal == ',' && comma_ == 0) comma_ = line;
}

bool DecimalSigns::stays_open(std::string_view number) const {
  const auto written = written_number(number);
  return written && written->open && (point_ == 0) == (comma_ == 0);
}

std::optional<Decimal> DecimalSigns::value_of(std::string_view number) const {
  const auto written = written_number(number);
  if (!written || stays_open(number)) return std::nullopt;
  if (!written->open) return value_with(number, written->decimal, written->grouping);
  const char of_list = point_ != 0 ? '.' : ',';
  return written->decimal == of_list ? read_as_decimal(number) : read_as_thousands(number);
}

Decimal read_as_thousands(std::string_view open_number) {
  return value_with(open_number, 0, open_number[open_number.find_first_of(kSigns)]).value_or(Decimal{});
}

Decimal read_as_decimal(std::string_view open_number) {
  return value_with(open_number, open_number[open_number.find_first_of(kSigns)], 0).value_or(Decimal{});
}

}  // namespace zoneproof::materials
