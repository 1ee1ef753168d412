#include "carriage/poe_link.hpp"

#include <cmath>
#include <utility>

#include "carriage/finding.hpp"
#include "chain/limit.hpp"
#include "site/relations.hpp"

namespace zoneproof::carriage {

using electric::Basis;
using electric::Tracked;

namespace {

PowerGiver giver_of(const site::Site& site, const std::string& camera, const site::DataLink& link) {
  PowerGiver giver;
  for (const site::Ref* end : {&link.a, &link.b}) {
    if (end->known() && end->id != camera) giver.id = end->id;
    if (!end->known()) giver.missing = end->pointer;
  }
  const auto with_power = site.switches.find(giver.id);
  const auto injector = site.injectors.find(giver.id);
  if (with_power != site.switches.end()) {
    giver.part = with_power->second.part.id;
    giver.missing = with_power->second.part.pointer;
    if (const auto* spec = site::spec_of(site, with_power->second.part, &site::Part::network_switch)) {
      giver.serves = &spec->poe_class;
      giver.port_V = &spec->poe_min_V;
      giver.poe_ports = &spec->poe_ports;
    }
  } else if (injector != site.injectors.end()) {
    giver.part = injector->second.part.id;
    giver.missing = injector->second.part.pointer;
    if (const auto* spec = site::spec_of(site, injector->second.part, &site::Part::injector)) {
      giver.serves = &spec->poe_class;
      giver.port_V = &spec->poe_min_V;
    }
  }
  return giver;
}

PoweredCamera powered_camera(const site::Site& site, const std::string& id, const site::Camera& camera,
                             const std::pair<const std::string, site::DataLink>& link) {
  return {id,
          link.first,
          giver_of(site, id, link.second),
          site::spec_of(site, camera.part, &site::Part::camera),
          camera.part.id,
          camera.part.pointer};
}

Tracked core_of(const site::Site& site, const site::DataLink& link) {
  if (link.cable.none()) return Tracked::fact(0.0);
  if (site.cables.count(link.cable.id) == 0) return anything(link.cable.pointer);
  return electric::core_ohm(site, link.cable.id);
}

Tracked with_unknown(Tracked value, const std::string& pointer, const char* lacks = nullptr) {
  value.range = {value.range.nominal, 0.0, circuit::infinite};
  value.bases.push_back(anything(pointer, lacks).bases.front());
  return value;
}

/// There and back over the pairs of a class.
Tracked loop_of(const site::Site& site, const PoweredCamera& camera) {
  const Tracked core = core_of(site, site.data_links.at(camera.link));
  if (core.range.high == 0.0) return core;  // a cord
  if (camera.spec == nullptr) return with_unknown(core, camera.part_pointer);
  const site::Count& asked = camera.spec->poe_class;
  if (!asked.known()) return with_unknown(core, asked.pointer);
  const chain::Limit pairs = chain::limit_at(site, "poe_pairs", static_cast<double>(*asked.value));
  if (!pairs.value || *pairs.value <= 0.0) return with_unknown(core, pairs.pointer, "no_rule");
  return scaled(core, 2.0 / *pairs.value);
}

std::vector<Basis> all_bases(const PoeCircuit& circuit) {
  return (circuit.source_V + circuit.loop_ohm + circuit.power_W).bases;
}

/// Power that the port gives where the load takes `power_W`; nothing where there is no solution.
std::optional<double> given(double source_V, double loop_ohm, double power_W) {
  if (power_W == 0.0 || loop_ohm == 0.0) return power_W;
  const std::optional<double> volts = voltage_at_load(source_V, loop_ohm, power_W);
  if (!volts) return std::nullopt;
  const double ampere = power_W / *volts;
  return power_W + ampere * ampere * loop_ohm;
}

}  // namespace

std::optional<double> voltage_at_load(double source_V, double loop_ohm, double power_W) {
  if (power_W == 0.0 || loop_ohm == 0.0) return source_V;
  const double discriminant = source_V * source_V - 4.0 * power_W * loop_ohm;
  if (!(discriminant >= 0.0)) return std::nullopt;
  return 0.5 * (source_V + std::sqrt(discriminant));
}

std::vector<PoweredCamera> powered_over_data(const site::Site& site) {
  std::vector<PoweredCamera> all;
  for (const auto& [id, camera] : site.cameras) {
    const auto link = site.data_links.find(camera.powered_by.id);
    if (link != site.data_links.end()) all.push_back(powered_camera(site, id, camera, *link));
  }
  return all;
}

std::vector<PoweredCamera> powered_by_giver(const site::Site& site, const std::string& giver) {
  std::vector<PoweredCamera> own;
  for (const auto& [id, camera] : site.cameras) {
    const auto link = site.data_links.find(camera.powered_by.id);
    if (link == site.data_links.end() || (link->second.a.id != giver && link->second.b.id != giver)) continue;
    PoweredCamera powered = powered_camera(site, id, camera, *link);
    if (powered.giver.id == giver) own.push_back(std::move(powered));
  }
  return own;
}

PoeCircuit poe_circuit(const site::Site& site, const PoweredCamera& camera) {
  PoeCircuit circuit;
  circuit.source_V =
      camera.giver.port_V != nullptr ? electric::tracked(*camera.giver.port_V, 0.0) : anything(camera.giver.missing);
  circuit.loop_ohm = loop_of(site, camera);
  circuit.power_W =
      camera.spec != nullptr ? electric::tracked(camera.spec->power_W, 0.0) : anything(camera.part_pointer);
  return circuit;
}

Tracked voltage_at_camera(const PoeCircuit& circuit) {
  const circuit::Range &volts = circuit.source_V.range, &ohm = circuit.loop_ohm.range, &watt = circuit.power_W.range;
  return {{voltage_at_load(volts.nominal, ohm.nominal, watt.nominal).value_or(0.0),
           voltage_at_load(volts.low, ohm.high, watt.high).value_or(0.0),
           voltage_at_load(volts.high, ohm.low, watt.low).value_or(0.0)},
          all_bases(circuit)};
}

Tracked power_at_port(const site::Site& site, const PoweredCamera& camera) {
  const PoeCircuit circuit = poe_circuit(site, camera);
  const circuit::Range &volts = circuit.source_V.range, &ohm = circuit.loop_ohm.range, &watt = circuit.power_W.range;
  double most = circuit::infinite;
  if (camera.spec != nullptr && camera.spec->poe_class.known())
    most = chain::limit_at(site, "poe_port_W", static_cast<double>(*camera.spec->poe_class.value))
               .value.value_or(circuit::infinite);
  return {{given(volts.nominal, ohm.nominal, watt.nominal).value_or(most),
           given(volts.high, ohm.low, watt.low).value_or(most), given(volts.low, ohm.high, watt.high).value_or(most)},
          all_bases(circuit)};
}

}  // namespace zoneproof::carriage
