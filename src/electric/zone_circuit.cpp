#include "electric/zone_circuit.hpp"

#include <algorithm>

#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

/// The unit looked at first, then every other unit with a wire on the same pair: all of them load it.
std::vector<std::string> units_on(const site::Site& site, const std::string& zone, const std::string& first) {
  std::vector<std::string> units = {first};
  for (const std::string& id : site::triggers_of_zone(site, zone)) {
    const site::Trigger& other = site.triggers.at(id);
    const bool tapped = other.source.is(site::TriggerSource::loop_tap) && site.units.count(other.unit.id) != 0;
    if (tapped && std::find(units.begin(), units.end(), other.unit.id) == units.end()) units.push_back(other.unit.id);
  }
  return units;
}

bool attached(const site::Site& site, const ZoneSituation& asked) {
  return site.triggers.count(asked.trigger) != 0 && asked.unit != UnitCondition::detached;
}

/// The unit of the trigger, where it is attached and known.
UnitUnderStudy studied_in(const site::Site& site, const ZoneSituation& asked) {
  if (!attached(site, asked)) return {};
  const std::string& unit = site.triggers.at(asked.trigger).unit.id;
  return site.units.count(unit) != 0 ? UnitUnderStudy{unit, asked.unit} : UnitUnderStudy{};
}

}  // namespace

std::string ZoneSituation::name() const { return std::string(word(supply)) + "/" + word(unit) + "/" + state.name(); }

Base build_zone_base(const site::Site& site, const ZoneSituation& asked) {
  return build_base(site, asked.supply, studied_in(site, asked));
}

ZoneCircuit build_zone_circuit(const site::Site& site, const ZoneSituation& asked, std::optional<DrivePart> part) {
  return build_zone_circuit(site, asked, part, build_zone_base(site, asked));
}

ZoneCircuit build_zone_circuit(const site::Site& site, const ZoneSituation& asked, std::optional<DrivePart> part,
                               Base base) {
  SiteSituation situation;
  situation.supply = asked.supply;
  situation.zones = {{asked.zone, asked.state}};
  situation.part = part;
  situation.studied = studied_in(site, asked);
  if (!situation.studied.unit.empty()) situation.units = units_on(site, asked.zone, situation.studied.unit);
  SiteCircuit circuit = build_site_circuit(site, situation, std::move(base));
  const auto trigger = site.triggers.find(asked.trigger);
  ZoneCircuit zone;
  if (attached(site, asked) && situation.studied.unit.empty())
    circuit.wiring.missing(trigger->second.unit.pointer, "unknown");
  if (const auto at = circuit.terminals.find(asked.zone); at != circuit.terminals.end()) zone.terminal = at->second;
  if (const auto at = circuit.inputs.find(asked.trigger); at != circuit.inputs.end()) zone.input = at->second;
  const std::string owner = site::loop_owner(site, asked.zone);
  for (const auto& [id, input] : circuit.inputs) {
    const site::Trigger& tap = site.triggers.at(id);
    const bool taps = tap.source.is(site::TriggerSource::loop_tap) && site::tapped_zone(site, tap) == owner;
    if (taps && !owner.empty()) zone.taps[id] = input;
  }
  zone.wiring = std::move(circuit.wiring);
  return zone;
}

}  // namespace zoneproof::electric
