#include "carriage/load.hpp"

#include <algorithm>

#include "carriage/naming.hpp"
#include "chain/limit.hpp"
#include "messages/carriage.hpp"

namespace zoneproof::carriage {

using chain::Evidence;

namespace {

constexpr double kMega = 1e6, kPercent = 100.0;

Measure megabits(double bits_per_s) { return {bits_per_s / kMega, "Mbps", 3}; }

Evidence of_link(const site::Site& site, const HopLoad& load, const chain::Limit& share) {
  Evidence evidence;
  evidence.id = "hop_load";
  evidence.subject = load.hop.thing;
  evidence.link = chain::Link::deliver;
  evidence.quantity = "rate";
  evidence.unit = "Mbps";
  evidence.condition = load.hop.from;
  evidence.limit_source = share.source;
  evidence.limit_verified = share.verified;
  evidence.gaps = load.gaps;
  const std::string name = device_words(site, load.hop.thing);
  const auto nothing_known = [](const chain::Gap& gap) { return chain::nothing_known(gap.reason); };
  const bool is_switch = load.hop.is_switch();
  if (!share.value || std::any_of(load.gaps.begin(), load.gaps.end(), nothing_known)) {
    if (!share.value) chain::lacks_rule(evidence, share);
    evidence.says = say::hop_open(name);
    return evidence;
  }
  const double carried = load.live_bps + load.alarm_bps, limit = load.rate_bps * *share.value / kPercent;
  evidence.value = evidence.bound = evidence.nominal = carried / kMega;
  evidence.limit = limit / kMega;
  evidence.margin = (limit - carried) / kMega;
  evidence.required_margin = 0.0;
  evidence.verdict = load.gaps.empty() ? chain::judge(*evidence.margin, 0.0) : chain::Verdict::unanswered;
  evidence.says = is_switch ? say::switch_hands_on(name, megabits(carried), megabits(load.rate_bps), megabits(limit))
                            : say::hop_carries(name, device_words(site, load.hop.from), megabits(carried),
                                               megabits(load.rate_bps), megabits(limit));
  if (carried > limit) evidence.remedies.push_back(is_switch ? say::switch_relieve(name) : say::hop_relieve(name));
  return evidence;
}

}  // namespace

std::vector<HopLoad> hop_loads(const SiteStorm& storm) {
  std::vector<HopLoad> loads;
  for (std::size_t i = 0; i < storm.hops.size(); ++i)
    loads.push_back({storm.hops[i], static_cast<double>(storm.storm.hops[i].rate_bps), 0.0, 0.0, storm.hop_gaps[i]});
  for (const SiteStream& stream : storm.streams)
    for (const std::size_t hop : stream.path) loads[hop].live_bps += stream.rate_bps;
  for (const SiteClip& clip : storm.clips)
    for (const std::size_t hop : clip.path) loads[hop].alarm_bps += clip.rate_bps;
  return loads;
}

std::vector<Evidence> check_loads(const site::Site& site, const SiteStorm& storm) {
  const chain::Limit share = chain::limit_of(site, "hop_load_pct");
  std::vector<Evidence> all;
  for (const HopLoad& load : hop_loads(storm))
    if (!load.hop.from.empty()) all.push_back(of_link(site, load, share));
  return all;
}

}  // namespace zoneproof::carriage
