#include "sheets/time_axis.hpp"

#include <cmath>

namespace zoneproof::sheets {

double TimeAxis::mm(double seconds) const {
  return left_mm + (seconds - span.low) / (span.high - span.low) * (right_mm - left_mm);
}

std::vector<double> round_times(const TimeAxis& axis, double apart_mm) {
  const double least = apart_mm * (axis.span.high - axis.span.low) / (axis.right_mm - axis.left_mm);
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  double step = 10.0 * power;
  for (const double digit : {5.0, 2.0, 1.0})
    if (digit * power >= least) step = digit * power;
  std::vector<double> times;
  for (double count = std::ceil(axis.span.low / step); count * step <= axis.span.high; count += 1.0)
    times.push_back(count * step + 0.0);  // never minus nothing
  return times;
}

}  // namespace zoneproof::sheets
