#pragma once
#include <vector>

#include "timeline/told.hpp"

namespace zoneproof::sheets {

/// Seconds along a sheet, from left to right. The span is longer than nothing.
struct TimeAxis {
  timeline::Span span;
  double left_mm = 0.0, right_mm = 0.0;

  double mm(double seconds) const;
  bool holds(double seconds) const { return seconds >= span.low && seconds <= span.high; }
};

/// Multiples of 1, 2 or 5 times a power of ten seconds within the axis, as many as stand `apart_mm` or more from each
/// other; 0 is one of them where the axis holds it.
std::vector<double> round_times(const TimeAxis& axis, double apart_mm);

}  // namespace zoneproof::sheets
