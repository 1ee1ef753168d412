// Power comes back: supplies, batteries, panels, units; then what is live and at rest.
#include "field/plan.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

using electric::SupplyCondition;

void Plan::power_up() {
  const site::Site bare = without_units(site_);
  SupplySide without(bare);
  for (const Source& source : sources_) power_supply(source, without);
  const std::vector<std::string> fed = ids_of(Phase::power_up);
  for (const std::string& id : touched_.panels()) {
    Step& boot = add(Phase::power_up, "panel." + id, at(id), say::do_panel_boot(thing(id)), say::state_mains(),
                     say::proves_panel());
    const site::PanelSpec* spec = site::panel_spec(site_, id);
    boot.expected = spec != nullptr ? up_to(spec->boot_s, "s") : not_filled(site_.panels.at(id).part, "s");
    boot.blanks.push_back({BlankKind::reading, "s", say::blank_seconds()});
    looked_at(boot, say::expect_panel_clear());
    boot.subject = id;
    boot.after = fed;
  }
  programming(ids_of(Phase::power_up));
  const site::Site on_mains = just_on_mains(site_);
  for (const std::string& id : touched_.units()) {
    power_unit(id, on_mains);
    set_cameras(id);
  }
}

void Plan::power_supply(const Source& source, SupplySide& bare) {
  Step& mains = add(Phase::power_up, "mains." + source.id, where(source), say::do_mains_on(source.words),
                    say::state_mains_alone(), say::proves_mains());
  reading(mains, poles(source.words), output_of(bare, source, {SupplyCondition::mains_no_battery}));
  mains.subject = source.device;
  mains.dangers = {say::danger_mains(), say::danger_live()};
  if (source.other_battery) mains.notes.push_back(say::note_other_battery_back());
  for (const Battery& battery : source.batteries) {
    const Place place = source.named() ? at(battery.id) : where(source);
    const std::string subject = source.named() ? battery.id : source.device;
    Step& posts = add(Phase::power_up, "battery_alone." + battery.id, place,
                      source.named() ? say::do_battery_measure(battery.words) : say::do_batteries_measure(source.words),
                      say::state_battery_off(), say::proves_battery());
    reading(posts, {say::probe_post_plus(battery.words), say::probe_post_minus(battery.words)},
            source.named() ? battery_volts(site_, battery.id) : not_filled(source.lacks, "V"));
    if (!source.named()) posts.blanks.push_back({BlankKind::words, "", say::blank_more_batteries()});
    posts.subject = subject;
    posts.dangers = {say::danger_battery()};
    posts.after = {"power_up.mains." + source.id};
    Step& on =
        add(Phase::power_up, "battery." + battery.id, place,
            source.named() ? say::do_battery_on(battery.words, source.words) : say::do_batteries_on(source.words),
            say::state_mains(), say::proves_battery_on());
    reading(on, poles(source.words),
            output_of(bare, source, {SupplyCondition::mains, SupplyCondition::mains_flat_battery}));
    on.subject = subject;
    on.dangers = {say::danger_battery()};
    on.after = {"power_up.battery_alone." + battery.id};
  }
}

