#pragma once
#include <map>
#include <set>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// What clips pass on their way from the cameras to the outside. Units are not in it: a supply of the alarm system
/// feeds them, and electric answers for that.
struct ClipWays {
  std::set<std::string> devices;  ///< cameras, recorders, switches, injectors, routers
  std::set<std::string> uplinks;
  std::map<std::string, std::vector<chain::Gap>> open;  ///< by camera or unit: why its way is not known
};

/// The ways of all channels of which a clip is kept: camera to recorder to unit, or camera to unit, and from every unit
/// to the router of its uplink.
ClipWays clip_ways(const site::Site& site);

}  // namespace zoneproof::carriage
