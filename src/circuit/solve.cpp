#include "circuit/solve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "circuit/laws.hpp"

namespace zoneproof::circuit {
namespace {

constexpr double state_slack_volts = 1e-12;  // a diode or limit within this of its corner may stay as it is
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

struct Point {
  States states;
  std::vector<double> v;  // per node
};

class Solver {
 public:
  Solver(const Network& network, const Values& values, const SolveOptions& options)
      : network_(network), elements_(network.elements()), values_(values), options_(options) {}

  Solution run();

 private:
  double drop(const std::vector<double>& v, std::size_t e) const {
    return v[at(elements_[e].from)] - v[at(elements_[e].to)];
  }
  bool nonlinear(std::size_t e) const { return elements_[e].kind >= Kind::constant_power; }
  State first_state(std::size_t e) const;
  States first_states() const;
  std::vector<Companion> companions(const Point& point, bool join) const;
  std::vector<double> currents(const NodalSystem& system, const Point& point) const;
  bool update_piecewise(const NodalSystem& system, Point& point, bool one_at_a_time) const;

  bool newton(Point& point);
  bool newton_linear_phase(Point& point);
  bool run_high(Point& point, bool& pure_root);

  std::vector<double> capacitors() const;
  bool settle(Point& point, bool with_loads);
  bool step(const Point& point, NodalSystem& system, double h, std::vector<double>& next) const;
  bool acceptable(const Point& point, const std::vector<double>& next) const;
  double potential_at(const Point& point, const std::vector<double>& v) const;
  void follow_states(Point& point, const std::vector<Companion>& was, const std::vector<double>& old, double h,
                     bool with_loads);
  bool hold_limits(Point& point, const std::vector<double>& next) const;

  void finish(Point& point);
  bool consistent(const NodalSystem& system, const Point& point) const;
  void residual(const NodalSystem& system, const States& states, const std::vector<long double>& x,
                std::vector<double>& value, std::vector<double>& rounding) const;
  double bound_error(const NodalSystem& system, const Point& point, const std::vector<long double>& x) const;
  double curvature_factor(const Point& point, const std::vector<std::size_t>& running,
                          const std::vector<std::vector<double>>& bounds, double eta) const;
  void name_trouble(const NodalSystem& system, const Point& point);
  std::vector<Node> leakage_nodes(const Point& point) const;
  void set_trouble(Trouble trouble, std::vector<Node> nodes, std::vector<ElementIndex> elements);

