#include "electric/periodic.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "electric/settling_time.hpp"

namespace zoneproof::electric {

namespace {

Reach extremes(const Period& period) {
  Reach reach{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  for (const Stretch& stretch : period) {
    if (!(stretch.seconds > 0.0)) continue;
    reach.low = std::min(reach.low, stretch.volts);
    reach.high = std::max(reach.high, stretch.volts);
  }
  return reach;
}

}  // namespace

double length_of(const Period& period) {
  double seconds = 0.0;
  for (const Stretch& stretch : period) seconds += stretch.seconds;
  return seconds;
}

double mean_of(const Period& period) {
  double area = 0.0;
  for (const Stretch& stretch : period) area += stretch.seconds * stretch.volts;
  return area / length_of(period);
}

Reach filtered(const Period& period, double filter_s) {
  if (!(filter_s > 0.0)) return extremes(period);
  double shift = 0.0;
  for (const Stretch& stretch : period) {
    shift = stretch.volts + (shift - stretch.volts) * std::exp(-stretch.seconds / filter_s);
  }
  double output = shift / -std::expm1(-length_of(period) / filter_s);
  Reach reach{output, output};
  for (const Stretch& stretch : period) {
    output = stretch.volts + (output - stretch.volts) * std::exp(-stretch.seconds / filter_s);
    reach.low = std::min(reach.low, output);
    reach.high = std::max(reach.high, output);
  }
  return reach;
}

void append_laggard(Period& period, double seconds, double from, double to, double total_s, int steps) {
  if (!(seconds > 0.0)) return;
  if (!std::isfinite(total_s)) {
    period.push_back({seconds, from});
    return;
  }
  const double lag = std::min(seconds, total_s);  // up to here nothing at all is promised
  period.push_back({lag, from});
  // Stretches of equal time up to where hardly anything is left, each at what is left at its start.
  const double fading = std::min(seconds - lag, 12.0 * total_s);
  for (int i = 0; i < steps && fading > 0.0; ++i) {
    const double t = lag + fading * i / steps;
    period.push_back({fading / steps, to + (from - to) * left_at_most(t, total_s)});
  }
  const double rest = seconds - lag - fading;
  if (rest > 0.0) period.push_back({rest, to + (from - to) * left_at_most(lag + fading, total_s)});
}

}  // namespace zoneproof::electric
