#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// Whether what a clip passes is connected, by addresses and by cables.
///
/// | check | of | answer |
/// | --- | --- | --- |
/// | reached | each pair that has to talk (`talks()`), told of the one that sends; condition: the other | broken where
/// neither has a way to the other by addresses (`reach()`); unanswered where only one has, as that works only with a
/// router that puts its own address in place of the sender's (RFC 2663), and where no data links join them, or two ways
/// do | | way_out | each unit | broken where it does not have the router of its uplink as gateway; unanswered where it
/// has another one, which may lead there | | stream_to | each channel of which a clip is kept | broken where its stream
/// goes elsewhere than to its recorder, or without one to its unit |
///
/// Exact as far as the file goes: filters between networks and VLANs set wrongly at a port are not in it. Cost: that of
/// `route()` for each pair.
namespace zoneproof::carriage {

std::vector<chain::Evidence> check_reached(const site::Site& site);

}  // namespace zoneproof::carriage