  const Network& network_;
  const std::vector<Element>& elements_;
  const Values& values_;
  const SolveOptions& options_;
  Solution solution_;
  std::vector<double> capacitor_;
  std::optional<NodalSystem> linear_system_;  ///< factorised, of the last point of the linear phase
  States linear_states_;
};

State Solver::first_state(std::size_t e) const {
  switch (elements_[e].kind) {
    case Kind::constant_power: return State::unloaded;
    case Kind::diode: return State::on;
    case Kind::limited_source: return State::regulated;
    default: return State::plain;
  }
}

States Solver::first_states() const {
  States states(elements_.size());
  for (std::size_t e = 0; e < states.size(); ++e) states[e] = first_state(e);
  return states;
}

std::vector<Companion> Solver::companions(const Point& point, bool join) const {
  std::vector<Companion> result(elements_.size());
  for (std::size_t e = 0; e < result.size(); ++e) {
    const double u = point.v.empty() ? 0.0 : drop(point.v, e);
    result[e] = companion(elements_[e], values_[e], point.states[e], u);
    if (join && nonlinear(e)) result[e].joins = true;
  }
  return result;
}

std::vector<double> Solver::currents(const NodalSystem& system, const Point& point) const {
  std::vector<double> current(elements_.size(), 0.0);
  for (std::size_t e = 0; e < current.size(); ++e) {
    const double u = drop(point.v, e);
    if (system.companions()[e].form == Companion::Form::link || std::isnan(u)) continue;
    current[e] = static_cast<double>(current_at(elements_[e], values_[e], point.states[e], u));
  }
  system.complete_currents(current);
  return current;
}

// Diodes and limits take the state that the voltages and currents of the last step ask for. True when one changed. All
// at once is quick but may go in circles; one at a time, always the first in order, ends where the matrix is a P-matrix
// (Murty 1974).
bool Solver::update_piecewise(const NodalSystem& system, Point& point, bool one_at_a_time) const {
  bool changed = false;
  std::vector<double> current;
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    const Element& element = elements_[e];
    State& state = point.states[e];
    const State before = state;
    const double u = drop(point.v, e);
    if (std::isnan(u)) continue;
    if (element.kind == Kind::diode) {
      if (state == State::on && u < values_[e] - state_slack_volts) state = State::off;
      if (state == State::off && u > values_[e] + state_slack_volts) state = State::on;
    } else if (element.kind == Kind::limited_source) {
      if (current.empty()) current = currents(system, point);
      if (state == State::regulated && current[e] > element.limit_amps * (1.0 + 1e-12)) state = State::limiting;
      if (state == State::limiting && -u > values_[e] + state_slack_volts) state = State::regulated;
    }
    changed = changed || state != before;
    if (changed && one_at_a_time) return true;
  }
  return changed;
}

// Newton without loads: a linear solve per combination of states.
bool Solver::newton_linear_phase(Point& point) {
  for (int round = 0; round < options_.iteration_limit; ++round) {
    NodalSystem system(network_, companions(point, false));
    ++solution_.iterations;
    if (!system.factorise()) return false;
    std::vector<double> x = system.right_hand_side();
    system.solve(x.data(), 1);
    point.v = system.node_voltages(x);
    if (!update_piecewise(system, point, round >= 8)) {
      linear_system_.emplace(std::move(system));
      linear_states_ = point.states;
      return true;
    }
  }
  return false;
}

// Newton with loads on their constant-power law alone, from the unloaded network downwards.
bool Solver::newton(Point& point) {
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    if (elements_[e].kind != Kind::constant_power || values_[e] == 0.0) continue;
    if (!(-drop(point.v, e) > 0.0)) return false;
    point.states[e] = State::running;
  }
  double last = infinite;
  for (int round = 0; round < options_.iteration_limit; ++round) {
    NodalSystem system(network_, companions(point, false));
    ++solution_.iterations;
    if (!system.factorise()) return false;
    std::vector<double> x = system.right_hand_side();
    system.solve(x.data(), 1);
    const std::vector<double> next = system.node_voltages(x);
    double change = 0.0;
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      if (point.states[e] != State::running) continue;
      const double w = -drop(next, e);
      if (!(w > 0.0)) return false;
      change = std::max(change, std::abs(w + drop(point.v, e)) / w);
    }
    point.v = next;
    const bool switched = update_piecewise(system, point, round >= 8);
    if (!switched && (change < 1e-11 || (change < 1e-7 && change >= last))) return true;
    last = switched ? infinite : change;
  }
  return false;
}

// A capacitor per node, of the size of the conductances around it: every node then follows at about the same pace.
std::vector<double> Solver::capacitors() const {
  std::vector<double> result(at(network_.node_count()), 1e-6);
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    double g = 0.0;
    if (elements_[e].kind == Kind::resistor && values_[e] > 0.0) g = 1.0 / values_[e];
    if (elements_[e].kind == Kind::diode) g = 1.0 / elements_[e].on_ohm.nominal;
    result[at(elements_[e].from)] += g;
    result[at(elements_[e].to)] += g;
  }
  return result;
}

double Solver::potential_at(const Point& point, const std::vector<double>& v) const {
  double sum = 0.0;
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    const double u = drop(v, e);
    if (!std::isnan(u) && point.states[e] != State::unloaded) sum += potential(elements_[e], values_[e], u);
  }
  return sum;
}

