#pragma once
#include <vector>

#include "circuit/network.hpp"

/// The operating point of a direct-current network.
///
/// Model. Node voltages v solve Kirchhoff's current law F(v) = 0, on nodes merged over ideal sources and zero ohms
/// (nodal.hpp). Laws:
///  - constant-power load: P / w for w >= lockout, below it the continuous law P w / lockout^2 (the draw of the
///  standard allows anything
///    from 0 to P / lockout there; this is a defined choice within it, zero at zero volts). A lockout of 0 is taken as
///    1 mV;
///  - diode: open below its forward voltage, (u - forward) / on_ohm above;
///  - limited source: an ideal source while it delivers less than its limit, then a source of the limit current, or
///  with foldback
///    of foldback + (limit - foldback) w / V for its terminal voltage w. It may sink any current.
///
/// Method. Every law is two-terminal, so F is the gradient of a potential (Millar 1951), minima of which are the stable
/// operating points.
///  1. From the unloaded network Newton's method on the constant-power law alone. In a supply tree F is convex and
///  off-diagonally antitone
///     in the load voltages, and the iterates fall monotonically to the upper root, or the Jacobian stops being
///     positive definite: then there is none (monotone Newton theorem, Ortega & Rheinboldt 1970, 13.3.4). The upper
///     root is the running one.
///  2. Where that ends below a lockout voltage, fails, or a diode or limit changes state in circles: pseudo-transient
///  continuation (Kelley &
///     Keyes 1998) from the unloaded network with the full laws: implicit Euler steps of a network with a capacitor at
///     every node, accepted only while they lower the potential, so it terminates and ends where a real network would
///     settle.
///  3. `from_zero`: the same continuation from the dead network: finds a foldback limit latched low although a running
///  point exists.
///  4. The last steps refine in extended precision, and the error of every voltage is bounded: |v - v*| <= |A^-1|
///  |F(v)| (with the
///     rounding of F), with the bound of Newton-Kantorovich (doubled, if its condition holds) for the curvature of the
///     loads.
///
/// Fails to answer: exactly at the limit of power transfer the root is double and no bound on its error exists
/// (not_converged); a network with several stable points beyond "unloaded" and "dead" gives the one reached from these.
namespace zoneproof::circuit {

/// One value per element (same order as Network::elements()): ohm, volt, ampere, watt. An operating point of a network.
using Values = std::vector<double>;

Values nominal_values(const Network& network);

/// Why a network has no (single) answer. Never thrown: a value, with the nodes it concerns.
enum class Trouble {
  none,
  floating,         ///< the nodes named are joined to the reference by nothing
  leakage_defined,  ///< solved, but the nodes named hang on the reference only through resistances of `leakage_ohm` and
                    ///< more
  source_loop,      ///< ideal voltage sources (or zero ohm and sources) form a loop
  collapsed,  ///< constant-power loads (named) have no operating point, or do not start: the voltages are those of the
              ///< collapsed state, loads below their lockout
  not_converged,  ///< the iteration ended above the voltage tolerance; `voltage_error_bound` says how far
};

struct SolveOptions {
  double voltage_tolerance = 1e-9;  ///< V, bound on the error of any node voltage
  double leakage_ohm = 1e5;         ///< from this resistance on a connection counts as leakage, not as a wire
  int iteration_limit = 200;
  bool from_zero = false;  ///< start-up: continue from a dead network instead of from the unloaded one
};

struct Solution {
  Trouble trouble = Trouble::none;
  std::vector<Node> troubled_nodes;
  std::vector<ElementIndex> troubled_elements;
  std::vector<double> voltage;       ///< per node, V against the reference; NaN for floating nodes
  std::vector<double> current;       ///< per element, A, from `from` to `to` through the element
  double voltage_error_bound = 0.0;  ///< V
  int iterations = 0;
  std::vector<ElementIndex> limiting;    ///< limited sources that work at their limit
  std::vector<ElementIndex> locked_out;  ///< constant-power loads below their lockout voltage: they do not run

  bool usable() const { return trouble == Trouble::none || trouble == Trouble::leakage_defined; }
  double at(const Quantity& quantity) const;
};

/// The direct-current operating point at the given element values (a diode's on_ohm is taken at its nominal value).
/// Pure and deterministic. Cost: about 20 us for a linear network of 40 nodes, some times that with nonlinear elements.
Solution solve(const Network& network, const Values& values, const SolveOptions& options = {});
Solution solve(const Network& network, const SolveOptions& options = {});  // at the nominal values

}  // namespace zoneproof::circuit
