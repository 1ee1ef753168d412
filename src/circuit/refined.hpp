#pragma once
#include <optional>
#include <vector>

#include "circuit/valued_network.hpp"

/// Inside of the engine: the last steps of a solution in extended precision and the proof of its error, step 4 of the
/// method of solve.hpp.
namespace zoneproof::circuit {

struct Refined {
  std::vector<double> voltage;            ///< per node, V; NaN where it floats
  std::vector<double> current;            ///< per element, A
  double voltage_error_bound = infinite;  ///< V, of any node; infinite where nothing is proved
  bool consistent = false;                ///< diodes and limits are in the states that the voltages ask for
  std::vector<Node> floating;             ///< nodes joined to the reference by nothing
};

/// `point` has voltages and the states they belong to. `linear`: the factorised system of its states where the caller
/// has it and no load runs; else one is made.
///
/// The error of every voltage is at most |A^-1| (|F| + rounding of F), F the residual of Kirchhoff's current law (all
/// entries of A^-1 are bounded by one more solve, nodal.hpp). Running loads curve: with their second derivatives
/// 2 P / w^3 the true root lies within twice that if the condition h <= 1/2 of the Newton-Kantorovich theorem
/// holds.
Refined refined(const ValuedNetwork& network, const Point& point, std::optional<NodalSystem> linear);

}  // namespace zoneproof::circuit
