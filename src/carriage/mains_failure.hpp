#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// Whether clips still reach the outside when the mains fail, for as long as the rulebook's `standby_h`.
///   "mains_hold"    of every device on the way of a clip and of every uplink's modem: how long what it hangs on holds.
///                   Straight on the mains it holds for no time. A camera over its data cable holds as long as its
///                   switch or injector. Of what a supply of the alarm system feeds (an entry of `loads`) there is none
///                   here: the autonomy of that supply answers, and
///   "load_covers"   of that entry: whether its current stands for all that hangs on it, at its lowest voltage;
///   "carrier_hold"  of every uplink: how long the carrier's side goes on;
///   "backup_hold"   of every mains backup: as it was tried, else its energy at the end of its battery's life over the
///                   power of all that hangs on it;
///   "backup_load"   of every mains backup: that power against its rating;
///   "clip_way"      of a camera or unit whose way is not known, so that nobody can say what is on it: unanswered.
/// Powers stand at their high ends, energies at their low ends: exact. Cost: devices times links.
std::vector<chain::Evidence> check_mains_failure(const site::Site& site);

}  // namespace zoneproof::carriage
