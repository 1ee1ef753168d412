#pragma once
#include <string>

#include "chain/evidence.hpp"
#include "electric/discharge.hpp"

namespace zoneproof::electric {

/// "recharge": the charge that `run` (the required standby and alarm of `supply`) took, given back up to the share and
/// within the hours that the rulebook asks for, by what the charger has left beside the standby load.
chain::Evidence recharge(const site::Site& site, const std::string& supply, const Discharge& run);

}  // namespace zoneproof::electric
