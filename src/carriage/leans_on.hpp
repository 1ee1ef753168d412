#pragma once
#include <set>
#include <string>

#include "carriage/route.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// Ids of all that the clips of a zone need on their way: cameras, recorders, units, data links and the things between
/// them, routers, uplinks, monitoring paths; what powers them; their addresses and networks. What is not known on a way
/// leaves out the rest of it: evidence of the camera or unit says so. `routes`: those of the site.
std::set<std::string> clips_lean_on(const site::Site& site, const Routes& routes, const std::string& zone);

}  // namespace zoneproof::carriage