// One implicit Euler step of length h. False: the step is too long for the matrix to be positive definite.
bool Solver::step(const Point& point, NodalSystem& system, double h, std::vector<double>& next) const {
  std::vector<double> shift(at(system.unknowns()), 0.0);
  std::vector<double> rhs = system.right_hand_side();
  for (Node node = 0; node < network_.node_count(); ++node) {
    const int index = system.unknown(node);
    if (index < 0) continue;
    const double c = capacitor_[at(node)];
    const double was = std::isnan(point.v[at(node)]) ? 0.0 : point.v[at(node)];
    shift[at(index)] += c;
    rhs[at(index)] += c / h * (was - system.offset(node));
  }
  if (!system.factorise(shift, 1.0 / h)) return false;
  system.solve(rhs.data(), 1);
  next = system.node_voltages(rhs);
  return true;
}

bool Solver::acceptable(const Point& point, const std::vector<double>& next) const {
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    if (elements_[e].kind != Kind::constant_power || point.states[e] == State::unloaded) continue;
    const double w = -drop(point.v, e);
    const double to = -drop(next, e);
    if (std::abs(to - w) > 0.5 * std::max(std::abs(w), lockout(elements_[e]))) return false;
  }
  const double before = potential_at(point, point.v);
  const double after = potential_at(point, next);
  return after <= before + 1e-11 * (std::abs(before) + std::abs(after));
}

// A limited source that a step would lift above its voltage holds it instead. True when one did.
bool Solver::hold_limits(Point& point, const std::vector<double>& next) const {
  bool held = false;
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    if (point.states[e] != State::limiting || !(-drop(next, e) > values_[e] + state_slack_volts)) continue;
    point.states[e] = State::regulated;
    held = true;
  }
  return held;
}

// After an accepted step: loads and diodes by their voltages; a source lets go when more than its limit would flow, the
// currents into the capacitors included, unless it has only just taken hold (that step moved charge that is no load).
void Solver::follow_states(Point& point, const std::vector<Companion>& was, const std::vector<double>& old, double h,
                           bool with_loads) {
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    const double u = drop(point.v, e);
    if (std::isnan(u)) continue;
    if (elements_[e].kind == Kind::constant_power && with_loads) {
      point.states[e] = -u >= lockout(elements_[e]) ? State::running : State::locked;
    } else if (elements_[e].kind == Kind::diode) {
      point.states[e] = u > values_[e] ? State::on : State::off;
    }
  }
  if (std::find(point.states.begin(), point.states.end(), State::regulated) == point.states.end()) return;
  const NodalSystem system(network_, was);
  const std::vector<double> current = currents(system, point);
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    if (point.states[e] != State::regulated) continue;
    const bool just_held = std::abs(drop(old, e) - drop(point.v, e)) > 1e-9;
    double charging = 0.0;
    const std::vector<double> unit = system.unit_offsets(static_cast<ElementIndex>(e));
    for (std::size_t node = 0; node < unit.size(); ++node) {
      if (unit[node] != 0.0) charging += unit[node] * capacitor_[node] / h * (point.v[node] - old[node]);
    }
    if (!just_held && current[e] + charging > elements_[e].limit_amps * (1.0 + 1e-12))
      point.states[e] = State::limiting;
  }
}

