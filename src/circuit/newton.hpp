#pragma once
#include <optional>

#include "circuit/valued_network.hpp"

/// Inside of the engine: Newton's method, step 1 of the method of solve.hpp.
namespace zoneproof::circuit {

/// The operating point without loads: a linear solve per combination of states of diodes and limits, until the states
/// are those that their voltages and currents ask for. Starts from `point.states`, of which `system` is; the result is
/// the factorised system of the point, nothing where a matrix is not positive definite or the states go in circles.
/// Counts its solves in `iterations`.
std::optional<NodalSystem> unloaded_point(const ValuedNetwork& network, NodalSystem system, Point& point,
                                          int most_rounds, int& iterations);

/// From the unloaded `point` downwards, with every load on its constant-power law alone, whatever its lockout. False:
/// that law has no operating point there, or none was found in `most_rounds`; `point` is then of no use.
bool run_down(const ValuedNetwork& network, Point& point, int most_rounds, int& iterations);

}  // namespace zoneproof::circuit
