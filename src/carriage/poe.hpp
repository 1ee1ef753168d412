#pragma once
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// Whether every camera that takes its power over its data cable gets it. Of each such camera:
///   "poe_class"    what a port sets aside for the class that it asks for, and for the highest that its switch or
///                  injector serves;
///   "poe_voltage"  the voltage at it, at the worst of port, cable, temperature and power, against the lowest of its
///   class; "poe_loop"     the resistance there and back, against the largest of its class, by a cable that has the
///   pairs of its class; "poe_power"    what it takes, against what a device of its class may take.
/// Of each switch that powers one:
///   "poe_budget"   what its ports set aside for the classes of its cameras, against what it gives in all. Classes, not
///                  what cameras take: that is what a switch counts unless it was told otherwise, and no field says so;
///   "poe_ports"    how many of its ports have to give power.
/// Of each data link with a cable:
///   "cable_run"    its length from port to port; an injector joins two links to one run.
/// And "switch_ports" of a switch that has more links than ports. Cost: cameras times links.
std::vector<chain::Evidence> check_power_over_data(const site::Site& site);

}  // namespace zoneproof::carriage
