#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// The rules of pairing a zone with an input and a channel, none of which needs a solver. Link trigger, subject the
/// zone: "trigger_present", "source_possible" (what the zone can give; fire and hold-up circuits are never tapped),
/// "right_terminal", "input_exists", "input_used_once", "channel_as_bound", "channel_used_once", "output_used_once",
/// "output_follows_zone", "zone_number_agrees", "zone_name_agrees", "zone_type_agrees", "zone_number_own",
/// "zone_name_own"; and what trigger_contact.hpp and terminals.hpp say. Only what is known can clash: two triggers
/// whose units are unknown do not. Nor do they stand apart: what may be the same input, channel or output is
/// unanswered, and what is missing there is named.
std::vector<chain::Evidence> check_pairing(const site::Site& site);

}  // namespace zoneproof::proof
