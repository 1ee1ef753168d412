// What comes before power: as found, safety, everything dead.
#include <algorithm>

#include "base/outward.hpp"
#include "electric/naming.hpp"
#include "field/plan.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

using electric::SupplyCondition;

namespace {

constexpr const char* kQuiet = "as_found.sounder";

/// What draws several times as much in alarm as at rest, as sounders and strobes do; keypads and diallers do not. No
/// part says that it sounds.
bool may_sound(const site::Site& site, const site::Load& load) {
  constexpr double times = 3.0;
  const site::LoadSpec* spec = site::spec_of(site, load.part, &site::Part::load);
  return spec != nullptr && spec->current_A.known() && spec->alarm_current_A.known() &&
         spec->alarm_current_A.nominal > 0.0 && spec->alarm_current_A.nominal >= times * spec->current_A.nominal;
}

}  // namespace

void Plan::as_found() {
  Step& call =
      add(Phase::as_found, "on_test", {}, say::do_on_test(site_.name), say::state_found(), say::proves_on_test());
  looked_at(call, say::expect_on_test());
  call.blanks.push_back({BlankKind::words, "", say::blank_operator()});
  call.blanks.push_back({BlankKind::time, "", say::blank_until()});
  quiet();
  const site::Site before = without_units(site_);
  SupplySide supplies(before);
  for (const std::string& id : touched_.panels()) {
    Step& log =
        add(Phase::as_found, "log." + id, at(id), say::do_log(thing(id)), say::state_found(), say::proves_log());
    looked_at(log, say::expect_log());
    log.subject = id;
    log.blanks.push_back({BlankKind::words, "", say::blank_entries()});
    log.after = {kQuiet};
    Step& supply = add(Phase::as_found, "supply." + id, at(id), say::do_supply_found(thing(id)), say::state_found(),
                       say::proves_before());
    reading(supply, poles(thing(id)), supplies.volts_at(id, {SupplyCondition::mains}));
    supply.subject = id;
    supply.dangers = {say::danger_found(), say::danger_live()};
    supply.after = {kQuiet};
  }
  for (const ZoneFigures& figures : figures_) {
    const std::string& id = figures.zone;
    if (!figures.found) continue;
    Step& level = add(Phase::as_found, "zone." + id, at(panel_of(id)), say::do_zone_found(zone(id)), say::state_found(),
                      say::proves_before());
    reading(level, at_screws(id), *figures.found);
    level.zone = level.subject = id;
    const WireFigures& wire = figures.wires.front();
    if (!wire.trigger.empty() && wire.rest.panel && wire.rest.panel->low && wire.rest.panel->high)
      level.notes = {
          say::note_found_with_unit(lowest({*wire.rest.panel->low, "V"}), highest({*wire.rest.panel->high, "V"}))};
    level.dangers = {say::danger_found(), say::danger_live()};
    level.after = {kQuiet};
  }
}

/// A cover that is opened for the first reading is a tamper already: people and sounders come before it.
void Plan::quiet() {
  Step& people = add(Phase::as_found, "people", {}, say::do_people(), say::state_found(), say::proves_warned());
  looked_at(people, say::expect_told());
  people.dangers = {say::danger_help()};
  people.after = {"as_found.on_test"};
  std::vector<std::string> sounders;
  for (const auto& [id, load] : site_.loads) {
    if (!may_sound(site_, load)) continue;
    sounders.push_back(site_.areas.count(load.area.id) == 0
                           ? thing(id)
                           : text(say::name_in(thing(id), site::called(site_.areas, load.area.id))));
  }
  Step& sounder = add(Phase::as_found, "sounder", {}, sounders.empty() ? say::do_sounder() : say::do_sounders(sounders),
                      say::state_found(), say::proves_quiet());
  looked_at(sounder, say::expect_quiet());
  sounder.dangers = {say::danger_siren(), say::danger_height()};
  sounder.after = {"as_found.people"};
}

/// Zones that go dead with a supply: those that nobody touches, and those that guard life and limb.
void Plan::name_others(Step& mains, const Source& source) const {
  if (!source.named()) return mains.dangers.push_back(say::danger_others_unknown());
  const std::vector<std::string> others = touched_.left_alone_on(site_, source.id);
  if (!others.empty()) mains.dangers.push_back(say::danger_others(source.words, others));
  const std::vector<std::string> watched = touched_.watched_on(site_, source.id);
  if (!watched.empty()) mains.dangers.push_back(say::danger_watched(source.words, watched));
}

