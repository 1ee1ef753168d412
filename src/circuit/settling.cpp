#include "circuit/settling.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::circuit {

namespace {

constexpr double jump_volts = 1e-9;  // an ideal source that moves its nodes by more sets its voltage anew
constexpr double first_step = 1.0;   // in time constants of the nodes
constexpr double shortest_step = 1e-14;
constexpr double longest_step = 1e16;
constexpr double rest_step = 1e8;          // a step of this length that changes nothing is rest
constexpr double rest_change = 1e-10;      // of the largest voltage
constexpr double potential_slack = 1e-11;  // what rounding may add to the potential, of its size
constexpr double least_capacitor = 1e-6;   // of a node with no conductor

class Settling {
 public:
  Settling(const ValuedNetwork& network, Point& point, bool with_loads)
      : network_(network), point_(point), with_loads_(with_loads), capacitor_(capacitors()) {}

  bool run(int most_steps, int& iterations) {
    ground(point_.v);
    set_states();
    double h = first_step;
    NodalSystem system(network_.network(), network_.companions(point_, true));
    for (int round = 0; round < most_steps && h > shortest_step; ++round) {
      ++iterations;
      if (round > 0) system.take(network_.companions(point_, true));  // most rounds keep the elimination order
      std::vector<double> next;
      if (!step(system, h, next)) {
        h /= 4.0;
        continue;
      }
      if (hold_limits(next)) continue;
      const bool jumped = round == 0 || jumps(system, next);
      if (!jumped && !acceptable(next)) {
        h /= 4.0;
        continue;
      }
      const bool small = hardly_changes(next);
      const bool same_states = accept(system, next, h);
      if (same_states && small && h > rest_step) return true;
      h = std::min(h * (same_states ? 4.0 : 1.5), longest_step);
    }
    return false;
  }

 private:
  std::vector<double> capacitors() const;
  static void ground(std::vector<double>& v);
  void set_states();
  bool step(NodalSystem& system, double h, std::vector<double>& next) const;
  bool hold_limits(const std::vector<double>& next);
  bool jumps(const NodalSystem& system, const std::vector<double>& next) const;
  bool acceptable(const std::vector<double>& next) const;
  double potential_at(const std::vector<double>& v) const;
  bool hardly_changes(const std::vector<double>& next) const;
  bool accept(const NodalSystem& system, const std::vector<double>& next, double h);
  void release_limits(const std::vector<Companion>& was, const std::vector<double>& old, double h);

