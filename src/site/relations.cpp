#include "site/relations.hpp"

#include <algorithm>
#include <limits>
#include <set>

namespace zoneproof::site {

namespace {

/// The feed that hangs on a supply itself, after all junctions; null where the way there is broken or circular.
const Feed* root_feed(const Site& site, const Feed& feed) {
  const Feed* at = &feed;
  std::set<std::string> visited;
  while (site.supplies.count(at->from.id) == 0) {
    const auto junction = site.junctions.find(at->from.id);
    if (junction == site.junctions.end() || !visited.insert(at->from.id).second) return nullptr;
    at = &junction->second.feed;
  }
  return at;
}

bool hangs_on(const Site& site, const Trigger& trigger, const std::string& owner) {
  if (owner.empty() || !trigger.source.is(TriggerSource::loop_tap)) return false;
  const Zone& zone = site.zones.at(owner);
  const bool there = zone.panel.id == trigger.at_panel.id && zone.input.value == trigger.at_input.value;
  return there && tapped_zone(site, trigger) == owner;  // two zones may claim one terminal: the first has it
}

}  // namespace

const Part* part_of(const Site& site, const Ref& part) {
  const auto found = site.parts.find(part.id);
  return found == site.parts.end() ? nullptr : &found->second;
}

const LensSpec* lens_of(const Site& site, const Camera& camera) {
  if (camera.lens.known()) return spec_of(site, camera.lens, &Part::lens);
  const CameraSpec* spec = spec_of(site, camera.part, &Part::camera);
  return spec != nullptr && spec->lens ? &*spec->lens : nullptr;
}

const ContactSpec* contact_spec(const Site& site, const Ref& detector, const std::string& contact) {
  const auto found = site.detectors.find(detector.id);
  if (found == site.detectors.end()) return nullptr;
  const DetectorSpec* spec = spec_of(site, found->second.part, &Part::detector);
  if (spec == nullptr) return nullptr;
  const auto at = spec->contacts.find(contact);
  return at == spec->contacts.end() ? nullptr : &at->second;
}

std::string supply_of(const Site& site, const Feed& feed) {
  const Feed* root = root_feed(site, feed);
  return root == nullptr ? std::string() : root->from.id;
}

std::string output_of(const Site& site, const Feed& feed) {
  const Feed* root = root_feed(site, feed);
  return root == nullptr ? std::string() : root->output;
}

std::vector<std::string> junctions_of(const Site& site, const Feed& feed) {
  std::vector<std::string> passed;
  for (const Feed* at = &feed;;) {
    const auto junction = site.junctions.find(at->from.id);
    if (junction == site.junctions.end()) return passed;
    if (std::find(passed.begin(), passed.end(), junction->first) != passed.end()) return passed;
    passed.push_back(junction->first);
    at = &junction->second.feed;
  }
}

bool has_battery(const Site& site, const std::string& supply) {
  return std::any_of(site.batteries.begin(), site.batteries.end(),
                     [&](const auto& entry) { return entry.second.supply.id == supply; });
}

std::optional<OpenList> other_battery_possible(const Site& site, const std::string& supply) {
  for (const auto& [id, battery] : site.batteries) {
    if (!battery.supply.known()) return OpenList{battery.supply.pointer, false};
  }
  const Flag& complete = site.supplies.at(supply).batteries_complete;
  return complete.yes() ? std::nullopt : std::optional(OpenList{complete.pointer, true});
}

std::vector<std::string> zones_in_order(const Site& site) {
  std::vector<std::string> zones;
  for (const auto& entry : site.zones) zones.push_back(entry.first);
  const auto number = [&](const std::string& id) {
    return site.zones.at(id).number.value.value_or(std::numeric_limits<long long>::max());
  };
  std::stable_sort(zones.begin(), zones.end(),
                   [&](const std::string& a, const std::string& b) { return number(a) < number(b); });
  return zones;
}

std::string loop_owner(const Site& site, const std::string& zone) {
  const Zone& own = site.zones.at(zone);
  if (!own.doubled_with.known() || own.loop.arrangement.known()) return zone;
  return site.zones.count(own.doubled_with.id) != 0 ? own.doubled_with.id : std::string();
}

std::string tapped_zone(const Site& site, const Trigger& trigger) {
  if (!trigger.at_panel.known() || !trigger.at_input.known()) return {};
  for (const auto& [id, zone] : site.zones) {
    const bool here =
        zone.panel.id == trigger.at_panel.id && zone.input.known() && zone.input.value == trigger.at_input.value;
    if (here && loop_owner(site, id) == id) return id;
  }
  return {};
}

std::vector<std::string> triggers_of_zone(const Site& site, const std::string& zone) {
  const std::string owner = loop_owner(site, zone);
  std::vector<std::string> ids;
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.zone.id == zone || hangs_on(site, trigger, owner)) ids.push_back(id);
  }
  return ids;
}

