#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// Of every monitoring path that a unit uses:
///   "path_reporting"  the longest time until the station shows that it is gone, against the rulebook's
///                     `reporting_CATEGORY_s` of the category that was agreed on (EN 50136-1);
///   "path_permitted"  broken where the network of the site does not let it out; a permission is one for a port, so
///                     without `port` it is unanswered.
/// A unit without a path has both unanswered, under its own id. Exact. Whether the station keeps what it agreed to is
/// not asked here.
std::vector<chain::Evidence> check_monitoring(const site::Site& site);

}  // namespace zoneproof::carriage
