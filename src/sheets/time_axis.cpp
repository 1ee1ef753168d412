#include "sheets/time_axis.hpp"

#include "drawing/line_graph.hpp"

namespace zoneproof::sheets {

double TimeAxis::mm(double seconds) const {
  return left_mm + (seconds - span.low) / (span.high - span.low) * (right_mm - left_mm);
}

std::vector<double> round_times(const TimeAxis& axis, double apart_mm) {
  const double per_mm = (axis.span.high - axis.span.low) / (axis.right_mm - axis.left_mm);
  return drawing::round_steps(axis.span.low, axis.span.high, apart_mm * per_mm);
}

}  // namespace zoneproof::sheets
