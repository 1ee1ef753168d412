#include "field/touched.hpp"

#include <algorithm>
#include <map>
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

/// The pairs and ways back of zones that are left alone, each with the first such zone on it.
class Kept {
 public:
  explicit Kept(const site::Site& site) : site_(site) {}

  void add(const std::string& zone) {
    const std::string owner = site::loop_owner(site_, zone);
    if (!owner.empty()) pairs_.emplace(owner, zone);
    if (const site::Ref* shared = shared_return(zone)) returns_.emplace(shared->id, zone);
  }

  /// Why a zone is left alone for the sake of another one.
  std::optional<Message> reason(const std::string& zone) const {
    if (const auto pair = pairs_.find(site::loop_owner(site_, zone)); pair != pairs_.end())
      return say::left_same_pair(electric::zone_words(site_, pair->second));
    const site::Ref* shared = shared_return(zone);
    if (shared == nullptr) return std::nullopt;
    const auto back = returns_.find(shared->id);
    if (back == returns_.end()) return std::nullopt;
    return say::left_same_return(electric::zone_words(site_, back->second));
  }

 private:
  /// That of its pair, which the other zone of a doubled input may own.
  const site::Ref* shared_return(const std::string& zone) const {
    const auto owner = site_.zones.find(site::loop_owner(site_, zone));
    if (owner == site_.zones.end() || !owner->second.loop.shared_return.known()) return nullptr;
    return &owner->second.loop.shared_return;
  }

  const site::Site& site_;
  std::map<std::string, std::string> pairs_, returns_;
};

/// Whether a supply feeds the panel of a zone, one of its detectors or a unit that it triggers.
bool goes_dead_with(const site::Site& site, const std::string& zone, const std::string& supply) {
  const auto feeds = [&](const site::Feed& feed) { return site::supply_of(site, feed) == supply; };
  const auto panel = site.panels.find(site.zones.at(zone).panel.id);
  if (panel != site.panels.end() && feeds(panel->second.feed)) return true;
  for (const std::string& trigger : site::triggers_of_zone(site, zone)) {
    const auto unit = site.units.find(site.triggers.at(trigger).unit.id);
    if (unit != site.units.end() && feeds(unit->second.feed)) return true;
  }
  const std::vector<std::string> all = site::detectors_of_zone(site, zone);
  return std::any_of(all.begin(), all.end(), [&](const std::string& id) {
    const auto detector = site.detectors.find(id);
    return detector != site.detectors.end() && feeds(detector->second.feed);
  });
}

}  // namespace

Touched::Touched(const site::Site& site) {
  sort_zones(site);
  follow(site);
  keep_shared_detectors(site);
}

void Touched::keep_shared_detectors(const site::Site& site) {
  std::map<std::string, std::string> whose;
  for (const LeftAlone& left : left_alone_)
    for (const std::string& id : site::detectors_of_zone(site, left.zone)) whose.emplace(id, left.zone);
  for (const std::string& zone : zones_) {
    // What a receiver stands for is tripped elsewhere: it is none of these.
    const std::vector<std::string> alarming = site::alarming_detectors_of_zone(site, zone);
    for (const std::string& id : site::detectors_of_zone(site, zone)) {
      const auto other = whose.find(id);
      if (other == whose.end()) continue;
      not_opened_.insert(id);
      if (std::find(alarming.begin(), alarming.end(), id) == alarming.end()) continue;
      not_tripped_.insert(id);
      shared_.push_back(
          {zone, say::left_detector(electric::thing_words(site, id), electric::zone_words(site, other->second))});
    }
  }
}

void Touched::sort_zones(const site::Site& site) {
  std::map<std::string, Message> because;
  Kept kept(site);
  for (const auto& [id, zone] : site.zones) {
    zones_.insert(id);
    if (auto own = own_reason(zone)) because.emplace(id, std::move(*own));
  }
  for (const auto& entry : because) kept.add(entry.first);
  // What is left alone for another's sake has wires of its own that others may share: until no more is found.
  for (bool more = true; more;) {
    more = false;
    for (const std::string& id : zones_) {
      if (because.count(id) != 0) continue;
      auto reason = kept.reason(id);
      if (!reason) continue;
      because.emplace(id, std::move(*reason));
      kept.add(id);
      more = true;
    }
  }
  for (auto& [id, reason] : because) {
    zones_.erase(id);
    left_alone_.push_back({id, std::move(reason)});
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
    panel(site::panel_of_output(site, trigger.output));
  }
  for (const auto& [id, unit] : site.units) {
    units_.insert(id);
    panel(site::panel_of_output(site, unit.arming.output));
  }
  const auto supply = [&](const site::Feed& feed) {
    const std::string id = site::supply_of(site, feed);
    if (!id.empty()) supplies_.insert(id);
  };
  for (const std::string& id : panels_) supply(site.panels.at(id).feed);
  for (const std::string& id : units_) supply(site.units.at(id).feed);
  // A detector that stays powered keeps its relay drawn and its pair under hands and ohmmeter.
  for (const std::string& id : detectors_) supply(site.detectors.at(id).feed);
}

std::vector<std::string> Touched::left_alone_on(const site::Site& site, const std::string& supply) const {
  std::vector<std::string> zones;
  for (const LeftAlone& left : left_alone_)
    if (goes_dead_with(site, left.zone, supply)) zones.push_back(electric::zone_words(site, left.zone));
  return zones;
}

std::vector<std::string> Touched::watched_on(const site::Site& site, const std::string& supply) const {
  std::vector<std::string> zones;
  for (const std::string& id : zones_)
    if (site.zones.at(id).type.is(site::ZoneType::technical) && goes_dead_with(site, id, supply))
      zones.push_back(electric::zone_words(site, id));
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
