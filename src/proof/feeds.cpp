#include "proof/feeds.hpp"

#include "messages/proof.hpp"
#include "proof/rule.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

namespace {

chain::Evidence works_unfed(const site::Site& site, const std::string& id, const site::Detector& detector) {
  const Rule rule = {id, chain::Link::sense, "works_unfed", say::rule_of_feeds()};
  const site::DetectorSpec* spec = site::spec_of(site, detector.part, &site::Part::detector);
  if (spec == nullptr) return open_question(rule, detector.part.pointer);
  for (const site::Value* needed : {&spec->supply_min_V, &spec->supply_max_V, &spec->current_A}) {
    if (needed->known()) return breaks(rule, say::needs_a_feed(site::called(site.detectors, id)));
  }
  for (const site::Value* needed : {&spec->supply_min_V, &spec->supply_max_V, &spec->current_A}) {
    if (needed->unknown()) return open_question(rule, needed->pointer);
  }
  return holds(rule);
}

}  // namespace

std::vector<chain::Evidence> check_feeds(const site::Site& site) {
  std::vector<chain::Evidence> all;
  for (const auto& [id, detector] : site.detectors) {
    if (detector.feed.from.none()) all.push_back(works_unfed(site, id, detector));
  }
  return all;
}

}  // namespace zoneproof::proof
