#pragma once
#include <vector>

#include "circuit/network.hpp"
#include "circuit/solve.hpp"

namespace zoneproof::circuit {

/// Which end of its range an element's value takes in a corner; elements with one value are left out.
struct CornerEntry {
  ElementIndex element;
  double value;
  bool high;  ///< at the high end of its range
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
  int certified = 0;   ///< parameters whose sign of influence was certified over the box
  int enumerated = 0;  ///< parameters whose vertices were walked
};

struct WorstCaseOptions {
  SolveOptions solve;
  double exact_tolerance = 1e-6;  ///< V (or the quantity's unit)
  int most_enumerated = 16;       ///< 2^n vertices are walked up to this n; beyond, descent and bound
};

/// Extremes of several quantities over the box of the network's element ranges.
std::vector<WorstCase> worst_case(const Network& network, const std::vector<Quantity>& quantities,
                                  const WorstCaseOptions& options = {});

/// The values of all elements at a corner: nominal where the corner names nothing.
Values values_at(const Network& network, const Corner& corner);

}  // namespace zoneproof::circuit