bool Solver::settle(Point& point, bool with_loads) {
  capacitor_ = capacitors();
  for (double& volt : point.v) {
    if (std::isnan(volt)) volt = 0.0;
  }
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    if (elements_[e].kind == Kind::constant_power && with_loads) {
      point.states[e] = -drop(point.v, e) >= lockout(elements_[e]) ? State::running : State::locked;
    } else if (elements_[e].kind == Kind::diode) {
      point.states[e] = drop(point.v, e) > values_[e] ? State::on : State::off;
    }
  }
  double h = 1.0;
  const int most_steps = 20 * options_.iteration_limit;
  for (int round = 0; round < most_steps && h > 1e-14; ++round) {
    ++solution_.iterations;
    NodalSystem system(network_, companions(point, true));
    std::vector<double> next;
    if (!step(point, system, h, next)) {
      h /= 4.0;
      continue;
    }
    if (hold_limits(point, next)) continue;
    const bool jumped = round == 0 || [&] {  // ideal sources and held limits set their voltage at once
      for (std::size_t e = 0; e < elements_.size(); ++e) {
        if (system.companions()[e].form == Companion::Form::link && std::abs(drop(next, e) - drop(point.v, e)) > 1e-9)
          return true;
      }
      return false;
    }();
    if (!jumped && !acceptable(point, next)) {
      h /= 4.0;
      continue;
    }
    double change = 0.0;
    double size = 1.0;
    for (std::size_t node = 0; node < next.size(); ++node) {
      if (std::isnan(next[node])) continue;
      change = std::max(change, std::abs(next[node] - point.v[node]));
      size = std::max(size, std::abs(next[node]));
    }
    const States before = point.states;
    std::vector<double> old = std::move(point.v);
    point.v = next;
    for (double& volt : point.v) {
      if (std::isnan(volt)) volt = 0.0;
    }
    follow_states(point, system.companions(), old, h, with_loads);
    if (before == point.states && change < 1e-10 * size && h > 1e8) return true;
    h = std::min(h * (before == point.states ? 4.0 : 1.5), 1e16);
  }
  return false;
}

// The running point. `pure_root`: the constant-power law alone has one, whatever the lockouts say.
bool Solver::run_high(Point& point, bool& pure_root) {
  point.states = first_states();
  point.v.clear();
  bool unloaded = newton_linear_phase(point);
  if (!unloaded) {
    point.states = first_states();
    point.v.assign(at(network_.node_count()), 0.0);
    unloaded = settle(point, false);
    if (!unloaded) return false;
  }
  const Point start = point;
  pure_root = newton(point);
  const auto below = [&](const Point& p) {
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      if (p.states[e] == State::running && -drop(p.v, e) < lockout(elements_[e])) return true;
    }
    return false;
  };
  if (pure_root && !below(point)) return true;
  point = start;
  return settle(point, true);
}

// Residual of Kirchhoff's current law in extended precision (`value`), and a bound on what rounding did to it.
void Solver::residual(const NodalSystem& system, const States& states, const std::vector<long double>& x,
                      std::vector<double>& value, std::vector<double>& rounding) const {
  const auto epsilon = std::numeric_limits<long double>::epsilon();
  std::vector<long double> sum(x.size(), 0.0L);
  std::vector<long double> slack(x.size(), 0.0L);
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    const Companion& linear = system.companions()[e];
    if (linear.form != Companion::Form::norton) continue;
    const Node from = elements_[e].from;
    const Node to = elements_[e].to;
    const int a = system.unknown(from);
    const int b = system.unknown(to);
    if (a == b || a == NodalSystem::floats || b == NodalSystem::floats) continue;
    const long double va = system.offset(from) + (a >= 0 ? x[at(a)] : 0.0L);
    const long double vb = system.offset(to) + (b >= 0 ? x[at(b)] : 0.0L);
    const long double ampere = current_at(elements_[e], values_[e], states[e], va - vb);
    const long double doubt =
        8.0L * epsilon *
        (std::abs(ampere) + std::abs(linear.injection) + std::abs(linear.conductance) * (std::abs(va) + std::abs(vb)));
    if (a >= 0) sum[at(a)] += ampere, slack[at(a)] += doubt;
    if (b >= 0) sum[at(b)] -= ampere, slack[at(b)] += doubt;
  }
  value.resize(x.size());
  rounding.resize(x.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    value[i] = static_cast<double>(sum[i]);
    rounding[i] = static_cast<double>(slack[i]);
  }
}

