#include "electric/output.hpp"

#include "electric/element_name.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using circuit::infinite;
using circuit::Node;

namespace {

/// A transistor between `screw` and `rail`. On: drop and resistance in series. Off: a leakage current into the screw.
void add_transistor(const std::string& id, const site::OutputSpec& spec, bool on, bool to_positive, Node screw,
                    Node rail, Wiring& wiring) {
  if (!on) {
    const Tracked leak = spanning(tracked(spec.leakage_A, 0.0), Tracked::fact(0.0));
    wiring.current(part_name(id, "leak"), to_positive ? rail : screw, to_positive ? screw : rail, leak);
    return;
  }
  const Node inner = wiring.network.node(part_name(id, "inner"));
  const Tracked drop = tracked(spec.saturation_V, 0.0);
  wiring.voltage(part_name(id, "drop"), to_positive ? inner : rail, to_positive ? rail : inner, drop);
  wiring.resistor(part_name(id, "on"), inner, screw, tracked(spec.on_ohm, 0.0));
}

void add_relay(const site::Output& output, const std::string& id, const site::OutputSpec& spec, bool on, Node screw,
               Node other, Wiring& wiring) {
  if (!output.relay_contact_used.known()) wiring.missing(output.relay_contact_used.pointer, "unknown");
  const bool closed = output.relay_contact_used.is(site::RestPosition::closed) != on;
  wiring.resistor(part_name(id, "contact"), screw, other, closed ? tracked(spec.on_ohm, 0.0) : Tracked::fact(infinite));
}

}  // namespace

std::optional<Node> build_output(const site::Site& site, const std::string& id, bool on, Node contact_to,
                                 const Backbone& backbone, Wiring& wiring) {
  const site::Output& output = site.outputs.at(id);
  const site::OutputSpec* sheet = site::spec_of(site, output.part, &site::Part::output);
  const auto panel = backbone.poles.find(output.panel.id);
  if (sheet == nullptr || panel == backbone.poles.end()) {
    wiring.missing(panel == backbone.poles.end() ? output.panel.pointer : output.part.pointer, "unknown");
    return std::nullopt;
  }
  const site::OutputSpec& spec = *sheet;
  const Poles poles = panel->second;
  if (const std::optional<Node> built = wiring.network.find_node(part_name(id, "out")))
    return built;  // several units on one output
  const Node screw = wiring.network.node(part_name(id, "out"));
  if (!spec.kind.known()) {
    wiring.missing(spec.kind.pointer, "unknown");
    return std::nullopt;
  }
  if (spec.kind.is(site::OutputKind::relay)) {
    add_relay(output, id, spec, on, screw, contact_to, wiring);
    return screw;
  }
  const bool positive = spec.kind.is(site::OutputKind::switched_positive);
  add_transistor(id, spec, on, positive, screw, positive ? poles.plus : poles.minus, wiring);
  if (!spec.clamp_forward_V.none()) {
    wiring.diode(part_name(id, "clamp"), screw, poles.plus, tracked(spec.clamp_forward_V, 0.0),
                 Tracked::fact(output_clamp_ohm));
  }
  return screw;
}

std::optional<bool> output_on(const site::Output& output, bool armed) {
  if (output.active_when.is(site::ActiveWhen::armed)) return armed;
  if (output.active_when.is(site::ActiveWhen::disarmed)) return !armed;
  return std::nullopt;
}

}  // namespace zoneproof::electric
