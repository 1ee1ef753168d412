#include "field/figures.hpp"

#include "base/parallel_for.hpp"
#include "electric/excerpt.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

using electric::Happening;
using electric::SupplyCondition;
using electric::UnitCondition;
using electric::ZoneSituation;
using electric::ZoneState;

namespace {

bool worth_making(const ZoneState& state) {
  return state.happening == Happening::alarm || (state.happening == Happening::tamper_open && !state.contact.empty());
}

WireFigures wire_figures(const site::Site& site, const std::string& zone, const std::string& trigger) {
  const UnitCondition unit = trigger.empty() ? UnitCondition::detached : UnitCondition::powered;
  const auto at = [&](const ZoneState& state, SupplyCondition supply) {
    return zone_readings(site, ZoneSituation{zone, state, supply, trigger, unit});
  };
  WireFigures figures;
  figures.trigger = trigger;
  figures.rest = at({}, SupplyCondition::mains);
  figures.on_battery = at({}, SupplyCondition::battery_full);
  for (const ZoneState& state : electric::reachable_states(site, zone)) {
    if (worth_making(state)) figures.states.push_back({state, at(state, SupplyCondition::mains)});
  }
  return figures;
}

ZoneFigures figures_of(const site::Site& site, const Touched& touched, const electric::Excerpts& now,
                       const electric::Excerpts& before, const std::string& zone) {
  ZoneFigures figures;
  figures.zone = zone;
  const std::string owner = site::loop_owner(site, zone);
  figures.owns_pair = owner == zone && site.zones.at(zone).medium.is(site::Medium::wired);
  if (figures.owns_pair) {
    figures.found =
        zone_readings(before.of_zone(zone), {zone, {}, SupplyCondition::mains, "", UnitCondition::detached}).panel;
    figures.dead = expected_of(electric::loop_ohms(site, zone, electric::FarEnd::as_it_is));
    figures.bridged = expected_of(electric::loop_ohms(site, zone, electric::FarEnd::joined));
    const site::Ref& cable = site.zones.at(zone).loop.cable;
    constexpr int both_wires = 2;  // what stands at the far end joins them
    if (!cable.none()) figures.insulation = at_least(expected_of(electric::insulation_ohms(site, cable, both_wires)));
  }
  const site::Site excerpt = now.of_zone(zone);
  for (const std::string& trigger : touched.triggers()) {
    if (site.triggers.at(trigger).zone.id == zone && site::has_wire(site.triggers.at(trigger)))
      figures.wires.push_back(wire_figures(excerpt, zone, trigger));
  }
  if (figures.wires.empty()) figures.wires.push_back(wire_figures(excerpt, zone, ""));
  return figures;
}

}  // namespace

std::map<std::string, ZoneFigures> zone_figures(const site::Site& site, const Touched& touched) {
  const site::Site found = without_units(site);
  const electric::Excerpts now(site), before(found);
  const std::vector<std::string> zones(touched.zones().begin(), touched.zones().end());
  std::vector<ZoneFigures> all(zones.size());
  parallel_for(zones.size(), [&](std::size_t i) { all[i] = figures_of(site, touched, now, before, zones[i]); });
  std::map<std::string, ZoneFigures> by_zone;
  for (ZoneFigures& figures : all) by_zone.emplace(figures.zone, std::move(figures));
  return by_zone;
}

}  // namespace zoneproof::field
