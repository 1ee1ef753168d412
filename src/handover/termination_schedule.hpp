#pragma once
#include "handover/answers.hpp"
#include "paper/blocks.hpp"

namespace zoneproof::handover {

/// The termination schedule: for each unit from where to where every core goes (trigger wires, arming, supply,
/// negatives), what is to be read there at rest and in alarm, with room for what was read; what the panel's terminals
/// read before and after; and the way back to the installation as it was found. Lying pages.
///
/// The figures are those of `levels` and `supply`: the guaranteed extent over every condition that the site can be in,
/// rounded by the same function. What is not known is a blank; core colours always are, the site file has none.
/// Ids: chapter "termination", units "termination-UNIT", rows of trigger wires "wire-TRIGGER".
paper::Chapter termination_schedule(const site::Site& site, const Answers& answers);

/// Its tables alone, for files: one of a kind over all units, a group each.
std::vector<paper::Table> termination_tables(const site::Site& site, const Answers& answers);

}  // namespace zoneproof::handover
