#include "electric/fault_list.hpp"

#include <algorithm>
#include <cmath>

#include "chain/limit.hpp"
#include "electric/element_name.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using circuit::infinite;

namespace {

class FaultList {
 public:
  FaultList(const site::Site& site, const SiteCircuit& circuit)
      : site_(site), network_(circuit.wiring.network), backbone_(circuit.backbone) {}

  std::vector<SingleFault> run() {
    for (const auto& [id, zone] : site_.zones) {
      if (site::loop_owner(site_, id) == id) pair(id, zone.loop);
    }
    for (const auto& [id, trigger] : site_.triggers) {
      if (site::has_wire(trigger)) trigger_wire(id, trigger);
    }
    for (const auto& [id, unit] : site_.units) arming_wire(id);
    for (const auto& [id, bond] : site_.bonds) {
      wire(part_name(id, "bond"), "", "/bonds/" + id, text(say::place_bond(thing_words(site_, id))));
    }
    feeds();
    supplies();
    neighbours();
    return std::move(all_);
  }

 private:
  // --- pairs ----------------------------------------------------------------------------------------------------
  void pair(const std::string& zone, const site::Loop& loop) {
    const std::string at = "/zones/" + zone + "/loop", called = zone_words(site_, zone);
    const std::string& cable = loop.cable.known() ? "/cables/" + loop.cable.id : at + "/cable";
    wire(part_name(zone, "go"), zone, cable, text(say::place_go(called)));
    wire(part_name(zone, "return"), zone, cable, text(say::place_return(called)));
    if (has_node(zone, "far") && has_node(zone, "back")) {
      bridge(FaultKind::shorted, part_name(zone, "far"), part_name(zone, "back"), zone, cable,
             say::fault_pair_shorted(called));
    }
    for (const auto& [id, contact] : loop.contacts) {
      const std::string name = part_name(zone, "contact", id), pointer = at + "/contacts/" + id;
      const std::string words =
          text(say::place_contact(contact.contact, thing_words(site_, contact.detector.id), called));
      set(FaultKind::stuck_closed, name, 0.0, zone, pointer, say::fault_stuck_closed(words));
      set(FaultKind::stuck_open, name, infinite, zone, pointer, say::fault_stuck_open(words));
      resistor(part_name(name, "shunt"), zone, pointer + "/shunt_ohm", text(say::place_shunt(words)));
    }
    resistor(part_name(zone, "eol"), zone, at + "/eol_ohm", text(say::place_eol(called)));
    for (const char* group : {"alarm", "mask", "first", "second"}) {
      const bool second = std::string(group) == "second", mask = std::string(group) == "mask";
      const std::string field = mask ? "/mask_ohm" : second ? "/second_alarm_ohm" : "/alarm_ohm";
      resistor(part_name(part_name(zone, group), "shunt"), zone, at + field, text(say::place_alarm_resistor(called)));
    }
    screw(part_name(zone, "t"), zone, "/zones/" + zone + "/input", text(say::place_terminal(called)));
    screw(part_name(zone, "far"), zone, cable, text(say::place_far_end(called)));
  }

  // --- trigger and arming wires -----------------------------------------------------------------------------------
  void trigger_wire(const std::string& id, const site::Trigger& trigger) {
    const std::string at = "/triggers/" + id, called = zone_words(site_, trigger.zone.id);
    const std::string cable = trigger.cable.known() ? "/cables/" + trigger.cable.id : at + "/cable";
    wire(part_name(id, "wire"), trigger.zone.id, cable, text(say::place_trigger_wire(called)));
    wire(part_name(id, "contact_return"), trigger.zone.id, cable, text(say::place_trigger_return(called)));
    set(FaultKind::stuck_closed, part_name(id, "contact"), 0.0, trigger.zone.id, at + "/contact",
        say::fault_stuck_closed(text(say::place_trigger_contact(called))));
    set(FaultKind::stuck_open, part_name(id, "contact"), infinite, trigger.zone.id, at + "/contact",
        say::fault_stuck_open(text(say::place_trigger_contact(called))));
    for (const char* fitted : {"series", "pullup", "pulldown"}) {
      resistor(part_name(id, fitted), trigger.zone.id, at + "/" + fitted + "_ohm",
               text(say::place_trigger_resistor(called)));
    }
    if (site::first_on_input(site_, id) == id)
      screw(part_name(id, "in"), trigger.zone.id, at + "/input", text(say::place_unit_input(called)));
  }

  void arming_wire(const std::string& unit) {
    const std::string at = "/units/" + unit + "/arming", called = thing_words(site_, unit);
    wire(part_name(unit, "arm_wire"), "", at + "/cable", text(say::place_arming_wire(called)));
    resistor(part_name(unit, "arm_pullup"), "", at + "/pullup_ohm", text(say::place_arming_resistor(called)));
    screw(part_name(unit, "arm"), "", at, text(say::place_arming_input(called)));
  }

