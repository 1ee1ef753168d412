#pragma once
#include <cstddef>
#include <vector>

#include "circuit/laws.hpp"
#include "circuit/network.hpp"
#include "circuit/nodal.hpp"
#include "circuit/solve.hpp"

/// Inside of the engine: a network with one value per element, and how its elements behave at a point that is being
/// looked for (solve.hpp).
namespace zoneproof::circuit {

/// A point on the way to an operating point.
struct Point {
  States states;          ///< per element
  std::vector<double> v;  ///< per node, V; NaN where it floats, empty where nothing is known yet
};

/// Network and values are referred to, not copied: they have to outlive it.
class ValuedNetwork {
 public:
  ValuedNetwork(const Network& network, const Values& values)
      : network_(network), elements_(network.elements()), values_(values) {}

  const Network& network() const { return network_; }
  std::size_t size() const { return elements_.size(); }  ///< number of elements
  const Element& element(std::size_t e) const { return elements_[e]; }
  double value(std::size_t e) const { return values_[e]; }
  bool is_load(std::size_t e) const { return elements_[e].kind == Kind::constant_power; }
  bool is_diode(std::size_t e) const { return elements_[e].kind == Kind::diode; }

  /// Whether some law is not straight about a point in these states: a load that draws, a source at its limit.
  bool bends(const States& states) const;

  /// v_from - v_to of an element, V.
  double drop(const std::vector<double>& v, std::size_t e) const {
    return v[at(elements_[e].from)] - v[at(elements_[e].to)];
  }

  /// Where the search begins: loads taken off, diodes conducting, sources below their limits.
  States first_states() const;
  /// The elements linearised at the point. `join`: nonlinear elements count as connections even where they conduct
  /// nothing.
  std::vector<Companion> companions(const Point& point, bool join) const;
  /// Current of every element, A; links by Kirchhoff's current law.
  std::vector<double> currents(const NodalSystem& system, const Point& point) const;

  /// Diodes and limits take the state that the voltages and currents of the last step ask for. True when one changed.
  /// All at once is quick but may go in circles; one at a time, always the first in order, ends where the matrix is a
  /// P-matrix (Murty 1974).
  bool switch_states(const NodalSystem& system, Point& point, bool one_at_a_time) const;
  /// Whether diodes and limits are in the states that the point asks for.
  bool consistent(const NodalSystem& system, const Point& point) const;

 private:
  State first_state(std::size_t e) const;

  const Network& network_;
  const std::vector<Element>& elements_;
  const Values& values_;
};

inline constexpr double state_slack_volts = 1e-12;  ///< a diode or limit within this of its corner may stay as it is
inline constexpr double limit_slack = 1e-12;        ///< of a source's limit, likewise

}  // namespace zoneproof::circuit
