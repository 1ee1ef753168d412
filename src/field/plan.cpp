#include "field/plan.hpp"

#include <algorithm>
#include <iterator>
#include <set>

#include "chain/channels.hpp"
#include "electric/naming.hpp"
#include "field/positions.hpp"
#include "messages/field.hpp"
#include "site/relations.hpp"

namespace zoneproof::field {

Plan::Plan(const site::Site& site, const std::vector<ToldOfZone>& told)
    : site_(site),
      told_(told),
      touched_(site),
      sources_(sources_of(site, touched_)),
      figures_(zone_figures(site, touched_)) {}

Step& Plan::add(Phase phase, const std::string& id, Place place, Message what, Message state, Message proves) {
  Step step;
  step.id = std::string(word(phase)) + "." + id;
  step.phase = phase;
  step.place = std::move(place);
  step.what = std::move(what);
  step.state = std::move(state);
  step.proves = std::move(proves);
  steps.push_back(std::move(step));
  return steps.back();
}

void Plan::reading(Step& step, Probes probes, Expected expected) {
  step.blanks.push_back({BlankKind::reading, expected.unit, say::blank_reading()});
  step.probes = std::move(probes);
  step.expected = std::move(expected);
}

void Plan::looked_at(Step& step, Message expected) {
  step.expected_words = std::move(expected);
  step.blanks.push_back({BlankKind::yes_no, "", say::blank_done()});
}

Place Plan::at(const std::string& device) const { return {site::area_of(site_, device), device}; }

std::string Plan::thing(const std::string& id) const { return electric::thing_words(site_, id); }
std::string Plan::zone(const std::string& id) const { return electric::zone_words(site_, id); }
std::string Plan::panel_of(const std::string& zone) const { return site_.zones.at(zone).panel.id; }

/// Red on the higher one: below a positive common that is the common screw.
Probes Plan::at_screws(const std::string& id) const {
  const std::string words = zone(id), panel = thing(panel_of(id));
  Probes probes{say::probe_screw(words, panel), say::probe_common(words, panel)};
  if (reads_downward(site_, id)) std::swap(probes.red, probes.black);
  return probes;
}

Probes Plan::poles(const std::string& thing) { return {say::probe_plus(thing), say::probe_minus(thing)}; }

std::vector<std::string> Plan::ids_of(Phase phase) const {
  std::vector<std::string> ids;
  for (const Step& step : steps) {
    if (step.phase == phase) ids.push_back(step.id);
  }
  return ids;
}

Place Plan::where(const Source& source) const { return source.device.empty() ? Place{} : at(source.device); }

Expected Plan::output_of(SupplySide& supplies, const Source& source,
                         const std::vector<electric::SupplyCondition>& conditions) {
  return source.named() ? supplies.volts_at(source.id, conditions) : not_filled(source.lacks, "V");
}

std::vector<std::string> Plan::panels_of_unit(const std::string& unit) const {
  std::set<std::string> panels;
  for (const std::string& id : touched_.triggers()) {
    const site::Trigger& trigger = site_.triggers.at(id);
    if (trigger.unit.id != unit || !trigger.at_panel.known()) continue;
    if (site_.panels.count(trigger.at_panel.id) != 0) panels.insert(trigger.at_panel.id);
  }
  if (const std::string arms = arming_source_of(unit); site_.panels.count(arms) != 0) panels.insert(arms);
  return {panels.begin(), panels.end()};
}

std::string Plan::detector_of(const std::string& zone) const {
  std::vector<std::string> there;
  for (const auto& ids : {site::alarming_detectors_of_zone(site_, zone), site::detectors_of_zone(site_, zone)})
    std::copy_if(ids.begin(), ids.end(), std::back_inserter(there),
                 [&](const std::string& id) { return site_.detectors.count(id) != 0; });
  const auto free = std::find_if(there.begin(), there.end(), [&](const auto& id) { return touched_.may_trip(id); });
  if (free != there.end()) return *free;
  if (!there.empty()) return there.front();
  const std::string camera = seen_by_camera(zone);
  return camera.empty() ? panel_of(zone) : camera;
}

std::string Plan::seen_by_camera(const std::string& zone) const {
  for (const std::string& id : site::triggers_of_zone(site_, zone)) {
    if (!site_.triggers.at(id).source.is(site::TriggerSource::camera_analytics)) continue;
    std::vector<chain::Gap> gaps;
    const std::vector<std::string> cameras = chain::cameras_of_trigger(site_, id, gaps);
    if (!cameras.empty()) return cameras.front();
  }
  return "";
}

std::vector<std::string> Plan::triggers_in_order() const {
  std::vector<std::string> ids;
  for (const std::string& zone : site::zones_in_order(site_))
    std::copy_if(touched_.triggers().begin(), touched_.triggers().end(), std::back_inserter(ids),
                 [&](const std::string& id) { return site_.triggers.at(id).zone.id == zone; });
  return ids;
}

std::string Plan::partition_words(const site::Ref& partition) const {
  return site_.partitions.count(partition.id) == 0 ? text(say::name_all_partitions()) : thing(partition.id);
}

void Plan::agree(Step& step, const std::string& id) const {
  if (site_.zones.at(id).type.is(site::ZoneType::technical)) step.notes.push_back(say::note_agreed(zone(id)));
}

void Plan::tell_where_tripped(Step& step, const std::string& zone) const {
  const std::string camera = seen_by_camera(zone);
  if (!camera.empty() && site_.detectors.count(step.place.device) != 0)
    step.notes.push_back(say::note_where_camera_looks(thing(camera), thing(step.place.device)));
}

void Plan::warn_of_height(Step& step) const {
  const auto detector = site_.detectors.find(step.place.device);
  if (detector != site_.detectors.end() && detector->second.mount.z_m.known())
    step.dangers.push_back(say::danger_height());
}

std::vector<chain::Evidence> Plan::told_of(const std::string& zone) const {
  const auto found = std::find_if(told_.begin(), told_.end(), [&](const ToldOfZone& one) { return one.zone == zone; });
  return found == told_.end() ? std::vector<chain::Evidence>{} : found->evidence;
}

bool Plan::may_trip(const std::string& zone) const {
  const std::vector<std::string> all = site::alarming_detectors_of_zone(site_, zone);
  return all.empty() || std::any_of(all.begin(), all.end(), [&](const auto& id) { return touched_.may_trip(id); });
}

void Plan::common_dangers() {
  std::map<std::string, std::vector<std::string>> watched;  // zones that are dead meanwhile, by their areas
  for (const std::string& id : touched_.zones()) {
    if (!site_.zones.at(id).type.is(site::ZoneType::technical)) continue;
    std::set<std::string> areas;
    for (const std::string& detector : site::detectors_of_zone(site_, id)) areas.insert(site::area_of(site_, detector));
    for (const std::string& area : areas) watched[area].push_back(zone(id));
  }
  for (Step& step : steps) {
    const bool dead = step.phase == Phase::dead || step.phase == Phase::install || step.phase == Phase::power_up;
    if (const auto here = watched.find(step.place.area); dead && here != watched.end() && !step.place.area.empty())
      step.dangers.push_back(say::danger_alone(here->second));
    const bool live = step.phase == Phase::zones || step.phase == Phase::arming || step.phase == Phase::battery ||
                      step.phase == Phase::restore;
    if (live && step.probes) step.dangers.push_back(say::danger_live());
  }
}

std::vector<std::string> Plan::on_pair(const std::string& zone, bool& known) const {
  const site::Loop& loop = site_.zones.at(zone).loop;
  std::set<std::string> ids;
  known = loop.contacts_complete.yes();
  for (const auto& entry : loop.contacts) {
    const std::string& id = entry.second.detector.id;
    if (site_.detectors.count(id) != 0)
      ids.insert(id);
    else
      known = false;
  }
  return {ids.begin(), ids.end()};
}

}  // namespace zoneproof::field
