#include "electric/site_circuit.hpp"

#include <algorithm>
#include <tuple>

#include "electric/arming.hpp"
#include "electric/element_name.hpp"
#include "electric/loose.hpp"
#include "electric/output.hpp"
#include "site/output_kind.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Node;
using site::TriggerSource;

class CircuitBuilder {
 public:
  CircuitBuilder(const site::Site& site, const SiteSituation& asked) : site_(site), asked_(asked) {}

  SiteCircuit build(Base base) {
    result_.wiring = std::move(base.wiring);
    result_.backbone = std::move(base.backbone);
    for (const auto& [zone, state] : asked_.zones) add_zone(zone, state);
    for (const std::string& unit : asked_.units) attach(unit);
    join_loose_supplies(result_.backbone, result_.wiring);
    return std::move(result_);
  }

 private:
  void add_zone(const std::string& zone, const ZoneState& state) {
    if (!site_.zones.at(zone).medium.is(site::Medium::wired)) return;
    const std::optional<Terminal> terminal =
        build_loop(site_, zone, state, result_.backbone, result_.wiring, asked_.part);
    if (terminal) result_.terminals[zone] = *terminal;
  }

  void attach(const std::string& unit) {
    const UnitCondition condition = unit == asked_.studied.unit ? asked_.studied.condition : UnitCondition::powered;
    build_inner_rail(site_, unit, condition, result_.backbone, result_.wiring);
    const std::vector<std::string> triggers = site::triggers_of_unit(site_, unit);
    const std::map<std::string, std::string> covered = covered_ones(triggers);
    for (const std::string& id : triggers) {
      if (covered.count(id) == 0) attach_trigger(id, covers_another(covered, id));
    }
    if (asked_.armed) build_arming(site_, unit, *asked_.armed, false, result_.backbone, result_.wiring);
  }

  void attach_trigger(const std::string& id, bool for_others_too) {
    const site::Trigger& trigger = site_.triggers.at(id);
    if (!site::has_wire(trigger)) return;
    const std::optional<Node> from = start_of(id, trigger);
    if (!from) return;
    const TapWire wire = for_others_too ? TapWire::up_to_its_own : TapWire::its_own;
    const std::optional<UnitInput> input = build_tap(site_, id, *from, result_.backbone, result_.wiring, wire);
    if (input) result_.inputs[id] = *input;
  }

  bool in_earnest(const std::string& owner) const {
    return std::any_of(asked_.zones.begin(), asked_.zones.end(),
                       [&](const auto& entry) { return site::loop_owner(site_, entry.first) == owner; });
  }

  /// The zone that a plain loop tap makes a bystander, where its terminal is known; empty: the trigger makes none.
  std::string bystander_of(const site::Trigger& trigger) const {
    if (!trigger.source.is(TriggerSource::loop_tap) || !trigger.series_ohm.none()) return {};
    const std::string zone = site::tapped_zone(site_, trigger);
    return zone.empty() || in_earnest(zone) || terminal_spec(site_, zone) == nullptr ? std::string() : zone;
  }

  /// Two bystanders of one panel and one kind of terminal, joined at an input, are together again some voltage from
  /// nothing to the open circuit, behind some resistance from nothing to that of the source and one wire (Thevenin). So
  /// the first of them stands for all: apart, two sources behind nothing could drive any current into each other, and
  /// no bound would hold. Of `triggers` of one unit, in order: those for which another stands, and which that is.
  std::map<std::string, std::string> covered_ones(const std::vector<std::string>& triggers) const {
    std::map<std::string, std::string> covered;
    std::map<std::tuple<long long, std::string, const site::ZoneTerminalSpec*>, std::string> first_of_kind;
    for (const std::string& id : triggers) {
      const site::Trigger& trigger = site_.triggers.at(id);
      if (!trigger.input.known()) continue;
      const std::string zone = bystander_of(trigger);
      if (zone.empty()) continue;
      const auto [first, fresh] = first_of_kind.emplace(
          std::tuple(*trigger.input.value, site_.zones.at(zone).panel.id, terminal_spec(site_, zone)), id);
      if (!fresh) covered[id] = first->second;
    }
    return covered;
  }

  static bool covers_another(const std::map<std::string, std::string>& covered, const std::string& id) {
    return std::any_of(covered.begin(), covered.end(), [&](const auto& entry) { return entry.second == id; });
  }

  Happening happening_of(const site::Trigger& trigger) const {
    const auto asked = asked_.zones.find(trigger.zone.id);
    return asked == asked_.zones.end() ? Happening::rest : asked->second.happening;
  }