std::vector<std::string> triggers_of_unit(const Site& site, const std::string& unit) {
  std::vector<std::string> ids;
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.unit.id == unit) ids.push_back(id);
  }
  return ids;
}

std::string panel_of_output(const Site& site, const Ref& output) {
  const auto found = site.outputs.find(output.id);
  return found == site.outputs.end() ? std::string() : found->second.panel.id;
}

std::string source_of(const Site& site, const Trigger& trigger) {
  if (!trigger.source.known()) return {};
  switch (*trigger.source.value) {
    case TriggerSource::loop_tap: return trigger.at_panel.id;
    case TriggerSource::following_output: return panel_of_output(site, trigger.output);
    case TriggerSource::spare_contact:
    case TriggerSource::receiver_relay: return trigger.detector.id;
    case TriggerSource::camera_analytics:
    case TriggerSource::live_view: break;
  }
  return {};
}

namespace {

template <class Things>
bool stands_in(const Things& things, const std::string& device, std::string& area) {
  const auto found = things.find(device);
  if (found == things.end()) return false;
  if (found->second.area.known()) area = found->second.area.id;
  return true;
}

}  // namespace

std::string area_of(const Site& site, const std::string& device) {
  std::string area;
  (void)(stands_in(site.panels, device, area) || stands_in(site.units, device, area) ||
         stands_in(site.detectors, device, area) || stands_in(site.supplies, device, area) ||
         stands_in(site.batteries, device, area) || stands_in(site.loads, device, area) ||
         stands_in(site.recorders, device, area) || stands_in(site.switches, device, area) ||
         stands_in(site.routers, device, area) || stands_in(site.injectors, device, area) ||
         stands_in(site.backups, device, area));
  return area;
}

bool has_wire(const Trigger& trigger) {
  return trigger.source.known() && !trigger.source.is(TriggerSource::camera_analytics) &&
         !trigger.source.is(TriggerSource::live_view);
}

std::string first_on_input(const Site& site, const std::string& trigger) {
  const Trigger& own = site.triggers.at(trigger);
  if (!own.input.known() || !own.unit.known()) return trigger;
  for (const auto& [id, other] : site.triggers) {
    if (has_wire(other) && other.unit.id == own.unit.id && other.input.value == own.input.value) return id;
  }
  return trigger;
}

bool wants_picture(ZoneType type) {
  return type != ZoneType::fire && type != ZoneType::technical && type != ZoneType::access;
}

bool has_chain(const Site& site, const std::string& zone) {
  const Zone& own = site.zones.at(zone);
  if (!own.type.known() || wants_picture(*own.type.value)) return true;
  return std::any_of(site.triggers.begin(), site.triggers.end(),
                     [&](const auto& entry) { return entry.second.zone.id == zone; });
}

