// The trigger wire and the unit's input behind it. An input is more than its impedance: pull-up, clamps to the inner
// rail and from the negative, and the inner rail itself, through which an unpowered unit joins all its zones.
#include "electric/tap.hpp"

#include <algorithm>

#include "electric/element_name.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using circuit::infinite;

namespace {

using circuit::Node;

/// A conducting clamp of no resistance at all has no solution; less than this is in no unit.
constexpr double least_clamp_ohm = 1e-3;

void add_clamps(const std::string& id, const site::UnitInputSpec& spec, Node input, Node rail, Node minus,
                Wiring& wiring) {
  if (spec.clamp_forward_V.none()) return;
  const Tracked forward = tracked(spec.clamp_forward_V, 0.0);
  Tracked slope = tracked(spec.clamp_on_ohm, 0.0);
  if (spec.clamp_on_ohm.none()) {  // "none" says that there are no clamps, which the forward voltage does not
    const site::Value& open = spec.clamp_forward_V.known() ? spec.clamp_on_ohm : spec.clamp_forward_V;
    wiring.missing(open.pointer, "unknown");
  }
  for (double* end : {&slope.range.low, &slope.range.nominal, &slope.range.high})
    *end = std::max(*end, least_clamp_ohm);
  wiring.diode(part_name(id, "clamp_high"), input, rail, forward, slope);
  wiring.diode(part_name(id, "clamp_low"), minus, input, forward, slope);
}

/// A resistor that stands where the unit does.
void add_fitted(const site::Site& site, const std::string& unit, const std::string& name, Node a, Node b,
                const site::Value& ohm, Wiring& wiring) {
  if (ohm.none()) return;
  wiring.resistor(name, a, b, component_ohm(site, ohm, infinite, temperatures_of(site, {site.units.at(unit).area})));
}

/// The wire from `from` to the input: resistor put in, one core of the cable.
void add_wire(const site::Site& site, const std::string& id, const site::Trigger& trigger, Node from, Node input,
              TapWire wire, Wiring& wiring) {
  Node at = from;
  if (!trigger.series_ohm.none()) {
    const Node after = wiring.network.node(part_name(id, "series"));
    add_fitted(site, trigger.unit.id, part_name(id, "series"), at, after, trigger.series_ohm, wiring);
    at = after;
  }
  Tracked core = wiring.core_ohm(site, trigger.cable);
  if (wire == TapWire::up_to_its_own) core.range.low = 0.0;
  wiring.resistor(part_name(id, "wire"), at, input, core);
}

/// What the unit has behind one of its screws, once however many wires are on it.
void add_input(const site::Site& site, const std::string& unit, const std::string& id, const site::UnitInputSpec& spec,
               Node input, Node rail, Node minus, Wiring& wiring) {
  if (!spec.impedance_ohm.none()) {
    wiring.resistor(part_name(id, "impedance"), input, minus, tracked(spec.impedance_ohm, infinite));
  }
  add_fitted(site, unit, part_name(id, "inner_pullup"), rail, input, spec.pullup_ohm, wiring);
  add_clamps(id, spec, input, rail, minus, wiring);
}

}  // namespace

void build_inner_rail(const site::Site& site, const std::string& unit, UnitCondition condition,
                      const Backbone& backbone, Wiring& wiring) {
  const site::UnitSpec* spec = site::unit_spec(site, unit);
  if (spec == nullptr) return;
  const Poles poles = backbone.poles.at(unit);
  const Node rail = wiring.network.node(part_name(unit, "rail"));
  const Tracked volts = tracked(spec->input.inner_rail_V, 0.0);
  if (condition == UnitCondition::unpowered || condition == UnitCondition::negative_broken) {
    wiring.resistor(part_name(unit, "rail_load"), rail, poles.minus,
                    tracked(spec->input.inner_rail_load_ohm, infinite));
  } else if (condition == UnitCondition::booting) {
    wiring.voltage(part_name(unit, "rail"), poles.minus, rail, spanning(volts, Tracked::fact(0.0)));
  } else {
    wiring.voltage(part_name(unit, "rail"), poles.minus, rail, volts);
  }
}