  /// Whether the detector of the trigger is in alarm: its spare contact knows nothing of a cut or shorted pair, nor of
  /// another detector on the same pair. Where the zone has no pair, the alarm is that of its only detector.
  bool detector_in_alarm(const site::Trigger& trigger) const {
    const Happening happening = happening_of(trigger);
    if (happening != Happening::alarm && happening != Happening::both_alarm) return false;
    const std::string& moved = asked_.zones.at(trigger.zone.id).contact;
    const std::string owner = site::loop_owner(site_, trigger.zone.id);
    if (moved.empty() || owner.empty()) return true;
    const auto& contacts = site_.zones.at(owner).loop.contacts;
    const auto contact = contacts.find(moved);
    return contact != contacts.end() && contact->second.detector.id == trigger.detector.id;
  }

  /// Whether an output that follows the trigger's zone is in its other state: in anything but rest of that zone.
  bool zone_disturbed(const site::Trigger& trigger) const {
    const Happening happening = happening_of(trigger);
    return happening != Happening::rest && happening != Happening::second_alarm;
  }

  std::optional<Node> start_of(const std::string& id, const site::Trigger& trigger) {
    switch (*trigger.source.value) {
      case TriggerSource::loop_tap: return tap_start(trigger);
      case TriggerSource::spare_contact:
      case TriggerSource::receiver_relay:
        return build_contact_source(site_, id, detector_in_alarm(trigger), result_.backbone, result_.wiring);
      case TriggerSource::following_output: return output_start(id, trigger);
      default: return std::nullopt;
    }
  }

  std::optional<Node> tap_start(const site::Trigger& trigger) {
    if (!trigger.at_panel.known() || !trigger.at_input.known()) {
      result_.wiring.missing(trigger.at_panel.known() ? trigger.at_input.pointer : trigger.at_panel.pointer, "unknown");
      return std::nullopt;
    }
    const std::string zone = site::tapped_zone(site_, trigger);
    if (zone.empty()) return empty_screw(trigger);
    for (const auto& [id, terminal] : result_.terminals) {
      if (site::loop_owner(site_, id) == zone) return terminal.point;
    }
    return bystander(zone);
  }

  /// Another zone on the same unit, that is not looked at: any of its states.
  std::optional<Node> bystander(const std::string& zone) {
    if (const auto built = bystanders_.find(zone); built != bystanders_.end()) return built->second;
    const std::optional<Terminal> terminal = build_loop_bystander(site_, zone, result_.backbone, result_.wiring);
    if (!terminal) return std::nullopt;
    return bystanders_[zone] = terminal->point;
  }

  /// A screw on which no zone is: the wire hangs in the air.
  Node empty_screw(const site::Trigger& trigger) {
    return result_.wiring.network.node(
        part_name(trigger.at_panel.id, "screw", std::to_string(*trigger.at_input.value)));
  }

  /// A relay output is a dry contact: like a detector's, it needs its way back.
  std::optional<Node> output_start(const std::string& id, const site::Trigger& trigger) {
    const auto output = site_.outputs.find(trigger.output.id);
    if (output == site_.outputs.end()) {
      result_.wiring.missing(trigger.output.pointer, "unknown");
      return std::nullopt;
    }
    if (!output->second.active_when.known()) result_.wiring.missing(output->second.active_when.pointer, "unknown");
    const bool on = output->second.active_when.is(site::ActiveWhen::alarm) == zone_disturbed(trigger);
    Node contact_to = circuit::reference;  // of a transistor: none
    if (site::is_relay(site_, output->second)) {
      const std::optional<Node> back = build_contact_return(site_, id, result_.backbone, result_.wiring);
      if (!back) return std::nullopt;
      contact_to = *back;
    }
    return build_output(site_, trigger.output.id, on, contact_to, result_.backbone, result_.wiring);
  }

  const site::Site& site_;
  const SiteSituation& asked_;
  SiteCircuit result_;
  std::map<std::string, Node> bystanders_;
};

}  // namespace

Base build_base(const site::Site& site, SupplyCondition supply, const UnitUnderStudy& studied) {
  Base base;
  base.backbone = build_backbone(site, supply, studied, base.wiring);
  return base;
}

SiteCircuit build_site_circuit(const site::Site& site, const SiteSituation& situation, Base base) {
  return CircuitBuilder(site, situation).build(std::move(base));
}

SiteCircuit build_site_circuit(const site::Site& site, const SiteSituation& situation) {
  return build_site_circuit(site, situation, build_base(site, situation.supply, situation.studied));
}

SiteSituation whole_site(const site::Site& site, SupplyCondition supply, std::map<std::string, ZoneState> states,
                         bool armed) {
  SiteSituation situation;
  situation.supply = supply;
  situation.armed = armed;
  situation.zones = std::move(states);
  for (const auto& [id, zone] : site.zones) {
    if (site::loop_owner(site, id) == id) situation.zones.emplace(id, ZoneState{});
  }
  for (const auto& [id, unit] : site.units) situation.units.push_back(id);
  return situation;
}

}  // namespace zoneproof::electric
