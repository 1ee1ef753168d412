#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// Whether each zone's unit is armed when the zone is: check "armed_with_zone", subject the zone, link trigger. The
/// unit's arming output has to follow the arming of the zone's partition as a level, and must not wait for others. A
/// zone that is never disarmed has to be seen at any time, so what the output follows does not decide it.
std::vector<chain::Evidence> check_armed_by(const site::Site& site);

}  // namespace zoneproof::proof
