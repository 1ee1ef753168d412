#pragma once
#include <optional>
#include <string>

#include "chain/evidence.hpp"
#include "electric/discharge.hpp"

namespace zoneproof::electric {

/// "recharge": the batteries of `supply`, new and flat, brought back to the share and within the hours that the
/// rulebook asks for, by what the charger has left beside the standby load of `run`.
chain::Evidence recharge(const site::Site& site, const std::string& supply, const Discharge& run);

/// What to do about the charger if `capacity_Ah` of battery is fitted to a supply whose discharge `run` had all its
/// data; nothing where it would charge that in time, or where what it gives is not known.
std::optional<Message> too_large_to_charge(const site::Site& site, const std::string& supply, const Discharge& run,
                                           double capacity_Ah);

}  // namespace zoneproof::electric
