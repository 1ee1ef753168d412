#pragma once
#include <vector>

#include "circuit/nodal.hpp"
#include "circuit/solve.hpp"

/// Inside of the engine: the laws of the elements (solve.hpp, "Model") and the states they can be in.
namespace zoneproof::circuit {

enum class State : unsigned char {
  plain,      ///< linear element
  unloaded,   ///< load taken off
  running,    ///< load on its constant-power law
  locked,     ///< load below its lockout voltage
  off,        ///< diode open
  on,         ///< diode conducting
  regulated,  ///< limited source below its limit: an ideal source
  limiting,   ///< limited source at its limit
};
using States = std::vector<State>;

/// Lockout voltage of a load; one without is taken to let go at 1 mV, so that its law stays finite.
double lockout(const Element& load);

/// The linearised element in a state, about the voltage u = v_from - v_to.
Companion companion(const Element& element, double value, State state, double u);

/// Current from `from` to `to` at the voltage u in a state; not for elements that are links there.
long double current_at(const Element& element, double value, State state, long double u);

/// Integral of the current over u: the element's share of the potential that a stable operating point minimises.
double potential(const Element& element, double value, double u);

}  // namespace zoneproof::circuit