namespace {

/// Whether all that it reports is what it is programmed to pass on.
bool only_receives(const Site& site, const std::string& id) {
  const auto detector = site.detectors.find(id);
  if (detector == site.detectors.end()) return false;
  const DetectorSpec* spec = spec_of(site, detector->second.part, &Part::detector);
  return spec != nullptr && !spec->contacts.empty() &&
         std::all_of(spec->contacts.begin(), spec->contacts.end(),
                     [](const auto& entry) { return entry.second.reports.is(ContactReports::programmable); });
}

template <class Counts>
std::vector<std::string> detectors_with(const Site& site, const std::string& zone, const Counts& counts) {
  std::set<std::string> ids;
  const std::string owner = loop_owner(site, zone);
  if (!owner.empty()) {
    for (const auto& [id, contact] : site.zones.at(owner).loop.contacts) {
      const bool own = (contact.zone.known() ? contact.zone.id : owner) == zone;
      if (own && contact.detector.known() && counts(contact)) ids.insert(contact.detector.id);
    }
  }
  for (const auto& [id, trigger] : site.triggers) {
    if (trigger.zone.id == zone && trigger.detector.known()) ids.insert(trigger.detector.id);
  }
  for (const auto& [id, detector] : site.detectors) {
    if (detector.zone.id == zone) ids.insert(id);
  }
  return {ids.begin(), ids.end()};
}

}  // namespace

std::vector<std::string> detectors_of_zone(const Site& site, const std::string& zone) {
  return detectors_with(site, zone, [](const LoopContact&) { return true; });
}

std::map<std::string, std::vector<std::string>> zones_of_detectors(const Site& site) {
  std::map<std::string, std::set<std::string>> found;
  for (const auto& [zone, entry] : site.zones) {
    const std::string owner = loop_owner(site, zone);
    if (owner.empty()) continue;
    for (const auto& [id, contact] : site.zones.at(owner).loop.contacts)
      if (contact.detector.known() && (contact.zone.known() ? contact.zone.id : owner) == zone)
        found[contact.detector.id].insert(zone);
  }
  const auto add = [&](const std::string& detector, const Ref& zone) {
    if (site.zones.count(zone.id) != 0) found[detector].insert(zone.id);
  };
  for (const auto& [id, trigger] : site.triggers)
    if (trigger.detector.known()) add(trigger.detector.id, trigger.zone);
  for (const auto& [id, detector] : site.detectors) add(id, detector.zone);
  std::map<std::string, std::vector<std::string>> zones;
  for (const auto& [detector, all] : found) zones[detector] = {all.begin(), all.end()};
  return zones;
}

std::vector<std::string> alarming_detectors_of_zone(const Site& site, const std::string& zone) {
  std::vector<std::string> ids = detectors_with(site, zone, [](const LoopContact& contact) {
    return !contact.role.known() || contact.role.is(ContactRole::alarm);
  });
  ids.erase(std::remove_if(ids.begin(), ids.end(), [&](const std::string& id) { return only_receives(site, id); }),
            ids.end());
  return ids;
}

Ref zone_terminal_of(const Site& site, const std::string& zone) {
  const Zone& own = site.zones.at(zone);
  if (!own.zone_terminal.unknown()) return own.zone_terminal;
  const auto panel = site.panels.find(own.panel.id);
  return panel == site.panels.end() ? own.panel : panel->second.zone_terminal;
}

const PanelSpec* panel_spec(const Site& site, const std::string& panel) {
  const auto found = site.panels.find(panel);
  if (found == site.panels.end()) return nullptr;
  const PanelSpec* spec = spec_of(site, found->second.part, &Part::panel);
  return spec != nullptr ? spec : spec_of(site, found->second.part, &Part::expander);
}

const UnitSpec* unit_spec(const Site& site, const std::string& unit) {
  const auto found = site.units.find(unit);
  return found == site.units.end() ? nullptr : spec_of(site, found->second.part, &Part::unit);
}

}  // namespace zoneproof::site
