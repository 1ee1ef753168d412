#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// "works_unfed", subject a detector that is said to have no feed, link sense: its part has to say that it needs none.
/// What is fed from a supply is judged by its voltage, an output that is not told included.
std::vector<chain::Evidence> check_feeds(const site::Site& site);

}  // namespace zoneproof::proof
