#pragma once
#include <string>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// Whether one battery of a supply is what its label says: within its life and its temperatures.
namespace zoneproof::electric {

/// "battery_age", in years: the ageing factor is that of a battery within its life; an older one may hold any charge.
chain::Evidence battery_age(const site::Site& site, const std::string& supply, const std::string& id);

/// "battery_temperature", in degC: the air where it stands lies between the lowest and the highest temperature of its
/// sheet. The value is the end of the air that is nearer to its limit.
chain::Evidence battery_temperature(const site::Site& site, const std::string& supply, const std::string& id);

}  // namespace zoneproof::electric
