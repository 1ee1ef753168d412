#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// "feed_output", subject what is fed: on which output of a supply that has several it hangs. Where that is not said,
/// neither its voltage nor what the outputs carry is an answer: unanswered, on the link that its supply belongs to
/// (panel: loop, detector: sense, unit and load: deliver; a junction: sense and deliver). No evidence where it is said.
std::vector<chain::Evidence> check_feeds(const site::Site& site);

}  // namespace zoneproof::proof
