// What comes after the zones: arming both ways, the batteries on load, everything put back, the far end, off test.
#include <algorithm>
#include <map>
#include <set>

#include "electric/naming.hpp"
#include "field/picture_steps.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

using electric::SupplyCondition;

void Plan::arming() {
  for (const std::string& id : touched_.units()) {
    const site::Arming& arming = site_.units.at(id).arming;
    if (arming.output.none()) continue;
    std::string partitions;
    if (const auto output = site_.outputs.find(arming.output.id); output != site_.outputs.end()) {
      for (const site::Ref& partition : output->second.partitions)
        partitions += (partitions.empty() ? "" : ", ") + thing(partition.id);
    }
    if (partitions.empty()) partitions = text(say::name_all_partitions());
    const Probes probes{say::probe_arming(thing(id)), say::probe_minus(thing(id))};
    Step& armed = add(Phase::arming, "armed." + id, at(id), say::do_arm(partitions, thing(id)), say::state_armed(),
                      say::proves_armed());
    reading(armed, probes, arming_volts(site_, id, true));
    armed.subject = id;
    armed.notes = {say::note_armed()};
    Step& disarmed = add(Phase::arming, "disarmed." + id, at(id), say::do_disarm(thing(id)), say::state_disarmed(),
                         say::proves_disarmed());
    reading(disarmed, probes, arming_volts(site_, id, false));
    disarmed.subject = id;
    disarmed.after = {"arming.armed." + id};
  }
  armed_pictures();
}

void Plan::battery() {
  std::vector<std::string> off;
  const site::Site off_mains = just_off_mains(site_);
  SupplySide supplies(off_mains);
  for (const Source& source : sources_) {
    const bool listed = source.named() && !source.batteries.empty();
    const bool alone = source.named() && !listed && !source.other_battery;
    Step& mains = add(Phase::battery, "mains_off." + source.id, where(source), say::do_mains_off(source.words),
                      say::state_battery(),
                      alone    ? say::proves_mains_off_alone()
                      : listed ? say::proves_mains_off()
                               : say::proves_mains_off_perhaps());
    mains.subject = source.device;
    if (listed) looked_at(mains, say::expect_mains_gone(source.words));
    if (!alone && !listed) mains.blanks.push_back({BlankKind::words, "", say::blank_carries_on()});
    mains.blanks.push_back({BlankKind::time, "", say::blank_time()});
    mains.dangers = {say::danger_mains()};
    name_others(mains, source);  // a flat battery, and they are dead
    off.push_back(mains.id);
  }
  const auto supply = [&](const std::string& id, const site::Feed& feed) {
    if (electric::certainly_dead(site_, feed, SupplyCondition::battery_full)) return;
    Step& step = add(Phase::battery, "supply." + id, at(id), say::do_volts_battery(thing(id)), say::state_battery(),
                     say::proves_carries());
    reading(step, poles(thing(id)), supplies.volts_at(id, {SupplyCondition::battery_full}));
    step.subject = id;
    step.after = off;
  };
  for (const std::string& id : touched_.panels()) supply(id, site_.panels.at(id).feed);
  for (const std::string& id : touched_.units()) supply(id, site_.units.at(id).feed);
  for (const ZoneFigures& figures : figures_) {
    const std::string& id = figures.zone;
    const WireFigures& wire = figures.wires.front();
    const auto panel = site_.panels.find(panel_of(id));
    const bool dead = panel != site_.panels.end() &&
                      electric::certainly_dead(site_, panel->second.feed, SupplyCondition::battery_full);
    if (!figures.owns_pair || !wire.on_battery.panel || dead) continue;
    Step& step = add(Phase::battery, "rest." + id, at(panel_of(id)), say::do_rest_battery(zone(id)),
                     say::state_battery(), say::proves_rest_battery());
    reading(step, at_screws(id), *wire.on_battery.panel);
    step.zone = step.subject = id;
    step.after = off;
  }
  delivery_on_battery();
}

/// What carries the clips and hangs on the mains: backups, and what has none.
std::vector<Plan::Carrier> Plan::carriers() const {
  std::vector<Carrier> all;
  for (const auto& [id, backup] : site_.backups) all.push_back({id, backup.area.id, true});
  const auto straight = [&](const auto& things) {
    for (const auto& [id, thing] : things)
      if (thing.powered_by.none()) all.push_back({id, thing.area.id, false});
  };
  straight(site_.switches);
  straight(site_.injectors);
  straight(site_.routers);
  straight(site_.recorders);
  for (const auto& [id, uplink] : site_.uplinks)
    if (uplink.powered_by.none()) all.push_back({id, "", false});
  return all;
}

