// By when the clips of a site are at the station.
#include <algorithm>

#include "carriage/delivery_bound.hpp"
#include "carriage/site_storm.hpp"

namespace zoneproof::carriage {

namespace {

std::optional<double> seconds(std::optional<Nanoseconds> time) {
  if (!time) return std::nullopt;
  return static_cast<double>(*time) / static_cast<double>(kNanosecondsPerSecond);
}

}  // namespace

std::vector<ClipBound> clip_bounds(const SiteStorm& storm) {
  const Bounds bounds = delivery_bound(storm.storm);
  std::vector<ClipBound> all;
  for (const SiteClip& clip : storm.clips) {
    ClipBound bound = {clip.trigger, clip.channel, {}, {}, false, clip.gaps, clip.origin};
    const auto stream = std::find_if(storm.streams.begin(), storm.streams.end(), [&](const SiteStream& one) {
      return one.camera == clip.camera && one.stream == clip.stream;
    });
    const bool known = clip.flow && stream != storm.streams.end() && stream->flow;
    if (clip.flow && !known) chain::add_gap(bound.gaps, {"/channels/" + clip.channel + "/stream", "unknown"});
    if (known) {
      const DeliveryBound& of = bounds.flows[*clip.flow];
      const std::optional<double> to_unit = seconds(bounds.flows[*stream->flow].any_frame);
      bound.swamped = !of.first_picture || !of.complete || !to_unit;
      if (!bound.swamped) {
        const double last_comes_s = clip.late_s + *to_unit;
        const double waits_s = clip.released_s > 0.0 ? clip.released_s + last_comes_s : 0.0;
        bound.first_picture_s = waits_s + *seconds(of.first_picture);
        bound.complete_s = (clip.released_s > 0.0 ? waits_s : last_comes_s) + *seconds(of.complete);
      }
    }
    all.push_back(std::move(bound));
  }
  return all;
}

}  // namespace zoneproof::carriage
