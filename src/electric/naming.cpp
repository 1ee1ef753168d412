#include "electric/naming.hpp"

#include <algorithm>

#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

template <class Collection>
const std::string* name_in(const Collection& collection, const std::string& id) {
  const auto found = collection.find(id);
  return found == collection.end() || found->second.name.empty() ? nullptr : &found->second.name;
}

std::string trigger_words(const site::Site& site, const std::string& id) {
  const site::Trigger& trigger = site.triggers.at(id);
  if (site.zones.count(trigger.zone.id) == 0) return id;
  const std::string zone = zone_words(site, trigger.zone.id);
  if (site.units.count(trigger.unit.id) == 0) return text(say::trigger_of(zone));
  return text(say::trigger_of_to(zone, thing_words(site, trigger.unit.id)));
}

std::string channel_words(const site::Site& site, const std::string& id) {
  const site::Channel& channel = site.channels.at(id);
  if (!channel.number.known() || site.units.count(channel.unit.id) == 0) return id;
  return text(say::channel_of(*channel.number.value, thing_words(site, channel.unit.id)));
}

/// An address is told by its device, and by its network too where the device has more than one.
std::string address_words(const site::Site& site, const std::string& id) {
  const site::Address& address = site.addresses.at(id);
  if (!address.device.known()) return id;
  const std::string device = thing_words(site, address.device.id);
  const bool alone = std::none_of(site.addresses.begin(), site.addresses.end(), [&](const auto& other) {
    return other.first != id && other.second.device.id == address.device.id;
  });
  if (alone || site.networks.count(address.network.id) == 0) return text(say::address_of(device));
  return text(say::address_of_in(device, thing_words(site, address.network.id)));
}

}  // namespace

std::string zone_words(const site::Site& site, const std::string& zone) {
  const auto found = site.zones.find(zone);
  if (found == site.zones.end()) return text(say::zone_not_said());
  const site::Zone& own = found->second;
  const std::string name = own.name.empty() ? zone : own.name;
  if (!own.number.known()) return text(say::zone_without_number(name));
  return text(say::zone_with_number(*own.number.value, name));
}

std::string zone_at_panel(const site::Site& site, const ZoneSituation& situation) {
  const std::string zone = zone_words(site, situation.zone);
  const std::string state = state_words(situation.state.happening);
  const std::string supply = supply_words(situation.supply);
  if (situation.unit == UnitCondition::detached) return text(say::at_panel_before(zone, state, supply));
  return text(say::at_panel(zone, state, supply, unit_words(situation.unit)));
}

std::string zone_at_unit(const site::Site& site, const ZoneSituation& situation) {
  const site::Trigger& trigger = site.triggers.at(situation.trigger);
  return text(say::at_unit(zone_words(site, situation.zone), trigger.input.value.value_or(0),
                           thing_words(site, trigger.unit.id), state_words(situation.state.happening),
                           supply_words(situation.supply)));
}

std::string thing_words(const site::Site& site, const std::string& id) {
  for (const std::string* name :
       {name_in(site.units, id),         name_in(site.panels, id),   name_in(site.supplies, id),
        name_in(site.detectors, id),     name_in(site.loads, id),    name_in(site.outputs, id),
        name_in(site.batteries, id),     name_in(site.cables, id),   name_in(site.junctions, id),
        name_in(site.bonds, id),         name_in(site.cameras, id),  name_in(site.recorders, id),
        name_in(site.levels, id),        name_in(site.walls, id),    name_in(site.openings, id),
        name_in(site.blocks, id),        name_in(site.stairs, id),   name_in(site.protected_places, id),
        name_in(site.privacy_areas, id), name_in(site.switches, id), name_in(site.injectors, id),
        name_in(site.routers, id),       name_in(site.uplinks, id),  name_in(site.backups, id),
        name_in(site.data_links, id),    name_in(site.networks, id), name_in(site.monitoring_paths, id),
        name_in(site.partitions, id)}) {
    if (name != nullptr) return *name;
  }
  if (site.triggers.count(id) != 0) return trigger_words(site, id);
  if (site.channels.count(id) != 0) return channel_words(site, id);
  if (site.addresses.count(id) != 0) return address_words(site, id);
  return site.zones.count(id) != 0 ? zone_words(site, id) : id;
}

std::string supply_words(SupplyCondition condition) {
  switch (condition) {
    case SupplyCondition::mains: return text(say::on_mains());
    case SupplyCondition::mains_no_battery: return text(say::on_mains_no_battery());
    case SupplyCondition::mains_flat_battery: return text(say::on_mains_flat_battery());
    case SupplyCondition::battery_full: return text(say::on_battery_full());
    case SupplyCondition::supplies_apart: return text(say::on_supplies_apart());
    default: return text(say::on_battery_cutoff());
  }
}

std::string part_words(DrivePart part) {
  switch (part) {
    case DrivePart::on: return text(say::part_on());
    case DrivePart::off: return text(say::part_off());
    case DrivePart::reverse: return text(say::part_reverse());
    case DrivePart::mean: break;
  }
  return text(say::part_mean());
}

std::string unit_words(UnitCondition condition) {
  switch (condition) {
    case UnitCondition::powered: return text(say::unit_powered());
    case UnitCondition::booting: return text(say::unit_booting());
    case UnitCondition::unpowered: return text(say::unit_unpowered());
    case UnitCondition::negative_broken: return text(say::unit_negative_broken());
    default: return text(say::unit_detached());
  }
}

std::string state_words(Happening happening) {
  switch (happening) {
    case Happening::rest: return text(say::in_rest());
    case Happening::alarm: return text(say::in_alarm());
    case Happening::second_alarm: return text(say::in_second_alarm());
    case Happening::both_alarm: return text(say::in_both_alarm());
    case Happening::masked: return text(say::in_masked());
    case Happening::fault: return text(say::in_fault());
    case Happening::tamper_open: return text(say::in_tamper_open());
    default: return text(say::in_shorted());
  }
}

std::string terminal_source(const site::Site& site, const std::string& zone) {
  return part_source(site, site::zone_terminal_of(site, zone).id);
}

std::string windows_pointer(const site::Site& site, const std::string& zone) {
  const site::Ref part = site::zone_terminal_of(site, zone);
  return part.known() ? "/parts/" + part.id + "/zone_terminal/windows" : part.pointer;
}

std::string part_source(const site::Site& site, const std::string& part_id) {
  const auto part = site.parts.find(part_id);
  if (part == site.parts.end()) return {};
  return part->second.source.empty() ? part->second.name : part->second.name + ": " + part->second.source;
}

}  // namespace zoneproof::electric
