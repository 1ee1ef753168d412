#include "field/sources.hpp"

#include "electric/naming.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

namespace {

Source named(const site::Site& site, const std::string& id) {
  Source source;
  source.id = source.device = id;
  source.words = electric::thing_words(site, id);
  for (const auto& [battery, entry] : site.batteries)
    if (entry.supply.id == id) source.batteries.push_back({battery, electric::thing_words(site, battery)});
  source.other_battery = site::other_battery_possible(site, id).has_value();
  return source;
}

/// The reference at which the way to a supply ends; where it is filled the file knows the supply.
const site::Ref& root_of(const site::Site& site, const site::Feed& feed) {
  const std::vector<std::string> passed = site::junctions_of(site, feed);
  return passed.empty() ? feed.from : site.junctions.at(passed.back()).feed.from;
}

Source unnamed(const std::string& device, std::string words, site::Ref lacks) {
  Source source;
  source.id = "of." + device;
  source.words = std::move(words);
  source.device = device;
  source.batteries = {{source.id, text(say::name_each_battery())}};
  source.lacks = std::move(lacks);
  if (source.lacks.pointer.empty()) source.lacks.pointer = "/supplies";  // of a site that was not read from a file
  return source;
}

bool lost(const site::Site& site, const site::Feed& feed) {
  return !feed.from.none() && site::supply_of(site, feed).empty();
}

}  // namespace

std::vector<Source> sources_of(const site::Site& site, const Touched& touched) {
  std::vector<Source> all;
  for (const std::string& id : touched.supplies()) all.push_back(named(site, id));
  const auto of_thing = [&](const std::string& id, const site::Feed& feed) {
    if (lost(site, feed))
      all.push_back(unnamed(id, text(say::name_supply_of(electric::thing_words(site, id))), root_of(site, feed)));
  };
  for (const std::string& id : touched.panels()) of_thing(id, site.panels.at(id).feed);
  for (const std::string& id : touched.units()) of_thing(id, site.units.at(id).feed);
  Source detectors;
  for (const std::string& id : touched.detectors()) {
    const site::Detector& detector = site.detectors.at(id);
    const site::DetectorSpec* spec = site::spec_of(site, detector.part, &site::Part::detector);
    if (!lost(site, detector.feed) || (spec != nullptr && spec->supply_min_V.none())) continue;
    if (detectors.feeds.empty())
      detectors = unnamed("", text(say::name_supply_of_detectors()), root_of(site, detector.feed));
    detectors.feeds.push_back(id);
  }
  if (!detectors.feeds.empty()) all.push_back(std::move(detectors));
  return all;
}

}  // namespace zoneproof::field
