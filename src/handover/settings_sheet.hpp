#pragma once
#include "paper/blocks.hpp"
#include "proof/chains.hpp"
#include "site/model.hpp"

namespace zoneproof::handover {

/// What is typed into each unit: arming direction and level, clock, times before and after the event, addresses; of
/// each input the zone as the unit calls it, its normal and alarm range, what counts as alarm, its channels and
/// cameras; the channels, those for live view only told apart. Each unit begins on a page of its own. As the site file
/// has it; what it does not say is a blank. What the proof says of each input stands beside it, and one that is broken
/// has no box to tick. No code and no password ever stands in it: the site file has none. Ids: chapter "settings",
/// units "settings-UNIT", rows of inputs "input-TRIGGER".
paper::Chapter settings_sheet(const site::Site& site, const proof::Proof& proof);

/// Its tables alone, for files: inputs and channels of all units, a group each.
std::vector<paper::Table> settings_tables(const site::Site& site, const proof::Proof& proof);

}  // namespace zoneproof::handover
