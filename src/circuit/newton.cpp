#include "circuit/newton.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::circuit {

namespace {

constexpr int rounds_all_at_once = 8;  // after so many rounds states change one at a time (switch_states)
constexpr double finished = 1e-11;     // of a load's voltage, change of the last step
constexpr double nearly = 1e-7;        // likewise; where rounding stops the descent

/// Puts every load that draws something on its law. False where one has no voltage to run on.
bool start_loads(const ValuedNetwork& network, Point& point) {
  for (std::size_t e = 0; e < network.size(); ++e) {
    if (!network.is_load(e) || network.value(e) == 0.0) continue;
    if (!(-network.drop(point.v, e) > 0.0)) return false;
    point.states[e] = State::running;
  }
  return true;
}

/// The largest change of a running load's voltage, of that voltage; nothing where one has gone below zero.
std::optional<double> change_of_loads(const ValuedNetwork& network, const Point& point,
                                      const std::vector<double>& next) {
  double change = 0.0;
  for (std::size_t e = 0; e < network.size(); ++e) {
    if (point.states[e] != State::running) continue;
    const double w = -network.drop(next, e);
    if (!(w > 0.0)) return std::nullopt;
    change = std::max(change, std::abs(w + network.drop(point.v, e)) / w);
  }
  return change;
}

}  // namespace

std::optional<NodalSystem> unloaded_point(const ValuedNetwork& network, NodalSystem system, Point& point,
                                          int most_rounds, int& iterations) {
  for (int round = 0; round < most_rounds; ++round) {
    if (round > 0) system.take(network.companions(point, false));
    ++iterations;
    if (!system.factorise()) return std::nullopt;
    std::vector<double> x = system.right_hand_side();
    system.solve(x.data(), 1);
    point.v = system.node_voltages(x);
    if (!network.switch_states(system, point, round >= rounds_all_at_once)) return system;
  }
  return std::nullopt;
}

bool run_down(const ValuedNetwork& network, Point& point, int most_rounds, int& iterations) {
  if (!start_loads(network, point)) return false;
  NodalSystem system(network.network(), network.companions(point, false));
  double last = infinite;
  for (int round = 0; round < most_rounds; ++round) {
    if (round > 0) system.take(network.companions(point, false));
    ++iterations;
    if (!system.factorise()) return false;
    std::vector<double> x = system.right_hand_side();
    system.solve(x.data(), 1);
    const std::vector<double> next = system.node_voltages(x);
    const std::optional<double> change = change_of_loads(network, point, next);
    if (!change) return false;
    point.v = next;
    const bool switched = network.switch_states(system, point, round >= rounds_all_at_once);
    if (!switched && (*change < finished || (*change < nearly && *change >= last))) return true;
    last = switched ? infinite : *change;
  }
  return false;
}

}  // namespace zoneproof::circuit
