#include "field/zone_steps.hpp"

#include <algorithm>

#include "electric/naming.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

using electric::Happening;

ZoneSteps::ZoneSteps(Plan& plan, const ZoneFigures& figures, const std::vector<std::string>& after)
    : plan_(plan), figures_(figures), after_(after), id_(figures.zone), words_(plan.zone(figures.zone)) {}

void ZoneSteps::add() {
  for (const WireFigures& wire : figures_.wires) {
    rest(wire);
    for (const StateReadings& made : wire.states) state(wire, made);
  }
  time();
  clip();
}

Step& ZoneSteps::step(const std::string& id, const std::string& device, Message what, Message state, Message proves) {
  Step& step = plan_.add(Phase::zones, id, plan_.at(device), std::move(what), std::move(state), std::move(proves));
  step.zone = step.subject = id_;
  step.after = after_;
  return step;
}

/// A zone with several trigger wires has steps for each of them.
std::string ZoneSteps::suffix(const WireFigures& wire) const {
  return figures_.wires.size() > 1 ? "." + wire.trigger : std::string();
}

void ZoneSteps::put_reading(Step& step, const WireFigures& wire, const ZoneReadings& readings) const {
  if (wire.trigger.empty() || !readings.unit) {
    if (readings.panel) Plan::reading(step, plan_.at_screws(id_), *readings.panel);
    return;
  }
  const site::Trigger& trigger = plan_.site_.triggers.at(wire.trigger);
  const std::string unit = plan_.thing(trigger.unit.id);
  Message red =
      trigger.input.known() ? say::probe_input(*trigger.input.value, unit) : say::probe_input_unknown(words_, unit);
  Plan::reading(step, {std::move(red), say::probe_minus(unit)}, *readings.unit);
}

void ZoneSteps::rest(const WireFigures& wire) {
  if (wire.trigger.empty() || !wire.rest.unit) return;  // at rest at the panel: a step of what is live
  const std::string unit = plan_.site_.triggers.at(wire.trigger).unit.id;
  Step& at_rest = step("rest." + id_ + suffix(wire), unit, say::do_unit_rest(words_, plan_.thing(unit)),
                       say::state_running(), say::proves_unit_rest());
  put_reading(at_rest, wire, wire.rest);
}

void ZoneSteps::state(const WireFigures& wire, const StateReadings& made) {
  const site::Site& site = plan_.site_;
  const bool alarm = made.state.happening == Happening::alarm;
  const std::string owner = site::loop_owner(site, id_);
  std::string detector;
  if (!owner.empty()) {
    const auto& contacts = site.zones.at(owner).loop.contacts;
    if (const auto found = contacts.find(made.state.contact); found != contacts.end())
      detector = found->second.detector.id;
  }
  const bool known = site.detectors.count(detector) != 0;
  if (!alarm && !known) return;  // a cover that nobody can find
  const Touched& touched = plan_.touched();
  if (alarm ? (known ? !touched.may_trip(detector) : !plan_.may_trip(id_)) : !touched.may_open(detector)) return;
  const std::string contact = made.state.contact.empty() ? "" : "." + made.state.contact;
  const std::string id = std::string(alarm ? "alarm." : "tamper.") + id_ + contact + suffix(wire);
  const std::string name = known ? plan_.thing(detector) : "";
  const bool read = made.readings.unit || made.readings.panel;
  Message what = known  ? (alarm ? say::do_alarm(name) : say::do_tamper(name))
                 : read ? say::do_alarm_plain_read(words_)
                        : say::do_alarm_plain(words_);
  Message in = !known ? say::state_alarm_plain() : alarm ? say::state_alarm(name) : say::state_tamper(name);
  Message proves = !alarm                 ? say::proves_tamper()
                   : wire.trigger.empty() ? say::proves_alarm_panel()
                                          : say::proves_alarm();
  Step& one = step(id, known ? detector : plan_.detector_of(id_), std::move(what), std::move(in), std::move(proves));
  put_reading(one, wire, made.readings);
  // A cover opens the whole pair: which of two zones on it the panel then names is the panel's own way.
  const std::vector<std::string> others = alarm ? std::vector<std::string>{} : beside_on_pair(owner);
  one.expected_words = others.empty() ? say::expect_panel_alarm(words_) : say::expect_panel_pair(words_, others);
  one.blanks.push_back({BlankKind::words, "", say::blank_panel_shows()});
  if (known && site.detectors.at(detector).mount.z_m.known()) one.dangers = {say::danger_height()};
}

std::vector<std::string> ZoneSteps::beside_on_pair(const std::string& owner) const {
  std::vector<std::string> others;
  for (const auto& entry : plan_.site_.zones)
    if (entry.first != id_ && site::loop_owner(plan_.site_, entry.first) == owner)
      others.push_back(plan_.zone(entry.first));
  return others;
}

void ZoneSteps::time() {
  if (!site::has_chain(plan_.site_, id_) || !plan_.may_trip(id_)) return;
  Step& one =
      step("time." + id_, plan_.detector_of(id_), say::do_time(words_), say::state_alarm_plain(), say::proves_time());
  Expected expected;
  expected.unit = "s";
  expected.gaps.push_back({"/zones/" + id_, "undecided"});
  for (const chain::Evidence& evidence : plan_.known_) {
    if (evidence.id != "first_picture" || evidence.subject != id_) continue;
    expected.gaps = evidence.gaps;
    if (!evidence.bound || !evidence.gaps.empty()) continue;
    expected.low = 0.0;
    expected.high = evidence.bound;
    expected.nominal = evidence.nominal;
  }
  one.expected = std::move(expected);
  one.blanks.push_back({BlankKind::reading, "s", say::blank_seconds()});
  one.blanks.push_back({BlankKind::time, "", say::blank_time()});
}

void ZoneSteps::clip() {
  const site::Site& site = plan_.site_;
  if (!site::has_chain(site, id_) || !plan_.may_trip(id_)) return;
  std::string camera;
  for (const std::string& id : plan_.touched().triggers()) {
    const site::Trigger& trigger = site.triggers.at(id);
    if (trigger.zone.id != id_ || !trigger.channel.known()) continue;
    for (const auto& entry : site.channels) {
      const bool shows = entry.second.unit.id == trigger.unit.id && entry.second.number.value == trigger.channel.value;
      if (shows && entry.second.camera.known()) camera = entry.second.camera.id;
    }
  }
  Step& one =
      step("clip." + id_, plan_.detector_of(id_), say::do_clip(words_), say::state_running(), say::proves_clip());
  Plan::looked_at(one, camera.empty() ? say::expect_clip_unknown() : say::expect_clip(plan_.thing(camera)));
  one.after.push_back("zones.time." + id_);
}

void Plan::zones() {
  const std::vector<std::string> live = ids_of(Phase::live);
  for (const auto& entry : figures_) ZoneSteps(*this, entry.second, live).add();
}

}  // namespace zoneproof::field
