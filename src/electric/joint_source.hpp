#pragma once
#include <vector>

#include "circuit/worst_case.hpp"

namespace zoneproof::electric {

/// A voltage source and the resistance in series with it that are known together and not one by one: the pairs of both
/// are a convex polygon (terminal_region.hpp), at each corner of which the resistance may drift. In the network the two
/// elements hold the polygon's hull, so that whoever looks at them alone sees all that they can be.
struct JointSource {
  struct Corner {
    circuit::Range ohm;
    double volts = 0.0;
  };

  circuit::ElementIndex source = 0;
  circuit::ElementIndex pullup = 0;
  circuit::Node between = circuit::reference;  ///< the node that these two alone touch
  std::vector<Corner> corners;
};

/// Extremes over the box of all ranges but that of the joint source, and over the corners of its polygon.
///
/// Why corners are enough. With everything else held, what is left of the network meets the source at one pair of nodes
/// of voltage e, and i = (V - e) / R flows there. Along any straight line V = V0 + m R: if i = m at one point of it,
/// then e = V0, i = m solves every point of it, and since the operating point is the only one e stays what it is; else
/// i - m never changes its sign, and de/dR (1 + R g) = m - i, with the port's slope g and 1 + R g > 0 for the same
/// reason, never changes its either. So e is monotone along every line, and its extremes over a polygon lie at corners,
/// whatever passive or nonlinear elements the rest is made of. In a linear network every level is a linear function of
/// e. In others it must be certain that the level moves one way with V all over the box (circuit/monotone.hpp); where
/// that is not, and for a level that looks at the node between source and resistance (a window in percent of the
/// source), the hull gives the bound and the polygon's corners what is attained: bounded, not exact.
///
/// Of several joint sources in one network each counts as its hull, which is safe; an extreme whose corner no polygon
/// has is then bounded. Without any this is circuit::worst_case.
/// Cost: one worst case a corner, and one more where the hull has to be asked.
std::vector<circuit::WorstCase> worst_case_of(const circuit::Network& network, const std::vector<JointSource>& joints,
                                              const std::vector<circuit::Quantity>& quantities);

}  // namespace zoneproof::electric