/// What the file does not tell of a source is found before it is switched off.
void Plan::find_out(Step& mains, const Source& source) const {
  if (source.other_battery) mains.notes.push_back(say::note_other_battery());
  if (source.named()) return;
  mains.notes.push_back(say::note_find_supply());
  std::vector<std::string> fed;
  for (const std::string& id : source.feeds) fed.push_back(thing(id));
  if (!fed.empty()) mains.notes.push_back(say::note_feeds(fed));
  mains.blanks.push_back({BlankKind::words, "", say::blank_supply()});
}

void Plan::safety() {
  for (const Source& source : sources_) {
    Step& mains = add(Phase::safety, "mains." + source.id, where(source), say::do_isolate(source.words),
                      say::state_on_test(), say::proves_no_mains());
    looked_at(mains, say::expect_isolated());
    mains.subject = source.device;
    mains.blanks.push_back({BlankKind::words, "", say::blank_name()});
    mains.dangers = {say::danger_mains()};
    find_out(mains, source);
    name_others(mains, source);
    std::vector<std::string> off = {"safety.mains." + source.id};
    for (const Battery& battery : source.batteries) {
      Step& step =
          add(Phase::safety, "battery." + battery.id, source.named() ? at(battery.id) : where(source),
              source.named() ? say::do_battery_off(battery.words, source.words) : say::do_batteries_off(source.words),
              say::state_isolated(), say::proves_no_battery());
      looked_at(step, say::expect_covered());
      step.subject = source.named() ? battery.id : source.device;
      step.dangers = {say::danger_battery()};
      step.after = {"safety.mains." + source.id};
      off.push_back(step.id);
    }
    prove_dead(source, off);
  }
}

/// What nobody knows the supply of is proven dead at itself, each thing on its own: one may hang on another supply.
/// What must not be opened is proven dead at the supply that was found for it.
void Plan::prove_dead(const Source& source, const std::vector<std::string>& off) {
  const auto prove = [&](const std::string& step, const std::string& device, Message does) {
    Step& dead = add(Phase::safety, "dead." + step, at(device), std::move(does), say::state_dead(), say::proves_dead());
    looked_at(dead, say::expect_dead());
    dead.subject = device;
    dead.probes = poles(thing(device));
    dead.after = off;
    return &dead;
  };
  if (source.named()) {
    prove(source.id, source.device, say::do_prove_dead(source.words));
  } else if (source.feeds.empty()) {
    prove(source.id, source.device, say::do_prove_dead_at(thing(source.device)));
  }
  for (const std::string& id : source.feeds) {
    Step& dead = *prove("of." + id, id,
                        touched_.may_open(id) ? say::do_prove_dead_at(thing(id)) : say::do_prove_dead_of(thing(id)));
    if (touched_.may_open(id)) {
      dead.dangers.push_back(say::danger_height());
    } else {
      dead.place = {};
      dead.probes = poles(text(say::name_supply_of(thing(id))));
    }
  }
}

void Plan::dead() {
  Step& probes = add(Phase::dead, "probes", {}, say::do_probes(), say::state_dead(), say::proves_probes());
  looked_at(probes, say::expect_probes());
  probes.blanks = {{BlankKind::reading, "ohm", say::blank_probes()}};
  for (const std::string& id : touched_.panels()) {
    Step& off =
        add(Phase::dead, "off." + id, at(id), say::do_take_off(thing(id)), say::state_dead(), say::proves_marked());
    looked_at(off, say::expect_marked());
    off.subject = id;
    const std::vector<std::string> others = touched_.left_alone_at(site_, id);
    if (!others.empty()) off.dangers = {say::danger_leave_on(others)};
  }
  for (const std::string& id : touched_.units()) {
    Step& off = add(Phase::dead, "off." + id, at(id), say::do_take_off_unit(thing(id)), say::state_dead(),
                    say::proves_marked());
    looked_at(off, say::expect_marked_unit());
    off.subject = id;
  }
  for (const ZoneFigures& figures : figures_) dead_zone(figures);
  bridges();
  dead_wires();
  for (Step& step : steps) {
    if (step.phase == Phase::dead && step.expected) step.dangers.push_back(say::danger_ohm());
  }
}

/// The step that takes the wires of a panel off; where nobody knows which panel it is, none: everything is dead then.
std::vector<std::string> Plan::wires_off(const std::string& panel) const {
  return touched_.panels().count(panel) != 0 ? std::vector<std::string>{"dead.off." + panel}
                                             : std::vector<std::string>{};
}

