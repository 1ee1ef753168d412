#include "electric/zone_circuit.hpp"

#include "electric/output.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Node;
using site::TriggerSource;

/// Whether a trigger's wire hangs on the pair of `zone` (by where it is really wired, not by what it is meant for).
bool hangs_on(const site::Site& site, const site::Trigger& trigger, const std::string& zone) {
  return trigger.source.is(TriggerSource::loop_tap) && site::tapped_zone(site, trigger) == site::loop_owner(site, zone);
}

bool has_wire(const site::Trigger& trigger) {
  return trigger.source.known() && !trigger.source.is(TriggerSource::camera_analytics) &&
         !trigger.source.is(TriggerSource::live_view);
}

class ZoneBuilder {
 public:
  ZoneBuilder(const site::Site& site, const ZoneSituation& asked) : site_(site), asked_(asked) {}

  ZoneCircuit build() {
    const auto trigger = site_.triggers.find(asked_.trigger);
    const bool attached = trigger != site_.triggers.end() && asked_.unit != UnitCondition::detached;
    const std::string unit = attached ? trigger->second.unit.id : std::string();
    backbone_ = build_backbone(site_, asked_.supply, {unit, asked_.unit}, circuit_.wiring);
    if (site_.zones.at(asked_.zone).medium.is(site::Medium::wired)) {
      circuit_.terminal = build_loop(site_, asked_.zone, asked_.state, backbone_, circuit_.wiring);
    }
    if (attached) attach(unit);
    return std::move(circuit_);
  }

 private:
  /// The inner rail and every wire of the unit: this zone's in earnest, the others' as bystanders.
  void attach(const std::string& unit) {
    if (site_.units.count(unit) == 0) {
      circuit_.wiring.missing(site_.triggers.at(asked_.trigger).unit.pointer, "unknown");
      return;
    }
    build_inner_rail(site_, unit, asked_.unit, backbone_, circuit_.wiring);
    for (const std::string& id : site::triggers_of_unit(site_, unit)) attach_trigger(id);
  }

  void attach_trigger(const std::string& id) {
    const site::Trigger& trigger = site_.triggers.at(id);
    if (!has_wire(trigger)) return;
    const std::optional<Node> from = start_of(id, trigger);
    if (!from) return;
    const std::optional<UnitInput> input = build_tap(site_, id, *from, backbone_, circuit_.wiring);
    if (id == asked_.trigger) circuit_.input = input;
  }

  std::optional<Node> start_of(const std::string& id, const site::Trigger& trigger) {
    const bool own = id == asked_.trigger;
    const bool in_alarm = own && asked_.state.happening != Happening::rest;
    switch (*trigger.source.value) {
      case TriggerSource::loop_tap: return tap_start(trigger, own);
      case TriggerSource::spare_contact:
      case TriggerSource::receiver_relay: return build_contact_source(site_, id, in_alarm, backbone_, circuit_.wiring);
      case TriggerSource::following_output: return output_start(trigger, in_alarm);
      default: return std::nullopt;
    }
  }

  std::optional<Node> tap_start(const site::Trigger& trigger, bool own) {
    if (hangs_on(site_, trigger, asked_.zone)) {
      return circuit_.terminal ? std::optional<Node>(circuit_.terminal->point) : std::nullopt;
    }
    const std::string other = site::tapped_zone(site_, trigger);
    if (other.empty()) {
      if (trigger.at_panel.known() && trigger.at_input.known()) return empty_screw(trigger);
      if (own) circuit_.wiring.missing(trigger.at_panel.known() ? trigger.at_input.pointer : trigger.at_panel.pointer, "unknown");
      return std::nullopt;
    }
    if (built_.count(other) == 0) {
      const std::optional<Terminal> terminal = build_loop_bystander(site_, other, backbone_, circuit_.wiring);
      if (!terminal) return std::nullopt;
      built_[other] = terminal->point;
    }
    return built_.at(other);
  }

  /// A screw on which no zone is: the wire hangs in the air.
  Node empty_screw(const site::Trigger& trigger) {
    return circuit_.wiring.network.node(trigger.at_panel.id + "_screw_" + std::to_string(*trigger.at_input.value));
  }

  std::optional<Node> output_start(const site::Trigger& trigger, bool in_alarm) {
    const auto output = site_.outputs.find(trigger.output.id);
    if (output == site_.outputs.end()) {
      circuit_.wiring.missing(trigger.output.pointer, "unknown");
      return std::nullopt;
    }
    if (!output->second.active_when.known()) circuit_.wiring.missing(output->second.active_when.pointer, "unknown");
    const bool on = output->second.active_when.is(site::ActiveWhen::alarm) == in_alarm;
    const site::Level relay_to = trigger.contact_to.value.value_or(site::Level::low);
    return build_output(site_, trigger.output.id, on, relay_to, backbone_, circuit_.wiring);
  }

  const site::Site& site_;
  const ZoneSituation& asked_;
  ZoneCircuit circuit_;
  Backbone backbone_;
  std::map<std::string, Node> built_;  // bystander zones already in the network
};

}  // namespace

ZoneCircuit build_zone_circuit(const site::Site& site, const ZoneSituation& situation) {
  return ZoneBuilder(site, situation).build();
}

}  // namespace zoneproof::electric
