#include "materials/decimal.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace zoneproof::materials {

namespace {

bool is_digit(char letter) { return letter >= '0' && letter <= '9'; }

constexpr std::int64_t kLimb = 1'000'000'000;

/// The digits of a * b, most significant first: both have at most most_digits, so two limbs of nine digits each do.
std::string product_digits(std::int64_t a, std::int64_t b) {
  const std::int64_t a1 = a / kLimb, a0 = a % kLimb, b1 = b / kLimb, b0 = b % kLimb;
  std::int64_t low = a0 * b0;
  std::int64_t middle = a1 * b0 + a0 * b1 + low / kLimb;  // each below 1e15, and 1e9
  low %= kLimb;
  const std::int64_t high = a1 * b1 + middle / kLimb;
  middle %= kLimb;
  const auto nine = [](std::int64_t limb) {
    const std::string digits = std::to_string(limb);
    return std::string(9 - digits.size(), '0') + digits;
  };
  return std::to_string(high) + nine(middle) + nine(low);
}

/// A whole number of digits with its last `dropped` ones rounded away, half away from zero; nothing where too long.
std::optional<std::int64_t> without_last(std::string digits, int dropped) {
  if (dropped < 0) digits.append(static_cast<std::size_t>(-dropped), '0');
  const auto cut = static_cast<std::size_t>(std::max(0, dropped));
  if (digits.size() < cut) digits.insert(0, cut - digits.size(), '0');
  const bool up = cut > 0 && digits[digits.size() - cut] >= '5';
  digits.resize(digits.size() - cut);
  digits.erase(0, std::min(digits.find_first_not_of('0'), digits.size()));
  if (digits.size() > static_cast<std::size_t>(most_digits)) return std::nullopt;
  std::int64_t whole = 0;
  for (char digit : digits) whole = whole * 10 + (digit - '0');
  return whole + (up ? 1 : 0);
}

}  // namespace

std::optional<Decimal> decimal_of(std::string_view text, char point) {
  const std::size_t at = text.find(point);
  const std::string_view whole = text.substr(0, at);
  const std::string_view part = at == std::string_view::npos ? std::string_view() : text.substr(at + 1);
  const bool plain = !whole.empty() && std::all_of(whole.begin(), whole.end(), is_digit) &&
                     std::all_of(part.begin(), part.end(), is_digit);
  if (!plain || (at != std::string_view::npos && part.empty())) return std::nullopt;
  if (part.size() > static_cast<std::size_t>(most_places)) return std::nullopt;
  const auto digits = without_last(std::string(whole) + std::string(part), 0);
  if (!digits) return std::nullopt;
  return Decimal{*digits, static_cast<int>(part.size())};
}

std::optional<Decimal> decimal_of(double value) {
  if (!(value >= 0.0) || !std::isfinite(value) || value >= 1e15) return std::nullopt;
  char buffer[400];  // the longest fixed form of a double has some 340 letters
  const auto end = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed);
  const std::string text(buffer, end.ptr);
  const std::size_t point = text.find('.');
  if (point == std::string::npos) return decimal_of(text);
  const std::string part = text.substr(point + 1);
  const int places = std::min(static_cast<int>(part.size()), most_places);
  const auto digits = without_last(text.substr(0, point) + part, static_cast<int>(part.size()) - places);
  if (!digits) return std::nullopt;
  return Decimal{*digits, places};
}

Decimal rounded(const Decimal& value, int places) {
  if (value.places <= places) return value;
  return {without_last(std::to_string(value.digits), value.places - places).value_or(0), places};
}

std::optional<std::int64_t> product(const Decimal& a, const Decimal& b, int places) {
  return without_last(product_digits(a.digits, b.digits), a.places + b.places - places);
}

std::string amount_text(std::int64_t amount, int places) {
  std::string digits = std::to_string(amount < 0 ? -amount : amount);
  const auto behind = static_cast<std::size_t>(places);
  if (digits.size() <= behind) digits.insert(0, behind + 1 - digits.size(), '0');
  if (places > 0) digits.insert(digits.size() - behind, ".");
  return amount < 0 ? "-" + digits : digits;
}

std::string text(const Decimal& value) {
  std::string shown = amount_text(value.digits, value.places);
  if (shown.find('.') == std::string::npos) return shown;
  shown.erase(shown.find_last_not_of('0') + 1);
  if (shown.back() == '.') shown.pop_back();
  return shown;
}

}  // namespace zoneproof::materials
