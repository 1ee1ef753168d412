#include "field/figures.hpp"

#include "base/parallel_for.hpp"
#include "circuit/solve.hpp"
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

/// What is looked at of one zone: the site as it is, before units were there, and in passing states of its supplies.
struct Excerpted {
  explicit Excerpted(const site::Site& site)
      : found(without_units(site)),
        off_mains(just_off_mains(site)),
        on_mains(just_on_mains(site)),
        now_of(site),
        found_of(found),
        off_mains_of(off_mains),
        on_mains_of(on_mains) {}

  const site::Site found, off_mains, on_mains;
  const electric::Excerpts now_of, found_of, off_mains_of, on_mains_of;
};

struct ZoneExcerpt {
  site::Site now, off_mains, on_mains;
};

WireFigures wire_figures(const ZoneExcerpt& excerpt, const std::string& zone, const std::string& trigger) {
  const UnitCondition unit = trigger.empty() ? UnitCondition::detached : UnitCondition::powered;
  const auto at = [&](const site::Site& site, const ZoneState& state, SupplyCondition supply) {
    return zone_readings(site, ZoneSituation{zone, state, supply, trigger, unit});
  };
  WireFigures figures;
  figures.trigger = trigger;
  figures.rest = at(excerpt.now, {}, SupplyCondition::mains);
  figures.on_battery = at(excerpt.off_mains, {}, SupplyCondition::battery_full);
  figures.charging = at(excerpt.on_mains, {}, SupplyCondition::mains);
  for (const ZoneState& state : electric::reachable_states(excerpt.now, zone)) {
    if (worth_making(state)) figures.states.push_back({state, at(excerpt.now, state, SupplyCondition::mains)});
  }
  return figures;
}

/// What is between a pair and a negative at the least. What stands at the far end joins its two wires; a way back that
/// is shared joins the pairs of all who share it, and each of them leaks beside the others.
Expected insulation_of(const site::Site& site, const std::string& zone) {
  const site::Loop& loop = site.zones.at(zone).loop;
  const auto shared = site.shared_returns.find(loop.shared_return.id);
  if (shared == site.shared_returns.end()) {
    constexpr int both_wires = 2;
    return at_least(expected_of(electric::insulation_ohms(site, loop.cable, both_wires)));
  }
  Expected all = at_least(expected_of(electric::insulation_ohms(site, shared->second.cable)));
  for (const auto& entry : site.zones) {
    const site::Loop& other = entry.second.loop;
    if (other.shared_return.id != shared->first || other.cable.none()) continue;
    const Expected one = at_least(expected_of(electric::insulation_ohms(site, other.cable)));
    for (const chain::Gap& gap : one.gaps) chain::add_gap(all.gaps, gap);
    if (!one.low) all.low = std::nullopt;
    if (all.low) all.low = 1.0 / (1.0 / *all.low + 1.0 / *one.low);
  }
  all.unbounded = all.low.has_value();
  return all;
}

/// A loop whose contact is open without supply: what is left is leakage, and a meter may as well show no end.
Expected open_where_only_leaking(Expected expected) {
  const bool open = expected.low && *expected.low >= circuit::SolveOptions{}.leakage_ohm;
  return open ? at_least(std::move(expected)) : expected;
}

ZoneFigures figures_of(const site::Site& site, const Touched& touched, const Excerpted& all, const std::string& zone) {
  ZoneFigures figures;
  figures.zone = zone;
  const std::string owner = site::loop_owner(site, zone);
  figures.owns_pair = owner == zone && site.zones.at(zone).medium.is(site::Medium::wired);
  if (figures.owns_pair) {
    figures.found =
        zone_readings(all.found_of.of_zone(zone), {zone, {}, SupplyCondition::mains, "", UnitCondition::detached})
            .panel;
    figures.dead = open_where_only_leaking(expected_of(electric::loop_ohms(site, zone, electric::FarEnd::as_it_is)));
    figures.bridged = expected_of(electric::loop_ohms(site, zone, electric::FarEnd::joined));
    if (!site.zones.at(zone).loop.cable.none()) figures.insulation = insulation_of(site, zone);
  }
  const ZoneExcerpt excerpt{all.now_of.of_zone(zone), all.off_mains_of.of_zone(zone), all.on_mains_of.of_zone(zone)};
  for (const std::string& trigger : touched.triggers()) {
    if (site.triggers.at(trigger).zone.id == zone && site::has_wire(site.triggers.at(trigger)))
      figures.wires.push_back(wire_figures(excerpt, zone, trigger));
  }
  if (figures.wires.empty()) figures.wires.push_back(wire_figures(excerpt, zone, ""));
  return figures;
}

}  // namespace

std::vector<ZoneFigures> zone_figures(const site::Site& site, const Touched& touched) {
  const Excerpted excerpted(site);
  std::vector<std::string> zones = site::zones_in_order(site);
  std::erase_if(zones, [&](const std::string& id) { return !touched.zone(id); });
  std::vector<ZoneFigures> all(zones.size());
  parallel_for(zones.size(), [&](std::size_t i) { all[i] = figures_of(site, touched, excerpted, zones[i]); });
  return all;
}

}  // namespace zoneproof::field
