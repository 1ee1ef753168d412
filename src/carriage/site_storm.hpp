#pragma once
#include <string>
#include <vector>

#include "carriage/storm.hpp"
#include "chain/evidence.hpp"
#include "site/model.hpp"

/// The clips of a site on their way to the station, with every zone in alarm, as hops and flows (storm.hpp).
///
/// A hop is a data link in one direction, at the rate that its ends agreed on less what else may pass it; the uplink,
/// at the least that was measured, times the share that is counted on, less what others may send; or a switch that
/// hands on less than its ports take. What hands a packet on holds it for its `delay_s` at the most: latency of the hop
/// behind it. Flows are the cameras' streams, which go on all the time, and one clip for each trigger and channel, from
/// the unit (behind a recorder from there through the unit) to the station. Sizes are the largest, rates the lowest;
/// packets add the rulebook's overhead.
namespace zoneproof::carriage {

/// Something in the storm and what it is on the site.
struct SiteClip {
  std::string trigger, channel;
  std::optional<std::size_t> flow;  ///< none: not known, see gaps
  std::vector<std::size_t> path;    ///< hops, as far as they are known
  double rate_bps = 0.0;            ///< for long, while it is recorded; 0 where it is not known itself
  double released_s = 0.0;          ///< after being asked for: at the end of a clip that is sent when it is complete
  double late_s = 0.0;           ///< by which a picture is at the unit later than it was taken: the camera's own time
  std::string camera, stream;    ///< of which it is
  std::vector<chain::Gap> gaps;  ///< what its way and all that shares it rest on
  site::Origin origin = site::Origin::measured;
};
struct SiteHop {
  std::string thing;  ///< a data link, a switch or an uplink
  std::string from;   ///< the end of the link that sends; the switch itself; empty: an uplink
  bool known = true;  ///< its own rate and delay; else Storm::hops has no number of the site, and nothing passes it
  bool is_switch() const { return thing == from; }
};
struct SiteStream {
  std::string camera, stream;
  std::optional<std::size_t> flow;
  double rate_bps = 0.0;  ///< for long; 0 where it is not known itself
  std::vector<std::size_t> path;
  std::vector<chain::Gap> gaps;  ///< its own
};

struct SiteStorm {
  Storm storm;
  std::vector<SiteHop> hops;  ///< as Storm::hops
  std::vector<SiteClip> clips;
  std::vector<SiteStream> streams;
  std::vector<std::vector<chain::Gap>> hop_gaps;  ///< of each hop: what is missing for it or for what passes it
};

/// All zones at once. In `storm` is only what can be played and bounded: nothing that shares hops, near or far, with
/// what is not known, and nothing at all where hops wait for each other in a ring (what a router sends back and what
/// goes on to it). Cost: ways (route.hpp) for each stream and clip.
SiteStorm storm_of(const site::Site& site);

/// By when a clip is at the station, in seconds from when it is asked for, whenever all others are. Of one that is sent
/// while it is recorded the first picture is there already; the last is late by what the camera and its way to the
/// unit or recorder take. One that is sent when it is complete waits for that with its first picture too.
struct ClipBound {
  std::string trigger, channel;
  std::optional<double> first_picture_s, complete_s;  ///< not known, or never for sure where `swamped`
  bool swamped = false;                               ///< more comes for ever than a hop on its way sends
  std::vector<chain::Gap> gaps;
  site::Origin origin = site::Origin::measured;
};

/// Cost: delivery_bound.hpp.
std::vector<ClipBound> clip_bounds(const SiteStorm& storm);

}  // namespace zoneproof::carriage