  // --- feeds and supplies -----------------------------------------------------------------------------------------
  void feeds() {
    for (const auto& element : network_.elements()) {
      const std::size_t dot = element.name.find(".feed_");
      if (dot == std::string::npos) continue;
      const std::string thing = element.name.substr(0, dot);
      const bool plus = element.name.compare(dot, std::string::npos, ".feed_plus") == 0;
      const std::string called = thing_words(site_, thing);
      wire(element.name, "", pointer_of(thing) + "/feed/cable",
           text(plus ? say::place_feed_plus(called) : say::place_feed_minus(called)));
    }
  }

  void supplies() {
    for (const auto& [id, supply] : site_.supplies) {
      const std::string called = thing_words(site_, id), at = "/supplies/" + id;
      if (const site::SupplySpec* spec = site::spec_of(site_, supply.part, &site::Part::supply)) {
        for (const auto& [output, data] : spec->outputs) {
          set(FaultKind::open, part_name(part_name(id, "out", output), "series"), infinite, "", at,
              say::fault_output_open(output, called));
        }
      }
      SingleFault dead = made(FaultKind::dead, id + "/dead", "", at, say::fault_supply_dead(called));
      dead.dead_supply = id;
      all_.push_back(std::move(dead));
    }
  }

  std::string pointer_of(const std::string& id) const {
    const auto in = [&](const auto& collection) { return collection.count(id) != 0; };
    if (in(site_.panels)) return "/panels/" + id;
    if (in(site_.units)) return "/units/" + id;
    if (in(site_.detectors)) return "/detectors/" + id;
    if (in(site_.junctions)) return "/junctions/" + id;
    return "/loads/" + id;
  }

  // --- neighbours -------------------------------------------------------------------------------------------------
  /// Screws next to each other on a panel or unit, and cores of one cable.
  void neighbours() {
    for (auto one = site_.zones.begin(); one != site_.zones.end(); ++one) {
      for (auto two = std::next(one); two != site_.zones.end(); ++two) {
        const site::Zone &a = one->second, &b = two->second;
        const bool near = a.panel.id == b.panel.id && next_to(a.input, b.input);
        const bool one_cable = a.loop.cable.known() && a.loop.cable.id == b.loop.cable.id;
        if (near || one_cable)
          touch(part_name(one->first, "t"), part_name(two->first, "t"), one->first, "/zones/" + one->first + "/input",
                say::fault_touching(text(say::place_terminal(zone_words(site_, one->first))),
                                    text(say::place_terminal(zone_words(site_, two->first)))));
      }
    }
    for (auto one = site_.triggers.begin(); one != site_.triggers.end(); ++one) {
      for (auto two = std::next(one); two != site_.triggers.end(); ++two) {
        const site::Trigger &a = one->second, &b = two->second;
        const bool near = a.unit.id == b.unit.id && next_to(a.input, b.input);
        const bool one_cable = a.cable.known() && a.cable.id == b.cable.id;
        if (near || one_cable)
          touch(part_name(one->first, "in"), part_name(two->first, "in"), a.zone.id, "/triggers/" + one->first,
                say::fault_touching(text(say::place_unit_input(zone_words(site_, a.zone.id))),
                                    text(say::place_unit_input(zone_words(site_, b.zone.id)))));
      }
    }
  }

  static bool next_to(const site::Count& a, const site::Count& b) {
    return a.known() && b.known() && std::abs(*a.value - *b.value) == 1;
  }

  // --- one fault --------------------------------------------------------------------------------------------------
  bool has_node(const std::string& of, const char* what) const {
    return network_.find_node(part_name(of, what)).has_value();
  }

  /// A core with its joints: broken, or with a bad joint.
  void wire(const std::string& element, const std::string& zone, const std::string& pointer, const std::string& words) {
    set(FaultKind::open, element, infinite, zone, pointer, say::fault_wire_open(words));
    const chain::Limit joint = chain::limit_of(site_, "fault_joint_ohm");
    if (joint.value) {
      set(FaultKind::drifted, element, *joint.value, zone, pointer,
          say::fault_bad_joint(words, Measure{*joint.value, "ohm"}));
    }
  }

  void resistor(const std::string& element, const std::string& zone, const std::string& pointer,
                const std::string& words) {
    const auto index = network_.find_element(element);
    if (!index) return;
    set(FaultKind::open, element, infinite, zone, pointer, say::fault_resistor_open(words));
    set(FaultKind::shorted, element, 0.0, zone, pointer, say::fault_resistor_shorted(words));
    const chain::Limit drift = chain::limit_of(site_, "fault_resistor_drift_pct");
    if (!drift.value) return;
    const double nominal = network_.element(*index).value.nominal;
    const double high = nominal * (1.0 + *drift.value / 100.0);
    set(FaultKind::drifted, element, high, zone, pointer, say::fault_resistor_drifted(words, Measure{high, "ohm"}));
  }

  void screw(const std::string& node, const std::string& zone, const std::string& pointer, const std::string& words) {
    const Poles panel = panel_poles(zone);
    if (!network_.find_node(node) || panel.plus == panel.minus) return;
    bridge(FaultKind::to_negative, node, network_.node_name(panel.minus), zone, pointer, say::fault_to_negative(words));
    bridge(FaultKind::to_positive, node, network_.node_name(panel.plus), zone, pointer, say::fault_to_positive(words));
  }

