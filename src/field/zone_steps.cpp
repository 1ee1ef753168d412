#include "field/zone_steps.hpp"

#include <algorithm>

#include "electric/naming.hpp"
#include "field/picture_steps.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

using chain::Verdict;
using electric::Happening;

ZoneSteps::ZoneSteps(Plan& plan, const ZoneFigures& figures)
    : plan_(plan),
      figures_(figures),
      id_(figures.zone),
      words_(plan.zone(figures.zone)),
      told_(plan.told_of(figures.zone)) {}

void ZoneSteps::add() {
  for (const WireFigures& wire : figures_.wires) {
    rest(wire);
    for (const StateReadings& made : wire.states) state(wire, made);
  }
  PictureSteps picture(plan_, id_);
  if (picture.wanted() && !picture.when_armed()) picture.add({});
}

Step& ZoneSteps::step(const std::string& id, const std::string& device, Message what, Message state, Message proves) {
  Step& step = plan_.add(Phase::zones, id, plan_.at(device), std::move(what), std::move(state), std::move(proves));
  step.zone = step.subject = id_;
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

/// A reading that is as it was computed proves nothing of a setting that does not hold.
Message ZoneSteps::proves_at_unit(const std::vector<std::string>& checks, Message holds) const {
  const chain::Evidence* worst = nullptr;
  for (const std::string& check : checks) {
    const chain::Evidence* one = find_told(told_, check);
    if (one != nullptr && (worst == nullptr || chain::rank(one->verdict) < chain::rank(worst->verdict))) worst = one;
  }
  if (worst == nullptr) return say::proves_unit_reads();
  const std::string why = why_of(*worst);
  switch (worst->verdict) {
    case Verdict::proven: return holds;
    case Verdict::thin: return say::proves_unit_thin(why);
    case Verdict::broken: return say::proves_unit_broken(why);
    default: return say::proves_unit_open(why);
  }
}

void ZoneSteps::rest(const WireFigures& wire) {
  if (wire.trigger.empty() || !wire.rest.unit) return;  // at rest at the panel: a step of what is live
  const std::string unit = plan_.site_.triggers.at(wire.trigger).unit.id;
  Step& at_rest =
      step("rest." + id_ + suffix(wire), unit, say::do_unit_rest(words_, plan_.thing(unit)), say::state_running(),
           proves_at_unit({"unit_reads_rest", "setting_fits", "input_limits"}, say::proves_unit_rest()));
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
  Message proves =
      !alarm ? say::proves_tamper()
      : wire.trigger.empty()
          ? say::proves_alarm_panel()
          : proves_at_unit({"unit_reads_alarm", "unit_catches_alarm", "setting_fits", "input_limits", "trigger_sink"},
                           say::proves_alarm());
  Step& one = step(id, known ? detector : plan_.detector_of(id_), std::move(what), std::move(in), std::move(proves));
  put_reading(one, wire, made.readings);
  const std::string probes_at =
      wire.trigger.empty() || !made.readings.unit ? plan_.panel_of(id_) : plan_.site_.triggers.at(wire.trigger).unit.id;
  if (read && site.detectors.count(one.place.device) != 0)
    one.notes.push_back(say::note_two_places(plan_.thing(probes_at)));
  plan_.agree(one, id_);
  if (alarm) plan_.tell_where_tripped(one, id_);
  // A cover opens the whole pair: which of two zones on it the panel then names is the panel's own way.
  const std::vector<std::string> others = alarm ? std::vector<std::string>{} : beside_on_pair(owner);
  if (alarm)
    one.expected_words = say::expect_panel_alarm(words_);
  else
    one.expected_words = others.empty() ? say::expect_panel_tamper(words_) : say::expect_panel_pair(words_, others);
  one.blanks.push_back({BlankKind::words, "", say::blank_panel_shows()});
  plan_.warn_of_height(one);
}

std::vector<std::string> ZoneSteps::beside_on_pair(const std::string& owner) const {
  std::vector<std::string> others;
  for (const auto& entry : plan_.site_.zones)
    if (entry.first != id_ && site::loop_owner(plan_.site_, entry.first) == owner)
      others.push_back(plan_.zone(entry.first));
  return others;
}

void Plan::zones() {
  for (const ZoneFigures& figures : figures_) ZoneSteps(*this, figures).add();
}

}  // namespace zoneproof::field
