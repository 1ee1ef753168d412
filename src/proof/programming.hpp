#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// Whether the outputs that a zone's video needs can be programmed at all: check "output_programmable", subject the
/// zone, link trigger. Such outputs are the one that arms its unit and, where the trigger is an output that follows the
/// zone, that one. Their panel must not be locked, its installer code has to be at hand, and it has to be known which
/// of its outputs are free; nobody gets round a panel that cannot be programmed, so that is broken. The contract says
/// in words who may be asked, and decides nothing. No evidence where a zone needs no output.
std::vector<chain::Evidence> check_programming(const site::Site& site);

}  // namespace zoneproof::proof
