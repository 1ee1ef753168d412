#pragma once
#include <vector>

#include "electric/wiring.hpp"

namespace zoneproof::electric {

/// Leaves in `wiring` only what `quantities` can depend on (circuit/reach.hpp) and calls their nodes as they are called
/// then. Every level, its bounds and what it rests on stay what they are; what happens elsewhere on the site (another
/// cabinet whose supply collapses) is no longer in it. Returns what each node is called now; -1: it is gone.
/// Cost: linear in the network.
std::vector<circuit::Node> narrow(Wiring& wiring, std::vector<circuit::Quantity>& quantities);

}  // namespace zoneproof::electric
