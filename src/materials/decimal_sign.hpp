#pragma once
#include <optional>
#include <string_view>

#include "materials/decimal.hpp"

/// Which of point and comma is the decimal sign of a list, told from all of its numbers together: "0,385" and "18,40"
/// show it, "1.250" alone may be 1.25 or 1250.
namespace zoneproof::materials {

/// A number as it is written, taken by itself.
struct WrittenNumber {
  char decimal = 0;   ///< its decimal sign as far as it shows one by itself, else 0
  char grouping = 0;  ///< its thousands mark, else 0
  bool open = false;  ///< one sign with three digits behind it, `decimal`, which may be either
};

/// Digits with points and commas among them as people set them: at most one decimal sign, thousands in threes, the
/// first of one to three digits and not beginning with 0. Nothing for what is written otherwise.
std::optional<WrittenNumber> written_number(std::string_view text);

class DecimalSigns {
 public:
  /// Takes what a number shows; what is open or no number shows nothing.
  void see(std::string_view number, int line);

  /// The value of a number by its own signs, and where these are open by those of the list; nothing for what is no
  /// number, has too many digits (decimal_of), or stays open.
  std::optional<Decimal> value_of(std::string_view number) const;
  /// Whether the list leaves open which of two numbers this one is: it shows no decimal sign, or both.
  bool stays_open(std::string_view number) const;

  /// The first line with a decimal point or comma; 0: none.
  int line_with_point() const { return point_; }
  int line_with_comma() const { return comma_; }

 private:
  int point_ = 0, comma_ = 0;
};

/// An open number read each way: 1250 and 1.25 of "1.250".
Decimal read_as_thousands(std::string_view open_number);
Decimal read_as_decimal(std::string_view open_number);

}  // namespace zoneproof::materials