  const ValuedNetwork& network_;
  Point& point_;
  bool with_loads_;
  std::vector<double> capacitor_;  ///< per node
};

std::vector<double> Settling::capacitors() const {
  std::vector<double> result(at(network_.network().node_count()), least_capacitor);
  for (std::size_t e = 0; e < network_.size(); ++e) {
    const Element& element = network_.element(e);
    double g = 0.0;
    if (element.kind == Kind::resistor && network_.value(e) > 0.0) g = 1.0 / network_.value(e);
    if (element.kind == Kind::diode) g = 1.0 / element.on_ohm.nominal;
    result[at(element.from)] += g;
    result[at(element.to)] += g;
  }
  return result;
}

/// Nodes that floated until now begin at 0 V.
void Settling::ground(std::vector<double>& v) {
  for (double& volt : v) {
    if (std::isnan(volt)) volt = 0.0;
  }
}

/// Loads and diodes by their voltages.
void Settling::set_states() {
  for (std::size_t e = 0; e < network_.size(); ++e) {
    const double u = network_.drop(point_.v, e);
    if (network_.is_load(e) && with_loads_) {
      point_.states[e] = -u >= lockout(network_.element(e)) ? State::running : State::locked;
    } else if (network_.is_diode(e)) {
      point_.states[e] = u > network_.value(e) ? State::on : State::off;
    }
  }
}

/// One implicit Euler step of length h. False: it is too long for the matrix to be positive definite.
bool Settling::step(NodalSystem& system, double h, std::vector<double>& next) const {
  std::vector<double> shift(at(system.unknowns()), 0.0);
  std::vector<double> rhs = system.right_hand_side();
  for (Node node = 0; node < network_.network().node_count(); ++node) {
    const int index = system.unknown(node);
    if (index < 0) continue;
    const double c = capacitor_[at(node)];
    shift[at(index)] += c;
    rhs[at(index)] += c / h * (point_.v[at(node)] - system.offset(node));
  }
  if (!system.factorise(shift, 1.0 / h)) return false;
  system.solve(rhs.data(), 1);
  next = system.node_voltages(rhs);
  return true;
}

/// A limited source that a step would lift above its voltage holds it instead. True when one did.
bool Settling::hold_limits(const std::vector<double>& next) {
  bool held = false;
  for (std::size_t e = 0; e < network_.size(); ++e) {
    if (point_.states[e] != State::limiting) continue;
    if (!(-network_.drop(next, e) > network_.value(e) + state_slack_volts)) continue;
    point_.states[e] = State::regulated;
    held = true;
  }
  return held;
}

/// Ideal sources and held limits set their voltage at once, whatever that does to the potential.
bool Settling::jumps(const NodalSystem& system, const std::vector<double>& next) const {
  for (std::size_t e = 0; e < network_.size(); ++e) {
    if (system.companions()[e].form != Companion::Form::link) continue;
    if (std::abs(network_.drop(next, e) - network_.drop(point_.v, e)) > jump_volts) return true;
  }
  return false;
}

double Settling::potential_at(const std::vector<double>& v) const {
  double sum = 0.0;
  for (std::size_t e = 0; e < network_.size(); ++e) {
    const double u = network_.drop(v, e);
    if (!std::isnan(u) && point_.states[e] != State::unloaded) {
      sum += potential(network_.element(e), network_.value(e), u);
    }
  }
  return sum;
}

bool Settling::acceptable(const std::vector<double>& next) const {
  for (std::size_t e = 0; e < network_.size(); ++e) {
    if (!network_.is_load(e) || point_.states[e] == State::unloaded) continue;
    const double w = -network_.drop(point_.v, e);
    const double to = -network_.drop(next, e);
    if (std::abs(to - w) > 0.5 * std::max(std::abs(w), lockout(network_.element(e)))) return false;
  }
  const double before = potential_at(point_.v);
  const double after = potential_at(next);
  return after <= before + potential_slack * (std::abs(before) + std::abs(after));
}

bool Settling::hardly_changes(const std::vector<double>& next) const {
  double change = 0.0;
  double size = 1.0;
  for (std::size_t node = 0; node < next.size(); ++node) {
    if (std::isnan(next[node])) continue;
    change = std::max(change, std::abs(next[node] - point_.v[node]));
    size = std::max(size, std::abs(next[node]));
  }
  return change < rest_change * size;
}

/// Moves the point and lets the states follow. True when none changed.
bool Settling::accept(const NodalSystem& system, const std::vector<double>& next, double h) {
  const States before = point_.states;
  const std::vector<double> old = std::move(point_.v);
  point_.v = next;
  ground(point_.v);
  set_states();
  release_limits(system.companions(), old, h);
  return before == point_.states;
}

/// A source lets go when more than its limit would flow, the currents into the capacitors included, unless it has only
/// just taken hold (that step moved charge that is no load).
void Settling::release_limits(const std::vector<Companion>& was, const std::vector<double>& old, double h) {
  if (std::find(point_.states.begin(), point_.states.end(), State::regulated) == point_.states.end()) return;
  const NodalSystem system(network_.network(), was);
  const std::vector<double> current = network_.currents(system, point_);
  for (std::size_t e = 0; e < network_.size(); ++e) {
    if (point_.states[e] != State::regulated) continue;
    if (std::abs(network_.drop(old, e) - network_.drop(point_.v, e)) > jump_volts) continue;
    double charging = 0.0;
    const std::vector<double> unit = system.unit_offsets(static_cast<ElementIndex>(e));
    for (std::size_t node = 0; node < unit.size(); ++node) {
      if (unit[node] != 0.0) charging += unit[node] * capacitor_[node] / h * (point_.v[node] - old[node]);
    }
    if (current[e] + charging > network_.element(e).limit_amps * (1.0 + limit_slack)) {
      point_.states[e] = State::limiting;
    }
  }
}

}  // namespace

bool settle(const ValuedNetwork& network, Point& point, bool with_loads, int most_steps, int& iterations) {
  return Settling(network, point, with_loads).run(most_steps, iterations);
}

}  // namespace zoneproof::circuit
