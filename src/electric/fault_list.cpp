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

/// Depth first from the reference: what is behind an element and reaches back over no other hangs on it alone.
class Hanging::Search {
 public:
  explicit Search(Hanging& into) : into_(into), ways_(into.reached_.size()), earliest_(into.reached_.size(), 0) {
    const auto& elements = into.network_.elements();
    for (std::size_t e = 0; e < elements.size(); ++e) {
      if (!leads(elements[e])) continue;
      ways_[at(elements[e].from)].push_back({at(elements[e].to), e});
      ways_[at(elements[e].to)].push_back({at(elements[e].from), e});
    }
  }

  void run() {
    enter(at(circuit::reference), kNone);
    while (!way_.empty()) {
      Step& here = way_.back();
      if (here.next < ways_[here.node].size()) {
        follow(ways_[here.node][here.next++]);
      } else {
        leave();
      }
    }
  }

 private:
  struct Way {
    std::size_t node, element;
  };
  struct Step {
    std::size_t node, by, next;
  };
  static constexpr std::size_t kNone = static_cast<std::size_t>(-1);

  static std::size_t at(circuit::Node node) { return static_cast<std::size_t>(node); }
  /// A current source leads nowhere; a constant power finds by itself that it is cut off.
  static bool leads(const circuit::Element& element) {
    const bool open = element.kind == circuit::Kind::resistor && element.value.nominal == infinite;
    return element.kind != circuit::Kind::current && element.kind != circuit::Kind::constant_power && !open;
  }

  void enter(std::size_t node, std::size_t by) {
    into_.reached_[node] = earliest_[node] = ++clock_;
    way_.push_back({node, by, 0});
  }

  void follow(const Way& way) {
    const Step here = way_.back();
    if (way.element == here.by) return;
    if (into_.reached_[way.node] == 0) {
      enter(way.node, way.element);
    } else {
      earliest_[here.node] = std::min(earliest_[here.node], into_.reached_[way.node]);
    }
  }

  void leave() {
    const Step done = way_.back();
    way_.pop_back();
    if (way_.empty()) return;
    int& before = earliest_[way_.back().node];
    before = std::min(before, earliest_[done.node]);
    if (earliest_[done.node] == into_.reached_[done.node]) into_.behind_[done.by] = {into_.reached_[done.node], clock_};
  }

  Hanging& into_;
  std::vector<std::vector<Way>> ways_;  ///< per node
  std::vector<int> earliest_;           ///< per node: what is behind it reaches back to there
  std::vector<Step> way_;
  int clock_ = 0;
};

Hanging::Hanging(const circuit::Network& network)
    : network_(network),
      reached_(static_cast<std::size_t>(network.node_count()), 0),
      behind_(network.elements().size()) {
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    if (network.elements()[e].kind == circuit::Kind::current) sources_.push_back(static_cast<circuit::ElementIndex>(e));
  }
  Search(*this).run();
}

std::vector<circuit::ElementIndex> Hanging::sources_without(circuit::ElementIndex cut) const {
  const Span& behind = behind_.at(static_cast<std::size_t>(cut));
  const auto lost = [&](circuit::Node node) {
    const int when = reached_[static_cast<std::size_t>(node)];
    return when == 0 || (behind.first <= when && when <= behind.last);
  };
  std::vector<circuit::ElementIndex> without;
  for (const circuit::ElementIndex e : sources_) {
    if (lost(network_.element(e).from) || lost(network_.element(e).to)) without.push_back(e);
  }
  return without;
}

std::vector<circuit::Change> changes_of(const SingleFault& fault, const circuit::Network& network) {
  return changes_of(fault, network, Hanging(network));
}

/// What is cut off draws nothing: a current source with an end that nothing else leads to is taken off.
std::vector<circuit::Change> changes_of(const SingleFault& fault, const circuit::Network& network,
                                        const Hanging& hanging) {
  if (!fault.element.empty()) {
    const auto element = network.find_element(fault.element);
    if (!element || network.element(*element).kind != circuit::Kind::resistor) return {};
    std::vector<circuit::Change> changes = {circuit::Change::of(*element, fault.ohm)};
    if (fault.ohm == infinite) {
      for (const circuit::ElementIndex source : hanging.sources_without(*element))
        changes.push_back(circuit::Change::of(source, 0.0));
    }
    return changes;
  }
  const auto a = network.find_node(fault.a), b = network.find_node(fault.b);
  if (fault.a.empty() || !a || !b || *a == *b) return {};
  return {circuit::Change::bridge(*a, *b, fault.ohm)};
}

}  // namespace zoneproof::electric
