#pragma once
#include <string>

#include "electric/tracked.hpp"

namespace zoneproof::electric {

/// Voltage that the supply of a panel may give over all conditions, from battery cut-off to mains, before drops.
Tracked rail_volts(const site::Site& site, const std::string& panel);

/// Open-circuit voltage of a zone terminal over all conditions.
Tracked open_volts(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel);

}  // namespace zoneproof::electric