void Plan::dead_zone(const ZoneFigures& figures) {
  if (!figures.owns_pair) return;
  const std::string& id = figures.zone;
  const std::string panel = panel_of(id);
  const Probes pair{say::probe_wire(zone(id)), say::probe_wire_back(zone(id))};
  const auto about = [&](Step& step) {
    step.zone = step.subject = id;
    step.after = wires_off(panel);
  };
  Step& loop =
      add(Phase::dead, "loop." + id, at(panel), say::do_loop(zone(id)), say::state_dead_pair(), say::proves_loop());
  reading(loop, pair, *figures.dead);
  about(loop);
  if (figures.insulation) {
    Step& step = add(Phase::dead, "insulation." + id, at(panel), say::do_insulation(zone(id), thing(panel)),
                     say::state_dead_pair(), say::proves_insulation());
    reading(step, {pair.red, say::probe_minus(thing(panel))}, *figures.insulation);
    about(step);
  }
}

/// All pairs of a panel are bridged there at once, read at their far ends on one walk, and their bridges taken off at
/// its end. Pairs that share a way back would be parallel then: each of these is bridged alone.
void Plan::bridges() {
  std::map<std::string, std::vector<const ZoneFigures*>> of_panel;
  std::vector<const ZoneFigures*> alone;
  for (const ZoneFigures& figures : figures_) {
    const std::string& id = figures.zone;
    bool known = false;
    const std::vector<std::string> far = on_pair(id, known);
    const bool free = std::all_of(far.begin(), far.end(), [&](const auto& one) { return touched_.may_open(one); });
    if (!figures.owns_pair || !free) continue;
    if (site_.zones.at(id).loop.shared_return.none())
      of_panel[panel_of(id)].push_back(&figures);
    else
      alone.push_back(&figures);
  }
  for (const auto& [panel, all] : of_panel) {
    std::vector<std::string> names, read, before;
    for (const ZoneFigures* figures : all) {
      names.push_back(zone(figures->zone));
      for (const Step& step : steps)
        if (step.phase == Phase::dead && step.zone == figures->zone) before.push_back(step.id);
    }
    Step& on = add(Phase::dead, "bridges." + panel, at(panel), say::do_bridges_on(thing(panel), names),
                   say::state_dead_pair(), say::proves_bridged());
    looked_at(on, say::expect_bridged());
    on.subject = panel;
    on.after = before;
    for (const ZoneFigures* figures : all) {
      bridge(*figures, "dead.bridges." + panel);
      read.push_back("dead.bridge." + figures->zone);
    }
    Step& off = add(Phase::dead, "bridges_off." + panel, at(panel),
                    say::do_bridges_off(thing(panel), static_cast<long long>(names.size()), names),
                    say::state_dead_pair(), say::proves_bridges_off());
    looked_at(off, say::expect_bridges_off());
    off.subject = panel;
    off.after = read;
  }
  for (const ZoneFigures* figures : alone) bridge(*figures, "dead.loop." + figures->zone);
}

/// At the far end of a pair. Which detector is the last the file tells of one alone; of several all are named.
void Plan::bridge(const ZoneFigures& figures, const std::string& after) {
  const std::string& id = figures.zone;
  bool known = false;
  const std::vector<std::string> ids = on_pair(id, known);
  std::vector<std::string> names;
  for (const std::string& one : ids) names.push_back(thing(one));
  const bool certain = known && ids.size() == 1;
  const std::string last = certain         ? names.front()
                           : names.empty() ? text(say::name_last_unknown())
                                           : text(say::name_last_of(names));
  const std::string there = certain ? last : text(say::name_last());
  const bool alone = !site_.zones.at(id).loop.shared_return.none();
  Step& step = add(Phase::dead, "bridge." + id, ids.empty() ? Place{} : at(ids.front()),
                   alone ? say::do_bridge_alone(zone(id), last) : say::do_bridge(zone(id), last),
                   say::state_dead_bridged(), say::proves_bridge());
  reading(step, {say::probe_far_wire(zone(id), there), say::probe_far_back(zone(id), there)}, *figures.bridged);
  if (!certain) step.blanks.push_back({BlankKind::words, "", say::blank_last()});
  step.zone = step.subject = id;
  step.dangers = {say::danger_height()};
  step.after = wires_off(panel_of(id));
  step.after.push_back(after);
}

}  // namespace zoneproof::field
