#include "circuit/refined.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace zoneproof::circuit {

namespace {

constexpr int most_refinements = 4;
constexpr double finest_change = 1e-16;     // V; below it a refinement changes no double of this size
constexpr double rounded_result = 2.3e-16;  // of a voltage: half a unit in the last place of a double, with some room

using Wide = std::vector<long double>;  // unknowns of the nodal system

class Refinement {
 public:
  Refinement(const ValuedNetwork& network, const Point& point, const NodalSystem& system)
      : network_(network), point_(point), system_(system) {}

  Wide unknowns() const;
  void sharpen(Wide& x) const;
  /// A bound on the error of any node voltage of `v`, which is x rounded.
  double error_bound(const Wide& x, const std::vector<double>& v) const;

 private:
  struct Residual {
    std::vector<double> value, rounding;  ///< A; what rounding may have done to it
  };
  Residual residual(const Wide& x) const;
  double curvature_factor(const std::vector<double>& v, const std::vector<std::size_t>& running,
                          const std::vector<std::vector<double>>& bounds, double eta) const;

  const ValuedNetwork& network_;
  const Point& point_;
  const NodalSystem& system_;
};

Wide Refinement::unknowns() const {
  Wide x(at(system_.unknowns()), 0.0L);
  for (Node node = 0; node < network_.network().node_count(); ++node) {
    const int index = system_.unknown(node);
    const double volt = point_.v[at(node)];
    if (index >= 0 && !std::isnan(volt)) x[at(index)] = volt - system_.offset(node);
  }
  return x;
}

/// Residual of Kirchhoff's current law in extended precision.
Refinement::Residual Refinement::residual(const Wide& x) const {
  const auto epsilon = std::numeric_limits<long double>::epsilon();
  Wide sum(x.size(), 0.0L);
  Wide slack(x.size(), 0.0L);
  for (std::size_t e = 0; e < network_.size(); ++e) {
    const Companion& linear = system_.companions()[e];
    if (linear.form != Companion::Form::norton) continue;
    const Element& element = network_.element(e);
    const int a = system_.unknown(element.from);
    const int b = system_.unknown(element.to);
    if (a == b || a == NodalSystem::floats || b == NodalSystem::floats) continue;
    const long double va = system_.offset(element.from) + (a >= 0 ? x[at(a)] : 0.0L);
    const long double vb = system_.offset(element.to) + (b >= 0 ? x[at(b)] : 0.0L);
    const long double ampere = current_at(element, network_.value(e), point_.states[e], va - vb);
    const long double doubt =
        8.0L * epsilon *
        (std::abs(ampere) + std::abs(linear.injection) + std::abs(linear.conductance) * (std::abs(va) + std::abs(vb)));
    if (a >= 0) sum[at(a)] += ampere, slack[at(a)] += doubt;
    if (b >= 0) sum[at(b)] -= ampere, slack[at(b)] += doubt;
  }
  return {{sum.begin(), sum.end()}, {slack.begin(), slack.end()}};
}

void Refinement::sharpen(Wide& x) const {
  for (int round = 0; round < most_refinements; ++round) {
    std::vector<double> step = residual(x).value;
    system_.solve(step.data(), 1);
    double change = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
      x[i] -= step[i];
      change = std::max(change, std::abs(step[i]));
    }
    if (change < finest_change) return;
  }
}

/// Newton-Kantorovich: 1 when nothing curves, 2 when its condition holds, infinite when it does not.
double Refinement::curvature_factor(const std::vector<double>& v, const std::vector<std::size_t>& running,
                                    const std::vector<std::vector<double>>& bounds, double eta) const {
  double h = 0.0;
  for (std::size_t k = 0; k < running.size(); ++k) {
    const double w = -network_.drop(v, running[k]) - 4.0 * eta;
    if (!(w > 0.0)) return infinite;
    const std::vector<double>& reach = bounds[k + 1];
    const double most = reach.empty() ? 0.0 : *std::max_element(reach.begin(), reach.end());
    h += most * 2.0 * network_.value(running[k]) / (w * w * w) * 4.0 * eta;  // (2 eta)^2 * |second derivative| / eta
  }
  if (h == 0.0) return 1.0;
  return h <= 0.5 ? 2.0 : infinite;
}

double Refinement::error_bound(const Wide& x, const std::vector<double>& v) const {
  const Residual left = residual(x);
  std::vector<std::vector<double>> asked{std::vector<double>(x.size())};
  for (std::size_t i = 0; i < x.size(); ++i) asked.front()[i] = std::abs(left.value[i]) + left.rounding[i];
  std::vector<std::size_t> running;
  for (std::size_t e = 0; e < network_.size(); ++e) {
    if (point_.states[e] != State::running) continue;
    running.push_back(e);
    asked.emplace_back(x.size(), 0.0);
    for (const Node node : {network_.element(e).from, network_.element(e).to}) {
      if (system_.unknown(node) >= 0) asked.back()[at(system_.unknown(node))] += 1.0;
    }
  }
  const std::vector<std::vector<double>> bounds = system_.error_bounds(asked);
  double worst = 0.0;
  for (const double entry : bounds.front()) worst = std::max(worst, entry);
  worst *= curvature_factor(v, running, bounds, worst);
  double largest = 0.0;
  for (const double volt : v) largest = std::max(largest, std::isnan(volt) ? 0.0 : std::abs(volt));
  return worst + rounded_result * largest;
}

}  // namespace

Refined refined(const ValuedNetwork& network, const Point& point, std::optional<NodalSystem> linear) {
  const bool factorised = linear.has_value();
  if (!factorised) linear.emplace(network.network(), network.companions(point, false));
  const bool definite = factorised || linear->factorise();
  const NodalSystem& system = *linear;
  const Refinement refinement(network, point, system);
  Wide x = refinement.unknowns();
  if (definite) refinement.sharpen(x);
  const Point sharp = {point.states, system.node_voltages({x.begin(), x.end()})};
  Refined result;
  result.voltage = sharp.v;
  result.current = network.currents(system, sharp);
  if (definite) result.voltage_error_bound = refinement.error_bound(x, sharp.v);
  result.consistent = network.consistent(system, sharp);
  result.floating = system.floating();
  return result;
}

}  // namespace zoneproof::circuit
