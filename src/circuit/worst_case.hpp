#pragma once
#include <vector>

#include "circuit/network.hpp"
#include "circuit/solve.hpp"

/// The exact worst case of node voltages over a box of independent element values.
///
/// Theory. In a linear network of passive resistors and independent sources every node voltage, and every fixed linear
/// combination of them, is in each single resistance a ratio of two linear functions without a pole in the range, and
/// in each single source linear (the matrix is changed by a rank-one term; Cramer's rule). So it is monotone in each
/// with the rest held, and its extremes over the box lie at vertices. Its slope is the product of a branch voltage and
/// an adjoint branch voltage (Director & Rohrer 1969).
///
/// Method, progressive certification, per quantity and direction, after what cannot reach the quantity has been left
/// out (reach.hpp) and resistors in series have been made one (series.hpp):
///  1. enclose all branch voltages and adjoint branch voltages over the box (enclosure.hpp: Neumaier & Pownuk 2007, in
///  exchange form). Where both
///     signs are certain the quantity is monotone in the element over the whole box: it is fixed at its end, the box
///     shrinks, and the enclosure is made again, until nothing more becomes certain. Then the elements of least effect
///     are fixed anywhere as long as their effects together stay within `exact_tolerance` / 4, which is added to the
///     bound;
///  2. up to `most_enumerated` resistors left: all 2^n vertices in Gray-code order with rank-1 updates; sources are set
///  best at each
///     vertex by their sign, so they do not count in n;
///  3. more left: the box is split in the element of most effect (in a linear network into its two ends, which is
///  exact; else in halves), each part
///     certified further, parts that cannot beat the best corner dropped; up to a fixed number of parts. What then is
///     undecided gives the enclosure as `bound` and coordinate descent as `attained`: bounded, not exact.
///
/// Nonlinear elements (not covered by the vertex theorem) are enclosed as the same comment says. Where every sign of
/// the *incremental* network is certain, the corner is the extreme of the true nonlinear network, and the result is
/// exact. A diode that conducts in one part of the box and not in another splits it before any range does: the points
/// where it conducts are points of the network in which it always does, and likewise where it does not, so these two
/// networks together bound the box; one that contradicts its supposition everywhere is dropped. `attained` is always
/// the full nonlinear solution at `corner`. Loads that may lock out and sources that may reach their limit inside the
/// box are relaxed: bounded; infinitely so where current sources could pull a source at its limit down without end. A
/// part of the box that cannot be enclosed keeps the bound of the part it was split from.
///
/// Not covered: one parameter shared by several elements (freeing them is safe). A diode's on_ohm is taken as
/// independent of its forward voltage. `bound` is infinite where nothing is proved.
///
/// Measured, one core shared with other work, 2 quantities: mesh of 60 nodes and 104 elements of 5 % 1.1 ms; ten zone
/// loops with taps on one rail (55 nodes, 105 ranges, contacts from 0 ohm and leaks to infinity) 2 ms; with one
/// constant-power unit 3 ms, with five 6 to 10 ms; a mesh with ten switches of 5 ohm to 2 Mohm 5 to 50 ms. All exact.
namespace zoneproof::circuit {

/// Which end of its range an element's value takes in a corner; elements with one value are left out.
struct CornerEntry {
  ElementIndex element;
  double value;
  bool high;            ///< at the high end of its range (of the nearer end, where a bisected corner lies inside)
  bool on_ohm = false;  ///< the value is the diode's on_ohm, not its forward voltage
};
using Corner = std::vector<CornerEntry>;

/// The smallest or the largest value that a quantity takes over the box of all element ranges.
struct Extreme {
  double attained = 0.0;  ///< value at `corner`, solved on the full nonlinear network: some real system does this
  double bound = 0.0;     ///< no system of the box goes beyond it (<= attained for a minimum, >= for a maximum)
  Corner corner;
  bool exact = false;  ///< |bound - attained| <= options.exact_tolerance
};

struct WorstCase {
  Trouble trouble = Trouble::none;  ///< of the nominal network or of any corner tried (floating, collapsed ...)
  std::vector<Node> troubled_nodes;
  std::vector<ElementIndex> troubled_elements;
  double nominal = 0.0;
  Extreme low, high;
  int certified =
      0;  ///< parameters of certain sign, or without weight, over the whole box (the fewer of both directions)
  int enumerated = 0;  ///< parameters whose vertices were walked or split
};

struct WorstCaseOptions {
  SolveOptions solve;
  double exact_tolerance = 1e-6;  ///< V (or the quantity's unit)
  int most_enumerated = 16;       ///< 2^n vertices are walked up to this n; beyond, descent and bound
};

/// Extremes of several quantities over the box of the network's element ranges.
std::vector<WorstCase> worst_case(const Network& network, const std::vector<Quantity>& quantities,
                                  const WorstCaseOptions& options = {});

/// The values of all elements at a corner: nominal where the corner names nothing. A diode's on_ohm is not among them:
/// see network_at.
Values values_at(const Network& network, const Corner& corner);

/// The network with every range narrowed to its value at the corner (nominal where the corner names nothing).
Network network_at(const Network& network, const Corner& corner);

}  // namespace zoneproof::circuit
