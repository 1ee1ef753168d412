// The wires of the units while everything is dead: both probes at the unit, a bridge at the far end.
#include "field/plan.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

using electric::Ohms;

std::string Plan::source_of(const std::string& id) const { return site::source_of(site_, site_.triggers.at(id)); }

std::string Plan::arming_source_of(const std::string& unit) const {
  return site::panel_of_output(site_, site_.units.at(unit).arming.output);
}

std::string Plan::place_words(const std::string& device) const {
  return device.empty() ? text(say::name_far_end()) : thing(device);
}

std::vector<std::string> Plan::wired_triggers() const {
  std::vector<std::string> ids = triggers_in_order();
  std::erase_if(ids, [&](const std::string& id) {
    const site::Trigger& trigger = site_.triggers.at(id);
    return !site::has_wire(trigger) || trigger.cable.none() || site_.units.count(trigger.unit.id) == 0;
  });
  return ids;
}

/// First what is told with every wire open, then the bridges at the far ends, then what is told through them.
void Plan::dead_wires() {
  for (const std::string& id : touched_.units()) open_unit(id);
  for (const std::string& id : wired_triggers()) open_trigger(id);
  std::map<std::string, std::vector<std::string>> wires;  // by the device at their far end
  for (const std::string& id : wired_triggers())
    wires[source_of(id)].push_back(text(say::name_wire_of(zone(site_.triggers.at(id).zone.id))));
  for (const std::string& id : touched_.units()) {
    const site::Unit& unit = site_.units.at(id);
    if (!unit.arming.output.none() && !unit.arming.cable.none())
      wires[arming_source_of(id)].push_back(text(say::name_arming_of(thing(id))));
    if (!unit.feed.cable.none()) wires[unit.feed.from.id].push_back(text(say::name_plus_of(thing(id))));
  }
  const std::vector<std::string> before = ids_of(Phase::dead);
  for (const auto& [device, names] : wires) {
    Step& joined = add(Phase::dead, "joined." + device, device.empty() ? Place{} : at(device),
                       say::do_joined(place_words(device), names), say::state_dead_wire(), say::proves_joined());
    looked_at(joined, say::expect_joined());
    joined.subject = device;
    if (site_.detectors.count(device) != 0) warn_of_height(joined);
    for (const std::string& step : before)
      if (step.rfind("dead.off.", 0) == 0 || step.rfind("dead.wire_insulation.", 0) == 0 ||
          step.rfind("dead.pair.", 0) == 0)
        joined.after.push_back(step);
  }
  for (Step& step : steps) {  // a detector is walked to once
    const bool far_end = step.id.rfind("dead.bridge.", 0) == 0;
    if (far_end && wires.count(step.place.device) != 0) step.after.push_back("dead.joined." + step.place.device);
  }
  for (const std::string& id : wired_triggers()) joined_trigger(id);
  for (const std::string& id : touched_.units()) joined_unit(id);
}

void Plan::open_trigger(const std::string& id) {
  const site::Trigger& trigger = site_.triggers.at(id);
  const std::string& unit = trigger.unit.id;
  Step& step =
      add(Phase::dead, "wire_insulation." + id, at(unit), say::do_wire_insulation(zone(trigger.zone.id), thing(unit)),
          say::state_dead_wire(), say::proves_wire_insulation());
  reading(step, {say::probe_far_end(thing(unit)), say::probe_plug_minus(thing(unit))},
          at_least(expected_of(electric::insulation_ohms(site_, trigger.cable))));
  step.zone = trigger.zone.id;
  step.subject = id;
  step.after = {"dead.off." + unit};
  for (const std::string& panel : panels_of_unit(unit)) step.after.push_back("dead.off." + panel);
}

void Plan::open_unit(const std::string& id) {
  const bool paired = !site_.units.at(id).feed.cable.none();
  if (paired) {
    Step& pair =
        add(Phase::dead, "pair." + id, at(id), say::do_pair(thing(id)), say::state_dead_plus(), say::proves_pair());
    reading(pair, {say::probe_plug_plus(thing(id)), say::probe_plug_minus(thing(id))},
            at_least(expected_of(electric::insulation_ohms(site_, site_.units.at(id).feed.cable))));
    pair.subject = id;
    pair.after = {"dead.off." + id};
  }
  for (const std::string& panel : panels_of_unit(id)) {
    Step& negative = add(Phase::dead, "negative." + id + "." + panel, at(id), say::do_negative(thing(id), thing(panel)),
                         say::state_dead_unit(), say::proves_negative());
    reading(negative, {say::probe_minus(thing(id)), say::probe_minus(thing(panel))},
            expected_of(electric::negatives_ohms(site_, id, panel)));
    negative.notes = {say::note_subtract(), say::note_long_lead(thing(panel))};
    negative.subject = id;
    negative.after = {"dead.off." + id};
    if (paired) negative.after.push_back("dead.pair." + id);  // a short would be no common negative
  }
}

void Plan::through_bridge(Step& step, const std::string& unit, const std::string& source, Message red,
                          const Ohms& ohms) {
  reading(step, {std::move(red), say::probe_source_end()}, expected_of(ohms));
  step.notes = {say::note_subtract()};
  step.after = {"dead.off." + unit, "dead.joined." + source};
}

void Plan::joined_trigger(const std::string& id) {
  const site::Trigger& trigger = site_.triggers.at(id);
  const std::string& unit = trigger.unit.id;
  const std::string source = source_of(id);
  Step& wire = add(Phase::dead, "wire." + id, at(unit), say::do_wire(zone(trigger.zone.id), place_words(source)),
                   say::state_dead_joined(), say::proves_wire());
  through_bridge(wire, unit, source, say::probe_far_end(thing(unit)), electric::trigger_wire_ohms(site_, id));
  wire.zone = trigger.zone.id;
  wire.subject = id;
}

void Plan::joined_unit(const std::string& id) {
  const site::Unit& unit = site_.units.at(id);
  if (!unit.feed.cable.none()) {
    const std::string& from = unit.feed.from.id;
    Step& plus = add(Phase::dead, "plus." + id, at(id), say::do_plus(thing(id), place_words(from)),
                     say::state_dead_joined(), say::proves_plus());
    through_bridge(plus, id, from, say::probe_plug_plus(thing(id)),
                   electric::out_and_back_ohms(site_, unit.feed.cable));
    plus.probes->black = say::probe_plug_minus(thing(id));
    plus.subject = id;
  }
  if (!unit.arming.output.none() && !unit.arming.cable.none()) {
    const std::string source = arming_source_of(id);
    Step& wire = add(Phase::dead, "arming." + id, at(id), say::do_arming_wire(thing(id), place_words(source)),
                     say::state_dead_joined(), say::proves_arming_wire());
    through_bridge(wire, id, source, say::probe_far_end(thing(id)),
                   electric::out_and_back_ohms(site_, unit.arming.cable));
    wire.subject = id;
  }
}

}  // namespace zoneproof::field
