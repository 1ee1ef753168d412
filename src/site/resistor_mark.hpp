#pragma once
#include <optional>
#include <string_view>

namespace zoneproof::site {

/// What stands on a resistor.
struct ResistorMark {
  double ohm = 0.0;
  std::optional<double> tolerance_pct;
};

/// The letter and digit code of IEC 60062: R47, 4R7, 470R, 4K7, 47K3, 2M2, with the tolerance's letter behind it
/// (4K7J: 5 %). The multiplier's letter stands where the decimal point would, so of "47K" and "47KK" only the second
/// has a tolerance (10 %). A small k is taken too. Nothing where the text is no such code (a plain number is none).
std::optional<ResistorMark> resistor_mark(std::string_view text);

}  // namespace zoneproof::site