std::optional<UnitInput> build_tap(const site::Site& site, const std::string& id, Node from, const Backbone& backbone,
                                   Wiring& wiring, TapWire wire) {
  const site::Trigger& trigger = site.triggers.at(id);
  const site::UnitSpec* spec = site::unit_spec(site, trigger.unit.id);
  if (spec == nullptr) {
    wiring.missing(trigger.unit.known() ? site.units.at(trigger.unit.id).part.pointer : trigger.unit.pointer,
                   "unknown");
    return std::nullopt;
  }
  const Poles unit = backbone.poles.at(trigger.unit.id);
  const std::string screw = site::first_on_input(site, id);
  const bool built = wiring.network.find_node(part_name(screw, "in")).has_value();
  const Node input = wiring.network.node(part_name(screw, "in"));
  const Node rail = wiring.network.node(part_name(trigger.unit.id, "rail"));
  add_wire(site, id, trigger, from, input, wire, wiring);
  add_fitted(site, trigger.unit.id, part_name(id, "pulldown"), input, unit.minus, trigger.pulldown_ohm, wiring);
  add_fitted(site, trigger.unit.id, part_name(id, "pullup"), unit.plus, input, trigger.pullup_ohm, wiring);
  if (!built) add_input(site, trigger.unit.id, screw, spec->input, input, rail, unit.minus, wiring);
  return UnitInput{input, unit.minus, spec};
}

std::optional<Node> build_contact_return(const site::Site& site, const std::string& id, const Backbone& backbone,
                                         Wiring& wiring) {
  const site::Trigger& trigger = site.triggers.at(id);
  const auto unit = backbone.poles.find(trigger.unit.id);
  if (unit == backbone.poles.end() || !trigger.contact_to.known()) {
    wiring.missing(trigger.contact_to.known() ? trigger.unit.pointer : trigger.contact_to.pointer, "unknown");
    return std::nullopt;
  }
  const Node back = wiring.network.node(part_name(id, "contact_back"));
  const Node other = trigger.contact_to.is(site::Level::high) ? unit->second.plus : unit->second.minus;
  wiring.resistor(part_name(id, "contact_return"), back, other, wiring.core_ohm(site, trigger.cable));
  return back;
}

std::optional<Node> build_contact_source(const site::Site& site, const std::string& id, bool in_alarm,
                                         const Backbone& backbone, Wiring& wiring) {
  const site::Trigger& trigger = site.triggers.at(id);
  const site::ContactSpec* spec = site::contact_spec(site, trigger.detector, trigger.contact);
  if (spec == nullptr) {
    const bool named = trigger.detector.known() && trigger.contact.empty();
    wiring.missing(named ? "/triggers/" + id + "/contact" : trigger.detector.pointer, "unknown");
    if (!trigger.contact_to.known()) wiring.missing(trigger.contact_to.pointer, "unknown");
    return std::nullopt;
  }
  const std::optional<Node> back = build_contact_return(site, id, backbone, wiring);
  if (!back) return std::nullopt;
  if (!spec->at_rest.known()) wiring.missing(spec->at_rest.pointer, "unknown");
  const bool closed = spec->at_rest.is(site::RestPosition::closed) != in_alarm;
  const Node start = wiring.network.node(part_name(id, "contact"));
  wiring.resistor(part_name(id, "contact"), start, *back,
                  closed ? tracked(spec->closed_ohm, 0.0) : tracked(spec->open_ohm, infinite));
  return start;
}

circuit::Quantity unit_reading(const UnitInput& input) { return circuit::Quantity::voltage(input.point, input.minus); }

}  // namespace zoneproof::electric
