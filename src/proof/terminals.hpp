#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// Whether each wired zone stands on a terminal that is there and is its own. Link loop, subject the zone:
/// "terminal_exists" (the panel's or expander's part has such an input), "terminal_own" (no other wired zone is on it,
/// but for two zones that share a pair). What is unknown leaves them unanswered: the terminal, the panel's part or its
/// number of inputs, another zone that may be on the same terminal, the medium of one of two that are.
std::vector<chain::Evidence> check_terminals(const site::Site& site);

}  // namespace zoneproof::proof
