#include "base/outward.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

namespace zoneproof {

namespace {

constexpr double kNoise = 1e-9;        // relative: what results agree to everywhere
constexpr double kPowerOfTen = 1e-12;  // the logarithm of 1000 may come out below 3

/// How many decimals hold so many significant digits of a value; negative for tens and more.
int decimals_for(double value, int significant) {
  return significant - 1 - static_cast<int>(std::floor(std::log10(std::fabs(value)) + kPowerOfTen));
}

bool has_digits(double value) { return std::isfinite(value) && value != 0.0; }

}  // namespace

double rounded_down(double value, int decimals) {
  if (!std::isfinite(value)) return value;
  const double steps = std::pow(10.0, std::abs(decimals));  // whole, so that the quotient is the decimal's own double
  const double scaled = decimals < 0 ? value / steps : value * steps;
  const double whole = std::floor(scaled + kNoise * std::max(1.0, std::fabs(scaled)));
  return decimals < 0 ? whole * steps : whole / steps;
}

double rounded_up(double value, int decimals) { return 0.0 - rounded_down(-value, decimals); }

Measure lowest(Measure measure) {
  if (has_digits(measure.value))
    measure.value = rounded_down(measure.value, decimals_for(measure.value, measure.significant));
  return measure;
}

Measure highest(Measure measure) {
  if (has_digits(measure.value))
    measure.value = rounded_up(measure.value, decimals_for(measure.value, measure.significant));
  return measure;
}

}  // namespace zoneproof