void Plan::power_unit(const std::string& id, const site::Site& on_mains) {
  const std::vector<std::string> before = [&] {
    std::vector<std::string> ids;
    for (const std::string& panel : touched_.panels()) ids.push_back("power_up.panel." + panel);
    for (const std::string& step : ids_of(Phase::power_up)) {
      const bool fed = step.rfind("power_up.battery.", 0) == 0 || step.rfind("power_up.mains.", 0) == 0;
      if (fed || step.rfind("power_up.program.", 0) == 0) ids.push_back(step);
    }
    return ids;
  }();
  Step& plug =
      add(Phase::power_up, "plug." + id, at(id), say::do_plug(thing(id)), say::state_mains(), say::proves_polarity());
  reading(plug, {say::probe_plug_plus(thing(id)), say::probe_plug_minus(thing(id))},
          volts_at_plug(on_mains, id, SupplyCondition::mains));
  plug.subject = id;
  plug.dangers = {say::danger_polarity()};
  plug.after = before;
  Step& on =
      add(Phase::power_up, "unit." + id, at(id), say::do_unit_on(thing(id)), say::state_mains(), say::proves_unit());
  const site::UnitSpec* spec = site::unit_spec(site_, id);
  on.expected = spec != nullptr ? up_to(spec->boot_s, "s") : not_filled(site_.units.at(id).part, "s");
  on.blanks.push_back({BlankKind::reading, "s", say::blank_seconds()});
  on.subject = id;
  on.after = {"power_up.plug." + id};
  Step& typed = add(Phase::power_up, "settings." + id, at(id), say::do_settings(thing(id)), say::state_mains_unit(),
                    say::proves_settings());
  looked_at(typed, say::expect_settings());
  typed.subject = id;
  typed.after = {"power_up.unit." + id};
}

void Plan::live() {
  const auto about = [&](Step& step, const std::string& id) {
    step.subject = id;
    step.dangers.push_back(say::danger_live());
  };
  const site::Site on_mains = just_on_mains(site_);  // the battery went on a moment ago and still holds the output down
  SupplySide supplies(on_mains);
  const auto supply = [&](const std::string& id) {
    Step& step =
        add(Phase::live, "supply." + id, at(id), say::do_volts(thing(id)), say::state_charging(), say::proves_supply());
    reading(step, poles(thing(id)), supplies.volts_at(id, {SupplyCondition::mains}));
    about(step, id);
    return &step;
  };
  for (const std::string& id : touched_.panels()) supply(id);
  for (const std::string& id : touched_.units()) supply(id);
  for (const std::string& id : touched_.detectors()) {
    const bool fed = !site_.detectors.at(id).feed.from.none();
    if (fed && touched_.may_open(id)) supply(id)->dangers.push_back(say::danger_height());
  }
  for (const std::string& unit : touched_.units()) {
    for (const std::string& panel : panels_of_unit(unit)) {
      Step& step = add(Phase::live, "shift." + unit + "." + panel, at(unit), say::do_shift(thing(unit), thing(panel)),
                       say::state_charging(), say::proves_shift());
      reading(step, {say::probe_minus(thing(unit)), say::probe_minus(thing(panel))},
              supplies.negative_shift(unit, panel, SupplyCondition::mains));
      step.notes = {say::note_long_lead_volts(thing(panel))};
      about(step, unit);
    }
  }
  for (const ZoneFigures& figures : figures_) {
    const std::string& id = figures.zone;
    const WireFigures& wire = figures.wires.front();
    if (!figures.owns_pair || !wire.charging.panel) continue;
    Step& step = add(Phase::live, "rest." + id, at(panel_of(id)), say::do_rest(zone(id)), say::state_charging(),
                     say::proves_rest());
    reading(step, at_screws(id), *wire.charging.panel);
    about(step, id);
    step.zone = id;
  }
  settled();
}

/// What comes next is expected on a supply that stands at its voltage. How long a battery holds it down nobody knows:
/// it hangs on how empty it was.
void Plan::settled() {
  const std::vector<std::string> read = ids_of(Phase::live);
  SupplySide supplies(site_);
  for (const Source& source : sources_) {
    if (source.batteries.empty()) continue;
    Step& step = add(Phase::live, "settled." + source.id, where(source), say::do_settled(source.words),
                     say::state_running(), say::proves_settled());
    reading(step, poles(source.words), output_of(supplies, source, {SupplyCondition::mains}));
    step.blanks.push_back({BlankKind::time, "", say::blank_time()});
    step.subject = source.device;
    step.dangers.push_back(say::danger_live());
    step.after = read;
  }
}

}  // namespace zoneproof::field
