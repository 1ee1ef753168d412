// The installing itself: every wire on its terminal while all is dead. Whether a unit is there already no site file
// says.
#include <algorithm>
#include <set>

#include "field/plan.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

namespace {

/// A resistor that is fitted at the unit; nothing: none.
void fit(Step& step, const site::Value& ohm, Message (*says)(Measure), Message unknown) {
  if (ohm.none()) return;
  step.notes.push_back(ohm.known() ? says({ohm.nominal, "ohm"}) : std::move(unknown));
}

void note_core(Step& step, const std::string& colour) {
  if (colour.empty())
    step.blanks.push_back({BlankKind::words, "", say::blank_core()});
  else
    step.notes.push_back(say::note_core(colour));
}

}  // namespace

Step& Plan::landing(const std::string& id, const std::string& device, Message what) {
  Step& step = add(Phase::install, id, device.empty() ? Place{} : at(device), std::move(what), say::state_dead(),
                   say::proves_landed());
  looked_at(step, say::expect_landed());
  if (site_.detectors.count(device) != 0) warn_of_height(step);
  return step;
}

void Plan::install() {
  for (const std::string& id : touched_.panels()) {
    Step& back =
        add(Phase::install, "back." + id, at(id), say::do_put_back(), say::state_dead(), say::proves_put_back());
    looked_at(back, say::expect_as_marked());
    back.subject = id;
  }
  for (const std::string& id : touched_.units()) {
    Step& unit =
        add(Phase::install, "unit." + id, at(id), say::do_fit_unit(thing(id)), say::state_dead(), say::proves_fitted());
    looked_at(unit, say::expect_fitted());
    unit.blanks.push_back({BlankKind::words, "", say::blank_serial()});
    unit.subject = id;
  }
  for (const std::string& id : wired_triggers()) land_trigger(id);
  for (const std::string& id : touched_.units()) land_unit(id);
  const std::vector<std::string> landed = ids_of(Phase::install);
  for (const std::string& id : touched_.units()) {
    Step& all = add(Phase::install, "checked." + id, at(id), say::do_check_landed(thing(id)), say::state_dead(),
                    say::proves_put_back());
    looked_at(all, say::expect_check_landed());
    all.subject = id;
    all.after = landed;
  }
}

/// What a trigger wire is put on at its far end.
std::string Plan::terminal_words(const std::string& id) const {
  const site::Trigger& trigger = site_.triggers.at(id);
  const std::string source = place_words(source_of(id));
  if (trigger.source.is(site::TriggerSource::loop_tap)) return text(say::probe_screw(zone(trigger.zone.id), source));
  if (trigger.source.is(site::TriggerSource::following_output))
    return text(say::name_output_at(thing(trigger.output.id), source));
  return text(say::name_contact_of(source));
}

void Plan::land_trigger(const std::string& id) {
  const site::Trigger& trigger = site_.triggers.at(id);
  const std::string unit = trigger.unit.id, words = zone(trigger.zone.id);
  const auto about = [&](Step& step) {
    step.zone = trigger.zone.id;
    step.subject = id;
    note_core(step, trigger.core_colour);
  };
  about(landing("source." + id, source_of(id),
                say::do_land_source(words, terminal_words(id), cable_words(trigger.cable))));
  Message input = trigger.input.known() ? say::probe_input(*trigger.input.value, thing(unit))
                                        : say::probe_input_unknown(words, thing(unit));
  Step& end = landing("input." + id, unit, say::do_land_input(words, text(input), cable_words(trigger.cable)));
  about(end);
  fit(end, trigger.series_ohm, say::note_series, say::note_series_unknown());
  fit(end, trigger.pulldown_ohm, say::note_pulldown, say::note_pull_unknown());
  fit(end, trigger.pullup_ohm, say::note_pullup, say::note_pull_unknown());
  end.after = {"install.unit." + unit};
}

std::string Plan::cable_words(const site::Ref& cable) const {
  if (cable.none()) return text(say::name_cable_none());
  return site_.cables.count(cable.id) == 0 ? text(say::name_cable_unknown()) : thing(cable.id);
}

void Plan::land_unit(const std::string& id) {
  const site::Unit& unit = site_.units.at(id);
  if (!unit.feed.cable.none()) {
    Step& feed = landing("feed." + id, unit.feed.from.id,
                         say::do_land_feed(thing(id), place_words(unit.feed.from.id), cable_words(unit.feed.cable)));
    feed.subject = id;
    feed.dangers.push_back(say::danger_polarity());
  }
  for (const auto& [bond, joined] : site_.bonds) {
    if (joined.a.id != id && joined.b.id != id) continue;
    Step& step = landing("bond." + bond + "." + id, id,
                         say::do_land_bond(place_words(joined.a.id), place_words(joined.b.id), thing(bond)));
    step.subject = bond;
    step.after = {"install.unit." + id};
  }
  if (unit.arming.output.none()) return;
  const std::string source = arming_source_of(id);
  Step& output = landing(
      "output." + id, source,
      say::do_land_output(thing(id), text(say::name_output_at(thing(unit.arming.output.id), place_words(source))),
                          cable_words(unit.arming.cable)));
  output.subject = id;
  note_core(output, unit.arming.core_colour);
  Step& input = landing("arming." + id, id, say::do_land_arming(thing(id), cable_words(unit.arming.cable)));
  input.subject = id;
  note_core(input, unit.arming.core_colour);
  const bool down = unit.arming.pullup_to.is(site::Level::low);
  fit(input, unit.arming.pullup_ohm, down ? say::note_pulldown : say::note_pullup, say::note_pull_unknown());
  input.after = {"install.unit." + id};
}

/// Outputs of panels that arm a unit or follow a zone of the work; the panel runs already.
void Plan::programming(const std::vector<std::string>& before) {
  std::set<std::string> outputs;
  for (const std::string& id : touched_.units()) outputs.insert(site_.units.at(id).arming.output.id);
  for (const std::string& id : touched_.triggers()) outputs.insert(site_.triggers.at(id).output.id);
  for (const std::string& id : outputs) {
    const auto output = site_.outputs.find(id);
    if (output == site_.outputs.end()) continue;
    const std::string panel = output->second.panel.id;
    Step& step = add(Phase::power_up, "program." + id, panel.empty() ? Place{} : at(panel),
                     say::do_program(thing(id), place_words(panel)), say::state_mains(), say::proves_programmed());
    looked_at(step, say::expect_settings());
    step.subject = id;
    step.after = before;
  }
}

void Plan::set_cameras(const std::string& unit) {
  std::vector<std::string> cameras;
  for (const auto& entry : site_.channels) {
    const site::Channel& channel = entry.second;
    const std::string words = channel.camera.known() ? thing(channel.camera.id) : "";
    if (channel.unit.id == unit && !words.empty() && std::find(cameras.begin(), cameras.end(), words) == cameras.end())
      cameras.push_back(words);
  }
  if (cameras.empty()) return;
  Step& step = add(Phase::power_up, "cameras." + unit, at(unit), say::do_cameras(thing(unit), cameras),
                   say::state_mains_unit(), say::proves_cameras());
  looked_at(step, say::expect_cameras());
  step.subject = unit;
  step.after = {"power_up.settings." + unit};
}

}  // namespace zoneproof::field