  /// Poles of the zone's panel, or of the first panel for what is the site's.
  Poles panel_poles(const std::string& zone) const {
    std::string panel = site_.panels.empty() ? "" : site_.panels.begin()->first;
    if (const auto own = site_.zones.find(zone); own != site_.zones.end()) panel = own->second.panel.id;
    const auto found = backbone_.poles.find(panel);
    return found == backbone_.poles.end() ? Poles{} : found->second;
  }

  void touch(const std::string& a, const std::string& b, const std::string& zone, const std::string& pointer,
             Message says) {
    if (network_.find_node(a) && network_.find_node(b))
      bridge(FaultKind::touching, a, b, zone, pointer, std::move(says));
  }

  void bridge(FaultKind kind, const std::string& a, const std::string& b, const std::string& zone,
              const std::string& pointer, Message says) {
    if (a == b) return;
    SingleFault fault = made(kind, a + "/" + word(kind), zone, pointer, std::move(says));
    if (kind == FaultKind::touching) fault.id += "/" + b;
    fault.a = a;
    fault.b = b;
    all_.push_back(std::move(fault));
  }

  void set(FaultKind kind, const std::string& element, double ohm, const std::string& zone, const std::string& pointer,
           Message says) {
    if (!network_.find_element(element)) return;
    SingleFault fault = made(kind, element + "/" + word(kind), zone, pointer, std::move(says));
    fault.element = element;
    fault.ohm = ohm;
    all_.push_back(std::move(fault));
  }

  static SingleFault made(FaultKind kind, std::string id, const std::string& zone, const std::string& pointer,
                          Message says) {
    SingleFault fault;
    fault.id = std::move(id);
    fault.kind = kind;
    fault.zone = zone;
    fault.pointer = pointer;
    fault.says = std::move(says);
    return fault;
  }

  const site::Site& site_;
  const circuit::Network& network_;
  const Backbone& backbone_;
  std::vector<SingleFault> all_;
};

/// What is cut off draws nothing: a current source with an end that nothing else leads to is taken off. (A constant
/// power finds that by itself.)
void take_off(const circuit::Network& network, circuit::ElementIndex cut, std::vector<circuit::Change>& changes) {
  std::vector<bool> reached(static_cast<std::size_t>(network.node_count()), false);
  reached[0] = true;
  const auto leads = [&](std::size_t e) {
    const circuit::Element& element = network.elements()[e];
    const bool open = element.kind == circuit::Kind::resistor && element.value.nominal == infinite;
    return static_cast<circuit::ElementIndex>(e) != cut && element.kind != circuit::Kind::current && !open &&
           element.kind != circuit::Kind::constant_power;
  };
  for (bool again = true; again;) {
    again = false;
    for (std::size_t e = 0; e < network.elements().size(); ++e) {
      if (!leads(e)) continue;
      const auto a = static_cast<std::size_t>(network.elements()[e].from);
      const auto b = static_cast<std::size_t>(network.elements()[e].to);
      if (reached[a] == reached[b]) continue;
      reached[a] = reached[b] = again = true;
    }
  }
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    const circuit::Element& element = network.elements()[e];
    const bool fed = reached[static_cast<std::size_t>(element.from)] && reached[static_cast<std::size_t>(element.to)];
    if (element.kind == circuit::Kind::current && !fed)
      changes.push_back(circuit::Change::of(static_cast<circuit::ElementIndex>(e), 0.0));
  }
}

}  // namespace

const char* word(FaultKind kind) {
  switch (kind) {
    case FaultKind::open: return "open";
    case FaultKind::shorted: return "shorted";
    case FaultKind::drifted: return "drifted";
    case FaultKind::stuck_closed: return "stuck_closed";
    case FaultKind::stuck_open: return "stuck_open";
    case FaultKind::touching: return "touching";
    case FaultKind::to_negative: return "to_negative";
    case FaultKind::to_positive: return "to_positive";
    case FaultKind::dead: return "dead";
  }
  return "";
}

std::vector<SingleFault> single_faults(const site::Site& site, const SiteCircuit& circuit) {
  return FaultList(site, circuit).run();
}

std::vector<circuit::Change> changes_of(const SingleFault& fault, const circuit::Network& network) {
  if (!fault.element.empty()) {
    const auto element = network.find_element(fault.element);
    if (!element || network.element(*element).kind != circuit::Kind::resistor) return {};
    std::vector<circuit::Change> changes = {circuit::Change::of(*element, fault.ohm)};
    if (fault.ohm == infinite) take_off(network, *element, changes);
    return changes;
  }
  const auto a = network.find_node(fault.a), b = network.find_node(fault.b);
  if (fault.a.empty() || !a || !b || *a == *b) return {};
  return {circuit::Change::bridge(*a, *b, fault.ohm)};
}

}  // namespace zoneproof::electric
