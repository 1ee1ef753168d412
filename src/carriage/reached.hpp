#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// Whether what a clip passes is connected, by addresses and by cables.
///
/// - "reached", of the one that sends, for each pair that has to talk (`talks()`), with the other as condition: broken
///   where neither has a way to the other by addresses (`reach()`). Unanswered where only one has, as that works only
///   with a router that puts its own address in place of the sender's (RFC 2663), and where no data links join them,
///   or two ways do;
/// - "way_out", of a unit: broken where the router of its uplink is not its gateway, or its address is link-local;
/// unanswered where that is another
///   router, which may lead there;
/// - "stream_to", of a channel of which a clip is kept: broken where its stream does not go to its recorder, or without
///   one to its unit.
///
/// Exact as far as the file goes: filters between networks and VLANs set wrongly at a port are not in it. Cost: that of
/// `route()` for each pair.
namespace zoneproof::carriage {

std::vector<chain::Evidence> check_reached(const site::Site& site);

}  // namespace zoneproof::carriage
