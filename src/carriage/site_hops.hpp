#pragma once
#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "carriage/route.hpp"
#include "carriage/site_storm.hpp"
#include "carriage/value_reader.hpp"

namespace zoneproof::carriage {

struct HopOfSite {
  SiteHop what;
  std::int64_t rate_bps = 1;
  Nanoseconds latency = 0;
  ValueReader rests_on;
};

/// The hops of a site, made when something first takes them: data links in one direction, uplinks, and switches that
/// hand on less than their ports take.
class SiteHops {
 public:
  explicit SiteHops(const site::Site& site) : site_(site) {}

  /// What a packet waits for on a leg, in order: the switch that it leaves, where that is held by what it hands on in
  /// all, and the link.
  std::vector<std::size_t> of(const Leg& leg);
  std::size_t of_uplink(const std::string& id);

  std::vector<HopOfSite>& all() { return all_; }

 private:
  double delay_of(const std::string& thing, ValueReader& reader) const;
  std::size_t of_link(const Leg& leg);
  std::optional<std::size_t> of_switch(const std::string& id);
  std::size_t add(SiteHop what, double rate_bps, double latency_s, ValueReader reader);

  const site::Site& site_;
  std::vector<HopOfSite> all_;
  std::map<std::pair<std::string, std::string>, std::size_t> numbers_;
};

}  // namespace zoneproof::carriage