// Newton-Kantorovich: with the curvature 2 P / w^3 of the loads the true root lies within 2 eta of the point if h <=
// 1/2. 1 when nothing curves, 2 when it holds, infinite when it does not.
double Solver::curvature_factor(const Point& point, const std::vector<std::size_t>& running,
                                const std::vector<std::vector<double>>& bounds, double eta) const {
  double h = 0.0;
  for (std::size_t k = 0; k < running.size(); ++k) {
    const double w = -drop(point.v, running[k]) - 4.0 * eta;
    if (!(w > 0.0)) return infinite;
    const std::vector<double>& reach = bounds[k + 1];
    const double most = reach.empty() ? 0.0 : *std::max_element(reach.begin(), reach.end());
    h += most * 2.0 * values_[running[k]] / (w * w * w) * 4.0 * eta;  // (2 eta)^2 * |second derivative| / eta
  }
  if (h == 0.0) return 1.0;
  return h <= 0.5 ? 2.0 : infinite;
}

bool Solver::consistent(const NodalSystem& system, const Point& point) const {
  Point copy = point;
  return !update_piecewise(system, copy, false);
}

// A bound on the error of any node voltage: |A^-1| |F|, with what each running load's current does for the curvature.
double Solver::bound_error(const NodalSystem& system, const Point& point, const std::vector<long double>& x) const {
  std::vector<double> value;
  std::vector<double> rounding;
  residual(system, point.states, x, value, rounding);
  for (std::size_t i = 0; i < x.size(); ++i) value[i] = std::abs(value[i]) + rounding[i];
  std::vector<std::vector<double>> asked{value};
  std::vector<std::size_t> running;
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    if (point.states[e] != State::running) continue;
    running.push_back(e);
    asked.emplace_back(x.size(), 0.0);
    for (const Node node : {elements_[e].from, elements_[e].to}) {
      if (system.unknown(node) >= 0) asked.back()[at(system.unknown(node))] += 1.0;
    }
  }
  const std::vector<std::vector<double>> bounds = system.error_bounds(asked);
  double worst = 0.0;
  for (const double entry : bounds.front()) worst = std::max(worst, entry);
  worst *= curvature_factor(point, running, bounds, worst);
  double largest = 0.0;
  for (const double volt : point.v) largest = std::max(largest, std::isnan(volt) ? 0.0 : std::abs(volt));
  return worst + 2.3e-16 * largest;  // the result is rounded to double
}

// Refines in extended precision, bounds the error, fills the solution.
void Solver::finish(Point& point) {
  const bool is_linear = linear_system_ && point.states == linear_states_ &&
                         std::find(point.states.begin(), point.states.end(), State::running) == point.states.end();
  if (!is_linear) linear_system_.emplace(network_, companions(point, false));
  const bool definite = is_linear || linear_system_->factorise();
  const NodalSystem& system = *linear_system_;
  std::vector<long double> x(at(system.unknowns()), 0.0L);
  for (Node node = 0; node < network_.node_count(); ++node) {
    const int index = system.unknown(node);
    if (index >= 0 && !std::isnan(point.v[at(node)])) x[at(index)] = point.v[at(node)] - system.offset(node);
  }
  std::vector<double> value;
  std::vector<double> rounding;
  for (int round = 0; definite && round < 4; ++round) {
    residual(system, point.states, x, value, rounding);
    system.solve(value.data(), 1);
    double change = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
      x[i] -= value[i];
      change = std::max(change, std::abs(value[i]));
    }
    if (change < 1e-16) break;
  }
  std::vector<double> rounded(x.begin(), x.end());
  point.v = system.node_voltages(rounded);
  solution_.voltage = point.v;
  solution_.current = currents(system, point);
  solution_.voltage_error_bound = infinite;
  if (definite) solution_.voltage_error_bound = bound_error(system, point, x);
  if (!definite || !(solution_.voltage_error_bound <= options_.voltage_tolerance) || !consistent(system, point)) {
    set_trouble(Trouble::not_converged, {}, {});
  }
  name_trouble(system, point);
}

