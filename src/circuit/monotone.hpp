#pragma once
#include <vector>

#include "circuit/network.hpp"

namespace zoneproof::circuit {

/// Of each quantity: whether it certainly never falls (1) or never rises (-1) when `element` alone is raised, anywhere
/// in the box of all ranges; 0 where that is not certain. Nonlinear elements are taken in all states and slopes that
/// they may have in the box, each operating point being the only one (enclosure.hpp); where that is not proved: 0.
/// Cost: one enclosure.
std::vector<int> certain_signs(const Network& network, ElementIndex element, const std::vector<Quantity>& quantities);

/// Whether every element is one of those that the vertex theorem of worst_case.hpp speaks of.
bool linear(const Network& network);

}  // namespace zoneproof::circuit
