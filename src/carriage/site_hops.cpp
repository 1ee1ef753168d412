#include "carriage/site_hops.hpp"

#include <algorithm>
#include <cmath>

#include "site/relations.hpp"

namespace zoneproof::carriage {

using std::string;

namespace {

constexpr double kMega = 1e6, kPercent = 100.0;

Nanoseconds nanoseconds_up(double seconds) {
  return static_cast<Nanoseconds>(std::ceil(seconds * static_cast<double>(kNanosecondsPerSecond)));
}

}  // namespace

double SiteHops::delay_of(const string& thing, ValueReader& reader) const {
  using site::Part;
  const auto of = [&](const auto& things, auto kind) {
    const auto found = things.find(thing);
    if (found == things.end()) return 0.0;
    const auto* spec = site::spec_of(site_, found->second.part, kind);
    if (spec != nullptr) return reader.high(spec->delay_s);
    reader.missing(found->second.part.pointer);
    return 0.0;
  };
  return of(site_.switches, &Part::network_switch) + of(site_.routers, &Part::router) +
         of(site_.recorders, &Part::recorder);
}

std::size_t SiteHops::add(SiteHop what, double rate_bps, double latency_s, ValueReader reader) {
  const std::size_t number = all_.size();
  numbers_[{what.thing, what.from}] = number;
  what.known = reader.complete();
  all_.push_back({std::move(what), std::max<std::int64_t>(1, static_cast<std::int64_t>(rate_bps)),
                  nanoseconds_up(latency_s), std::move(reader)});
  return number;
}

std::size_t SiteHops::of_link(const Leg& leg) {
  if (const auto found = numbers_.find({leg.link, leg.from}); found != numbers_.end()) return found->second;
  const site::DataLink& link = site_.data_links.at(leg.link);
  ValueReader reader;
  const double rate = (reader.low(link.rate_Mbps) - reader.high(link.others_Mbps)) * kMega;
  const double latency = delay_of(leg.from, reader);
  if (reader.complete() && rate < 1.0) reader.missing(link.others_Mbps.pointer, "undecided");  // nothing is left of it
  return add({leg.link, leg.from}, rate, latency, std::move(reader));
}

std::optional<std::size_t> SiteHops::of_switch(const string& id) {
  const auto found = site_.switches.find(id);
  if (found == site_.switches.end()) return std::nullopt;
  if (const auto known = numbers_.find({id, id}); known != numbers_.end()) return known->second;
  const auto* spec = site::spec_of(site_, found->second.part, &site::Part::network_switch);
  if (spec == nullptr || spec->forwarding_Mbps.none()) return std::nullopt;  // without a part its delay is missing too
  ValueReader reader;
  const double rate = reader.low(spec->forwarding_Mbps) * kMega;
  return add({id, id}, rate, 0.0, std::move(reader));
}

std::vector<std::size_t> SiteHops::of(const Leg& leg) {
  std::vector<std::size_t> hops;
  if (const auto through = of_switch(leg.from)) hops.push_back(*through);
  hops.push_back(of_link(leg));
  return hops;
}

std::size_t SiteHops::of_uplink(const string& id) {
  if (const auto found = numbers_.find({id, ""}); found != numbers_.end()) return found->second;
  const site::Uplink& uplink = site_.uplinks.at(id);
  ValueReader reader;
  const double share = reader.rule(site_, "uplink_load_pct") / kPercent;
  const double rate = reader.low(uplink.up_Mbps) * share - reader.high(uplink.others_Mbps);
  const double latency = reader.high(uplink.delay_s) + delay_of(uplink.router.id, reader);
  if (reader.complete() && rate * kMega < 1.0) reader.missing("/uplinks/" + id + "/others_Mbps", "undecided");
  return add({id, ""}, std::max(0.0, rate) * kMega, latency, std::move(reader));
}

}  // namespace zoneproof::carriage
