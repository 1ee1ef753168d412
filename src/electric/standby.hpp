#pragma once
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "electric/discharge.hpp"
#include "site/model.hpp"

namespace zoneproof::electric {

/// "autonomy", "recharge" and, for each battery, "battery_age" (years against the rulebook's age of replacement: the
/// ageing factor covers no older ones) of every supply that has a battery or should have one. Link deliver, subject the
/// supply.
std::vector<chain::Evidence> check_standby(const site::Site& site);
/// Those of one supply and its batteries.
std::vector<chain::Evidence> check_standby(const site::Site& site, const std::string& supply);

/// What ends a discharge (`Discharge::ended_by`): "the supply disconnects the battery", "Panel falls below its range".
std::string ended_words(const site::Site& site, const std::string& ended_by);

}  // namespace zoneproof::electric
