#include "electric/settling_time.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::electric {

double left_at_most(double t, double total_s) {
  if (total_s == 0.0) return t > 0.0 ? 0.0 : 1.0;
  if (!std::isfinite(total_s)) return 1.0;
  return std::min(1.0, std::exp(1.0 - t / total_s));
}

double time_until(double share, double total_s) {
  if (share >= 1.0 || total_s == 0.0) return 0.0;
  return total_s * (1.0 - std::log(share));
}

NodeTimes node_times(const std::vector<std::vector<double>>& resistance, const std::vector<double>& capacitance,
                     std::size_t at) {
  NodeTimes times;
  const double own = resistance.at(at).at(at);
  for (std::size_t k = 0; k < capacitance.size(); ++k) {
    const double transfer = resistance[k][at];
    times.total_s += resistance[k][k] * capacitance[k];
    times.own_s += own > 0.0 ? transfer * transfer / own * capacitance[k] : 0.0;
  }
  return times;
}

double left_at_least(double t, const NodeTimes& times) {
  if (!(times.total_s > 0.0) || !(times.own_s > 0.0)) return 0.0;
  return times.own_s / times.total_s * std::exp(-t / times.own_s);
}

}  // namespace zoneproof::electric
