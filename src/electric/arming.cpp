#include "electric/arming.hpp"

#include "electric/element_name.hpp"
#include "electric/output.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using circuit::infinite;
using circuit::Node;

namespace {

void add_input(const site::Site& site, const std::string& id, const site::ArmingInputSpec& spec, Node input, Poles unit,
               Wiring& wiring) {
  const site::Arming& arming = site.units.at(id).arming;
  const Temperatures air = temperatures_of(site, {site.units.at(id).area});
  if (!spec.impedance_ohm.none()) {
    wiring.resistor(part_name(id, "arm_impedance"), input, unit.minus, tracked(spec.impedance_ohm, infinite));
  }
  if (!spec.pullup_ohm.none()) {
    wiring.resistor(part_name(id, "arm_inner_pullup"), wiring.network.node(part_name(id, "rail")), input,
                    component_ohm(site, spec.pullup_ohm, infinite, air));
  }
  if (!arming.pullup_ohm.none()) {
    if (!arming.pullup_to.known()) wiring.missing(arming.pullup_to.pointer, "unknown");
    const Node to = arming.pullup_to.is(site::Level::high) ? unit.plus : unit.minus;
    wiring.resistor(part_name(id, "arm_pullup"), to, input, component_ohm(site, arming.pullup_ohm, infinite, air));
  }
}

enum class Drive { off, on, none };

Drive drive_of(const site::Output& output, bool armed, Wiring& wiring) {
  const std::optional<bool> on = output_on(output, armed);
  if (!on) wiring.missing(output.active_when.pointer, "unknown");
  return on.value_or(false) ? Drive::on : Drive::off;
}

/// The arming circuit of a unit with its output driven like that; none: behind a cut wire the output moves nothing, and
/// its leakage would have nowhere to go.
std::optional<Node> connect(const site::Site& site, const std::string& unit, Drive drive, const Backbone& backbone,
                            Wiring& wiring) {
  const site::Arming& arming = site.units.at(unit).arming;
  const site::UnitSpec* spec = site::unit_spec(site, unit);
  const auto output = site.outputs.find(arming.output.id);
  if (spec == nullptr || output == site.outputs.end()) {
    wiring.missing(spec == nullptr ? site.units.at(unit).part.pointer : arming.output.pointer, "unknown");
    return std::nullopt;
  }
  const Node input = wiring.network.node(part_name(unit, "arm"));
  if (drive != Drive::none) {
    const auto panel = backbone.poles.find(output->second.panel.id);
    const Poles poles = panel == backbone.poles.end() ? Poles{} : panel->second;
    // A relay contact switches to the side away from the pull-up; without a pull-up it switches the negative.
    const Node contact_to = arming.pullup_to.is(site::Level::low) ? poles.plus : poles.minus;
    const std::optional<Node> screw =
        build_output(site, arming.output.id, drive == Drive::on, contact_to, backbone, wiring);
    if (screw) wiring.resistor(part_name(unit, "arm_wire"), *screw, input, wiring.core_ohm(site, arming.cable));
  }
  add_input(site, unit, spec->arming, input, backbone.poles.at(unit), wiring);
  return input;
}

}  // namespace

std::optional<Node> build_arming(const site::Site& site, const std::string& unit, bool armed, bool wire_broken,
                                 const Backbone& backbone, Wiring& wiring) {
  const auto output = site.outputs.find(site.units.at(unit).arming.output.id);
  const bool driven = !wire_broken && output != site.outputs.end();
  const Drive drive = driven ? drive_of(output->second, armed, wiring) : Drive::none;
  return connect(site, unit, drive, backbone, wiring);
}

std::optional<Node> build_arming_of_dead_panel(const site::Site& site, const std::string& unit,
                                               const Backbone& backbone, Wiring& wiring) {
  return connect(site, unit, Drive::off, backbone, wiring);
}

}  // namespace zoneproof::electric
