#pragma once
#include <string>
#include <vector>

#include "carriage/finding.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// What a device takes its power from; null where the site has no such device or it is not asked of it.
const site::Ref* powered_by(const site::Site& site, const std::string& device);

/// Power of all that hangs on a mains backup or on an entry of loads, in watts, a term each: of cameras, recorders,
/// routers and modems what they take at the most; of switches and injectors besides that what their ports give, over
/// their efficiency. Unknown sheets, and switches that may power something untold, are terms without an upper end.
std::vector<Term> power_taken_from(const site::Site& site, const std::string& giver);

}  // namespace zoneproof::carriage
