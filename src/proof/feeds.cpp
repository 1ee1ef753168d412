#include "proof/feeds.hpp"

#include "messages/proof.hpp"
#include "proof/rule.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

using chain::Link;

std::vector<chain::Evidence> check_feeds(const site::Site& site) {
  std::vector<chain::Evidence> all;
  const auto ask = [&](const char* collection, const auto& things, std::initializer_list<Link> links) {
    for (const auto& [id, thing] : things) {
      const auto supply = site.supplies.find(thing.feed.from.id);
      if (supply == site.supplies.end() || !thing.feed.output.empty()) continue;
      const site::SupplySpec* spec = site::spec_of(site, supply->second.part, &site::Part::supply);
      if (spec == nullptr || spec->outputs.size() < 2) continue;
      const std::string pointer = std::string("/") + collection + "/" + id + "/feed/output";
      for (Link link : links) all.push_back(open_question({id, link, "feed_output", say::rule_of_feeds()}, pointer));
    }
  };
  ask("panels", site.panels, {Link::loop});
  ask("detectors", site.detectors, {Link::sense});
  ask("units", site.units, {Link::deliver});
  ask("loads", site.loads, {Link::deliver});
  ask("junctions", site.junctions, {Link::sense, Link::deliver});
  return all;
}

}  // namespace zoneproof::proof
