#include "electric/consumer.hpp"

#include <algorithm>

#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

template <class Spec>
void take_range(Consumer& consumer, const std::optional<Spec>& spec) {
  if (!spec) return;
  consumer.min_V = &spec->supply_min_V;
  consumer.max_V = &spec->supply_max_V;
}

template <class Thing>
Consumer consumer_of(const std::string& id, const Thing& thing, const char* rule, chain::Link link) {
  Consumer consumer;
  consumer.id = id;
  consumer.feed = &thing.feed;
  consumer.part = thing.part.id;
  consumer.part_pointer = thing.part.pointer;
  consumer.margin_rule = rule;
  consumer.link = link;
  return consumer;
}

}  // namespace

std::vector<Consumer> consumers(const site::Site& site) {
  std::vector<Consumer> all;
  for (const auto& [id, panel] : site.panels) {
    Consumer consumer = consumer_of(id, panel, "load_supply_margin_V", chain::Link::loop);
    if (const site::Part* part = site::part_of(site, panel.part)) {
      take_range(consumer, part->panel);
      take_range(consumer, part->expander);
    }
    all.push_back(consumer);
  }
  for (const auto& [id, detector] : site.detectors) {
    if (detector.feed.from.none()) continue;
    Consumer consumer = consumer_of(id, detector, "detector_supply_margin_V", chain::Link::sense);
    if (const site::Part* part = site::part_of(site, detector.part)) take_range(consumer, part->detector);
    all.push_back(consumer);
  }
  for (const auto& [id, load] : site.loads) {
    Consumer consumer = consumer_of(id, load, "load_supply_margin_V", chain::Link::deliver);
    if (const site::Part* part = site::part_of(site, load.part)) take_range(consumer, part->load);
    all.push_back(consumer);
  }
  for (const auto& [id, unit] : site.units) {
    Consumer consumer = consumer_of(id, unit, "supply_margin_V", chain::Link::deliver);
    if (const site::Part* part = site::part_of(site, unit.part)) take_range(consumer, part->unit);
    all.push_back(consumer);
  }
  std::sort(all.begin(), all.end(), [](const Consumer& a, const Consumer& b) { return a.id < b.id; });
  return all;
}

bool fed_by(const site::Site& site, const Consumer& consumer, const std::string& supply) {
  return site::supply_of(site, *consumer.feed) == supply;
}

}  // namespace zoneproof::electric