/// One clip of each unit, once every reading on battery is taken: the backups carry it then, not the readings.
void Plan::delivery_on_battery() {
  const std::vector<std::string> before = ids_of(Phase::battery);
  for (const Carrier& carrier : carriers()) {
    const std::string words = thing(carrier.id);
    Step& mains =
        add(Phase::battery, "network_off." + carrier.id, {carrier.area, carrier.id}, say::do_network_off(words),
            say::state_battery(), carrier.backed ? say::proves_network_goes_on() : say::proves_network_dead());
    looked_at(mains, carrier.backed ? say::expect_network_goes_on(words) : say::expect_network_dead(words));
    mains.subject = carrier.id;
    mains.blanks.push_back({BlankKind::time, "", say::blank_time()});
    mains.dangers = {say::danger_mains()};
    mains.after = before;
  }
  const std::vector<std::string> off = ids_of(Phase::battery);
  std::map<std::string, std::set<std::string>> units;  // with a trigger of the zone
  for (const ZoneFigures& figures : figures_)
    for (const std::string& id : site::triggers_of_zone(site_, figures.zone))
      units[figures.zone].insert(site_.triggers.at(id).unit.id);
  for (const std::string& unit : touched_.units()) {
    for (const ZoneFigures& figures : figures_) {
      if (units[figures.zone].count(unit) == 0) continue;
      PictureSteps picture(*this, figures.zone);
      if (!picture.wanted() || !picture.promised()) continue;
      picture.add_on_battery(unit, off);
      break;
    }
  }
}

void Plan::restore() {
  for (const Source& source : sources_) {
    Step& mains = add(Phase::restore, "mains." + source.id, where(source), say::do_mains_back(source.words),
                      say::state_running(), say::proves_mains_back());
    looked_at(mains, say::expect_mains_back());
    mains.subject = source.device;
    mains.dangers = {say::danger_mains()};
  }
  for (const Carrier& carrier : carriers()) {
    Step& mains = add(Phase::restore, "network." + carrier.id, {carrier.area, carrier.id},
                      say::do_mains_back(thing(carrier.id)), say::state_running(), say::proves_mains_back());
    looked_at(mains, say::expect_mains_back_at(thing(carrier.id)));
    mains.subject = carrier.id;
    mains.dangers = {say::danger_mains()};
  }
  const std::vector<std::string> powered = ids_of(Phase::restore);
  const site::Site on_mains = just_on_mains(site_);
  SupplySide supplies(on_mains);
  for (const ZoneFigures& figures : figures_) {
    const std::string& id = figures.zone;
    const WireFigures& wire = figures.wires.front();
    if (!figures.owns_pair || !wire.charging.panel) continue;
    Step& step = add(Phase::restore, "zone." + id, at(panel_of(id)), say::do_zone_again(zone(id)),
                     say::state_charging(), say::proves_again());
    reading(step, at_screws(id), *wire.charging.panel);
    step.zone = step.subject = id;
    step.after = powered;
  }
  for (const std::string& id : touched_.panels()) {
    Step& supply = add(Phase::restore, "supply." + id, at(id), say::do_supply_again(thing(id)), say::state_charging(),
                       say::proves_supply_again());
    reading(supply, poles(thing(id)), supplies.volts_at(id, {SupplyCondition::mains}));
    supply.subject = id;
    supply.after = powered;
  }
  Step& close = add(Phase::restore, "close", {}, say::do_close(), say::state_closed(), say::proves_closed());
  looked_at(close, say::expect_closed());
  close.dangers = {say::danger_siren(), say::danger_height()};
  close.after = ids_of(Phase::restore);
  close.after.pop_back();  // itself
  for (const std::string& id : touched_.panels()) {
    Step& log =
        add(Phase::restore, "log." + id, at(id), say::do_log_again(thing(id)), say::state_closed(), say::proves_log());
    looked_at(log, say::expect_log_again());
    log.subject = id;
    log.blanks.push_back({BlankKind::words, "", say::blank_entries()});
    log.after = {"restore.close"};
  }
}

/// What was received is told while the site is still on test: nobody trips anything for it again.
void Plan::acknowledgement() {
  for (const ZoneFigures& figures : figures_) {
    const std::string& id = figures.zone;
    const site::Zone& zone_here = site_.zones.at(id);
    const auto clip = std::find_if(steps.begin(), steps.end(), [&](const Step& step) {
      return step.zone == id && step.id == std::string(word(step.phase)) + ".clip." + id;
    });
    if (clip == steps.end()) continue;
    const bool pictured = clip->proves.code != say::proves_no_picture().code;
    const std::string tripped = std::string(word(clip->phase)) + ".time." + id;
    Step& far = add(Phase::acknowledgement, "zone." + id, {}, say::do_acknowledge(zone(id)), say::state_closed(),
                    pictured ? say::proves_acknowledged() : say::proves_acknowledged_text());
    const bool named = zone_here.number.known() && !zone_here.name.empty();
    far.expected_words =
        named ? say::expect_acknowledged(*zone_here.number.value, zone_here.name) : say::expect_acknowledged_unknown();
    far.zone = far.subject = id;
    for (const Message& label : {say::blank_account(), say::blank_text(), say::blank_operator()})
      far.blanks.push_back({BlankKind::words, "", label});
    far.blanks.push_back({BlankKind::time, "", say::blank_time()});
    far.after = {tripped};
  }
}

void Plan::off_test() {
  Step& call =
      add(Phase::off_test, "call", {}, say::do_off_test(site_.name), say::state_off_test(), say::proves_off_test());
  looked_at(call, say::expect_off_test());
  call.blanks.push_back({BlankKind::words, "", say::blank_operator()});
  call.blanks.push_back({BlankKind::time, "", say::blank_time()});
}

}  // namespace zoneproof::field
