#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// Whether each wired zone stands on a terminal that is there and is its own. Link loop, subject the zone:
/// "terminal_exists" (the panel's or expander's part has such an input), "terminal_own" (no other wired zone is on it,
/// but for two zones that share a pair). Where the medium of one of two zones is unknown, two on a terminal are
/// unanswered. An input or a part that is unknown gives no evidence here: other checks ask for it.
std::vector<chain::Evidence> check_terminals(const site::Site& site);

}  // namespace zoneproof::proof
