#pragma once
#include <vector>

#include "carriage/site_storm.hpp"
#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// Everything that can be said of what carries the clips, as evidence of the link deliver: power over data cables,
/// mains failure, disks, clocks, load of the data links, addresses, what is exposed, monitoring paths. When clips
/// arrive is told by src/timeline, from clip_bounds(). `storm`: storm_of(site).
std::vector<chain::Evidence> carriage_answers(const site::Site& site, const SiteStorm& storm);

}  // namespace zoneproof::carriage
