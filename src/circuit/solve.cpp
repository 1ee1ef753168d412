#include "circuit/solve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "circuit/newton.hpp"
#include "circuit/refined.hpp"
#include "circuit/settling.hpp"
#include "circuit/valued_network.hpp"

namespace zoneproof::circuit {
namespace {

constexpr int steps_per_iteration = 20;  // of a continuation, for each of the iterations that Newton's method may take

class Solver {
 public:
  Solver(const Network& network, const Values& values, const SolveOptions& options)
      : network_(network, values), options_(options), most_steps_(steps_per_iteration * options.iteration_limit) {}

  Solution run();

 private:
  bool run_high(NodalSystem first, Point& point, bool& pure_root);
  bool run_from_zero(Point& point);
  bool below_lockout(const Point& point) const;
  std::vector<ElementIndex> fallen(const Point& point, const Point& high, bool pure_root) const;

  void finish(const Point& point);
  void name_states(const Point& point);
  std::vector<Node> leakage_nodes(const Point& point) const;
  void set_trouble(Trouble trouble, std::vector<Node> nodes, std::vector<ElementIndex> elements);

  ValuedNetwork network_;
  const SolveOptions& options_;
  int most_steps_;
  Solution solution_;
  std::optional<NodalSystem> unloaded_;  ///< factorised, of the last point without loads
  States unloaded_states_;
};

bool Solver::below_lockout(const Point& point) const {
  for (std::size_t e = 0; e < network_.size(); ++e) {
    if (point.states[e] == State::running && -network_.drop(point.v, e) < lockout(network_.element(e))) return true;
  }
  return false;
}

// The running point; `first` is the system of the first states. `pure_root`: the constant-power law alone has one,
// whatever the lockouts say.
bool Solver::run_high(NodalSystem first, Point& point, bool& pure_root) {
  point = {network_.first_states(), {}};
  unloaded_ = unloaded_point(network_, std::move(first), point, options_.iteration_limit, solution_.iterations);
  unloaded_states_ = point.states;
  if (!unloaded_) {
    point = {network_.first_states(), std::vector<double>(at(network_.network().node_count()), 0.0)};
    if (!settle(network_, point, false, most_steps_, solution_.iterations)) return false;
  } else if (!network_.bends(point.states)) {
    return pure_root = true;
  }
  const Point start = point;
  pure_root = run_down(network_, point, options_.iteration_limit, solution_.iterations);
  if (pure_root && !below_lockout(point)) return true;
  point = start;
  return settle(network_, point, true, most_steps_, solution_.iterations);
}

// Start-up: from the dead network every source begins at its limit.
bool Solver::run_from_zero(Point& point) {
  point = {network_.first_states(), std::vector<double>(at(network_.network().node_count()), 0.0)};
  for (std::size_t e = 0; e < network_.size(); ++e) {
    State& state = point.states[e];
    if (state == State::regulated && !std::isinf(network_.element(e).limit_amps)) state = State::limiting;
  }
  return settle(network_, point, true, most_steps_, solution_.iterations);
}

// Loads that are locked although nothing but themselves keeps them from running.
std::vector<ElementIndex> Solver::fallen(const Point& point, const Point& high, bool pure_root) const {
  std::vector<ElementIndex> result;
  for (std::size_t e = 0; e < network_.size(); ++e) {
    if (point.states[e] != State::locked || network_.value(e) == 0.0) continue;
    if (!pure_root || (options_.from_zero && high.states[e] == State::running)) {
      result.push_back(static_cast<ElementIndex>(e));
    }
  }
  return result;
}

// Refines, bounds the error, fills the solution.
void Solver::finish(const Point& point) {
  const bool same = unloaded_ && point.states == unloaded_states_ &&
                    std::find(point.states.begin(), point.states.end(), State::running) == point.states.end();
  if (!same) unloaded_.reset();
  Refined result = refined(network_, point, std::move(unloaded_));
  solution_.voltage_error_bound = result.voltage_error_bound;
  if (!(result.voltage_error_bound <= options_.voltage_tolerance) || !result.consistent) {
    set_trouble(Trouble::not_converged, {}, {});
  }
  name_states(point);
  if (!result.floating.empty()) set_trouble(Trouble::floating, result.floating, {});
  solution_.voltage = std::move(result.voltage);
  solution_.current = std::move(result.current);
  if (solution_.trouble != Trouble::none) return;
  const std::vector<Node> leaking = leakage_nodes({point.states, solution_.voltage});
  if (!leaking.empty()) set_trouble(Trouble::leakage_defined, leaking, {});
}

void Solver::set_trouble(Trouble trouble, std::vector<Node> nodes, std::vector<ElementIndex> elements) {
  if (solution_.trouble != Trouble::none) return;  // the first, which is the gravest, is told
  solution_.trouble = trouble;
  solution_.troubled_nodes = std::move(nodes);
  solution_.troubled_elements = std::move(elements);
}

void Solver::name_states(const Point& point) {
  for (std::size_t e = 0; e < network_.size(); ++e) {
    const auto index = static_cast<ElementIndex>(e);
    if (point.states[e] == State::locked && network_.value(e) > 0.0) solution_.locked_out.push_back(index);
    if (point.states[e] == State::limiting) solution_.limiting.push_back(index);
  }
}

// Nodes that no chain of conductors below `leakage_ohm` joins to the reference.
std::vector<Node> Solver::leakage_nodes(const Point& point) const {
  std::vector<Companion> firm = network_.companions(point, false);
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
  const NodalSystem wired(network_.network(), firm);
  for (const Node node : wired.floating()) {
    if (!std::isnan(point.v[at(node)])) nodes.push_back(node);
  }
  return nodes;
}

Solution Solver::run() {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  solution_.voltage.assign(at(network_.network().node_count()), nan);
  solution_.voltage[at(reference)] = 0.0;
  solution_.current.assign(network_.size(), nan);
  Point point = {network_.first_states(), {}};
  NodalSystem topology(network_.network(), network_.companions(point, false));
  if (!topology.source_loop().empty()) {
    set_trouble(Trouble::source_loop, {}, topology.source_loop());
    solution_.voltage_error_bound = infinite;
    return solution_;
  }
  bool pure_root = false;
  bool settled = run_high(std::move(topology), point, pure_root);
  const Point high = point;
  if (options_.from_zero) settled = run_from_zero(point);
  const std::vector<ElementIndex> collapsed = fallen(point, high, pure_root);
  if (!settled) {
    set_trouble(Trouble::not_converged, {}, {});
  } else if (!collapsed.empty()) {
    set_trouble(Trouble::collapsed, {}, collapsed);
  }
  finish(point);
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
