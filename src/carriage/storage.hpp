#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "electric/tracked.hpp"
#include "site/model.hpp"

namespace zoneproof::carriage {

/// What a rate fills: Mb/s / 8 * 3600 * hours a day * days / 1000, in GB of 1e9 bytes. Disks are sold in these; in
/// units of 1024^3 bytes the same is 6.9 % less.
double stored_GB(double rate_Mbps, double hours_a_day, double days);

/// The most that a stream sends in the long run, in Mb/s. Capped: its highest rate. Free: with its largest pictures, of
/// f a second and a key frame every T seconds,
///
///     f frame + (key - frame) / T
///
/// kilobytes of 1000 bytes a second; every picture a key frame: f key.
electric::Tracked stream_rate(const site::Stream& stream);

/// Of every recorder that keeps pictures for an agreed time:
///   "disk_space"         what the streams to it fill in that time, sent all day, against its disk less the rulebook's
///                        `disk_reserve_pct`. Streams in this file count, also those of which it does not tell
///                        where they go; cameras that it does not tell of are not seen;
///   "recorder_channels"  the cameras that send to it, against those that it takes.
/// A recorder that nothing was agreed for (keep_d none) has only the second. Exact: all grow with their data.
std::vector<chain::Evidence> check_storage(const site::Site& site);

}  // namespace zoneproof::carriage
