#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

/// Money and quantities as whole numbers of a decimal place, so that what is printed adds up. No binary fraction ever
/// holds an amount.
namespace zoneproof::materials {

/// `digits` * 10^-`places`: 12.50 is {1250, 2}.
struct Decimal {
  std::int64_t digits = 0;
  int places = 0;  ///< 0 to most_places

  friend bool operator==(const Decimal&, const Decimal&) = default;
};

inline constexpr int most_places = 6;
/// Largest number of digits of one amount: below it every product of two of them fits 128 bits.
inline constexpr int most_digits = 15;

/// The plain decimal number in `text`: digits with at most one `point` among them and a digit on each side of it.
/// Nothing else: no sign, blank, exponent or thousands mark, at most most_digits digits and most_places behind the
/// point.
std::optional<Decimal> decimal_of(std::string_view text, char point = '.');

/// The shortest decimal that reads back as `value`; rounded to most_places, half away from zero, where it has more.
/// Nothing for what is negative, not finite or has too many digits.
std::optional<Decimal> decimal_of(double value);

/// Rounds half away from zero (commercial rounding) to `places`.
Decimal rounded(const Decimal& value, int places);

/// a * b in whole units of 10^-places, rounded once, half away from zero. Nothing where it has too many digits.
std::optional<std::int64_t> product(const Decimal& a, const Decimal& b, int places);

/// "1250.00" of 125000 with two places; no grouping, a point.
std::string amount_text(std::int64_t amount, int places);
/// "12.5": without zeros at the end.
std::string text(const Decimal& value);

}  // namespace zoneproof::materials
