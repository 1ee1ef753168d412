#pragma once
#include <vector>

#include "carriage/site_storm.hpp"
#include "chain/evidence.hpp"

namespace zoneproof::carriage {

/// What a hop carries for long.
struct HopLoad {
  SiteHop hop;
  double rate_bps = 0.0;   ///< what it is counted on to carry
  double live_bps = 0.0;   ///< streams that go on all the time, at the most
  double alarm_bps = 0.0;  ///< clips being recorded, all at once, at the most
  std::vector<chain::Gap> gaps;
};
/// Of every hop, in the order of SiteStorm::hops.
std::vector<HopLoad> hop_loads(const SiteStorm& storm);

/// "hop_load" (deliver, of a data link; its condition is the end that sends): what passes it for long, the cameras'
/// streams and the clips of all zones, as a share of its rate. Of an uplink nothing is asked but that clips arrive in
/// time: they may queue.
std::vector<chain::Evidence> check_loads(const site::Site& site, const SiteStorm& storm);

}  // namespace zoneproof::carriage