void Solver::set_trouble(Trouble trouble, std::vector<Node> nodes, std::vector<ElementIndex> elements) {
  if (solution_.trouble != Trouble::none) return;  // the first, which is the gravest, is told
  solution_.trouble = trouble;
  solution_.troubled_nodes = std::move(nodes);
  solution_.troubled_elements = std::move(elements);
}

void Solver::name_trouble(const NodalSystem& system, const Point& point) {
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    if (point.states[e] == State::locked && values_[e] > 0.0)
      solution_.locked_out.push_back(static_cast<ElementIndex>(e));
    if (point.states[e] == State::limiting) solution_.limiting.push_back(static_cast<ElementIndex>(e));
  }
  if (!system.floating().empty()) set_trouble(Trouble::floating, system.floating(), {});
}

// Nodes that no chain of conductors below `leakage_ohm` joins to the reference.
std::vector<Node> Solver::leakage_nodes(const Point& point) const {
  std::vector<Companion> firm = companions(point, false);
  bool any = false;
  for (Companion& companion : firm) {
    if (companion.form == Companion::Form::norton && companion.conductance * options_.leakage_ohm <= 1.0) {
      any = any || companion.conductance > 0.0;
      companion = {};
    }
  }
  if (!any) return {};
  for (std::size_t e = 0; e < firm.size(); ++e) {
    if (point.states[e] == State::limiting) firm[e].joins = true;
  }
  std::vector<Node> nodes;
  const NodalSystem wired(network_, firm);
  for (const Node node : wired.floating()) {
    if (!std::isnan(point.v[at(node)])) nodes.push_back(node);
  }
  return nodes;
}

Solution Solver::run() {
  solution_.voltage.assign(at(network_.node_count()), nan);
  solution_.voltage[at(reference)] = 0.0;
  solution_.current.assign(elements_.size(), nan);
  Point point;
  point.states = first_states();
  const NodalSystem topology(network_, companions(point, false));
  if (!topology.source_loop().empty()) {
    set_trouble(Trouble::source_loop, {}, topology.source_loop());
    solution_.voltage_error_bound = infinite;
    return solution_;
  }
  bool pure_root = false;
  bool settled = run_high(point, pure_root);
  const Point high = point;
  if (options_.from_zero) {
    point.states = first_states();
    for (State& state : point.states) {
      if (state == State::regulated) state = State::limiting;
    }
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      if (point.states[e] == State::limiting && std::isinf(elements_[e].limit_amps)) point.states[e] = State::regulated;
    }
    point.v.assign(at(network_.node_count()), 0.0);
    settled = settle(point, true);
  }
  std::vector<ElementIndex> fallen;
  for (std::size_t e = 0; e < elements_.size(); ++e) {
    if (point.states[e] != State::locked || values_[e] == 0.0) continue;
    if (!pure_root || (options_.from_zero && high.states[e] == State::running))
      fallen.push_back(static_cast<ElementIndex>(e));
  }
  if (!settled) {
    set_trouble(Trouble::not_converged, {}, {});
  } else if (!fallen.empty()) {
    set_trouble(Trouble::collapsed, {}, fallen);
  }
  if (!point.v.empty()) finish(point);
  if (solution_.trouble == Trouble::none) {
    const std::vector<Node> leaking = leakage_nodes(point);
    if (!leaking.empty()) set_trouble(Trouble::leakage_defined, leaking, {});
  }
  return solution_;
}

}  // namespace

Values nominal_values(const Network& network) {
  Values values;
  values.reserve(network.elements().size());
  for (const Element& element : network.elements()) values.push_back(element.value.nominal);
  return values;
}

double Solution::at(const Quantity& quantity) const {
  double sum = 0.0;
  for (const Quantity::Term& term : quantity.terms)
    sum += term.weight * voltage.at(static_cast<std::size_t>(term.node));
  return sum;
}

Solution solve(const Network& network, const Values& values, const SolveOptions& options) {
  return Solver(network, values, options).run();
}

Solution solve(const Network& network, const SolveOptions& options) {
  return Solver(network, nominal_values(network), options).run();
}

}  // namespace zoneproof::circuit
