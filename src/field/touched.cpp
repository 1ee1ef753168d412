#include "field/touched.hpp"

#include <optional>

#include "electric/naming.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

namespace {

/// Why the circuit of a zone is left alone for its own sake.
std::optional<Message> own_reason(const site::Zone& zone) {
  if (zone.type.is(site::ZoneType::fire)) return say::left_fire();
  if (zone.type.is(site::ZoneType::hold_up)) return say::left_hold_up();
  if (!zone.type.known()) return say::left_unknown();
  return std::nullopt;
}

/// Why it is left alone for the sake of another one.
std::optional<Message> others_reason(const site::Site& site, const std::string& id) {
  const site::Zone& zone = site.zones.at(id);
  const std::string owner = site::loop_owner(site, id);
  for (const auto& [other_id, other] : site.zones) {
    if (other_id == id || !own_reason(other)) continue;
    if (!owner.empty() && site::loop_owner(site, other_id) == owner)
      return say::left_same_pair(electric::zone_words(site, other_id));
    const bool shares = zone.loop.shared_return.known() && zone.loop.shared_return.id == other.loop.shared_return.id;
    if (shares) return say::left_same_return(electric::zone_words(site, other_id));
  }
  return std::nullopt;
}

}  // namespace

Touched::Touched(const site::Site& site) {
  sort_zones(site);
  follow(site);
}

void Touched::sort_zones(const site::Site& site) {
  for (const auto& [id, zone] : site.zones) {
    std::optional<Message> because = own_reason(zone);
    if (!because) because = others_reason(site, id);
    if (because) {
      left_alone_.push_back({id, std::move(*because)});
    } else {
      zones_.insert(id);
    }
  }
}

void Touched::follow(const site::Site& site) {
  const auto panel = [&](const std::string& id) {
    if (site.panels.count(id) != 0) panels_.insert(id);
  };
  for (const std::string& id : zones_) {
    panel(site.zones.at(id).panel.id);
    for (const std::string& detector : site::detectors_of_zone(site, id)) {
      if (site.detectors.count(detector) != 0) detectors_.insert(detector);
    }
  }
  for (const auto& [id, trigger] : site.triggers) {
    if (zones_.count(trigger.zone.id) == 0) continue;
    triggers_.insert(id);
    if (const auto output = site.outputs.find(trigger.output.id); output != site.outputs.end())
      panel(output->second.panel.id);
  }
  for (const auto& [id, unit] : site.units) {
    units_.insert(id);
    if (const auto output = site.outputs.find(unit.arming.output.id); output != site.outputs.end())
      panel(output->second.panel.id);
  }
  const auto supply = [&](const site::Feed& feed) {
    const std::string id = site::supply_of(site, feed);
    if (!id.empty()) supplies_.insert(id);
  };
  for (const std::string& id : panels_) supply(site.panels.at(id).feed);
  for (const std::string& id : units_) supply(site.units.at(id).feed);
}

std::vector<std::string> Touched::left_alone_on(const site::Site& site, const std::string& supply) const {
  std::vector<std::string> zones;
  for (const LeftAlone& left : left_alone_) {
    const auto panel = site.panels.find(site.zones.at(left.zone).panel.id);
    if (panel != site.panels.end() && site::supply_of(site, panel->second.feed) == supply)
      zones.push_back(electric::zone_words(site, left.zone));
  }
  return zones;
}

std::vector<std::string> Touched::left_alone_at(const site::Site& site, const std::string& panel) const {
  std::vector<std::string> zones;
  for (const LeftAlone& left : left_alone_) {
    if (site.zones.at(left.zone).panel.id == panel) zones.push_back(electric::zone_words(site, left.zone));
  }
  return zones;
}

}  // namespace zoneproof::field
