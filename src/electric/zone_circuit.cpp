#include "electric/zone_circuit.hpp"

#include "electric/site_circuit.hpp"

namespace zoneproof::electric {

ZoneCircuit build_zone_circuit(const site::Site& site, const ZoneSituation& asked) {
  SiteSituation situation;
  situation.supply = asked.supply;
  situation.zones = {{asked.zone, asked.state}};
  const auto trigger = site.triggers.find(asked.trigger);
  const bool attached = trigger != site.triggers.end() && asked.unit != UnitCondition::detached;
  const bool unit_known = attached && site.units.count(trigger->second.unit.id) != 0;
  if (unit_known) {
    situation.studied = {trigger->second.unit.id, asked.unit};
    situation.units = {trigger->second.unit.id};
  }
  SiteCircuit circuit = build_site_circuit(site, situation);
  ZoneCircuit zone;
  if (attached && !unit_known) circuit.wiring.missing(trigger->second.unit.pointer, "unknown");
  if (const auto at = circuit.terminals.find(asked.zone); at != circuit.terminals.end()) zone.terminal = at->second;
  if (const auto at = circuit.inputs.find(asked.trigger); at != circuit.inputs.end()) zone.input = at->second;
  zone.wiring = std::move(circuit.wiring);
  return zone;
}

}  // namespace zoneproof::electric
