#include "handover/answers.hpp"

#include <algorithm>

#include "electric/arming_check.hpp"
#include "electric/backbone.hpp"
#include "electric/excerpt.hpp"

namespace zoneproof::handover {

using electric::Level;
using electric::UnitCondition;

namespace {

/// Both ranges or, where one is not known, nothing: half a range would be taken for a whole one.
void unite(Volts& all, const Volts& more, bool& known) {
  if (!more) known = false;
  if (!known || !more) {
    all.reset();
  } else if (!all) {
    all = more;
  } else {
    all->low = std::min(all->low, more->low);
    all->high = std::max(all->high, more->high);
  }
}

Volts range_of(const electric::Solved& solved, std::size_t which) {
  if (!solved.has_numbers(which)) return std::nullopt;
  return results::VoltRange{solved.cases.at(which).low.bound, solved.cases.at(which).high.bound};
}

Volts arming_of(const site::Site& site, const std::string& unit, bool armed) {
  Volts all;
  bool known = true;
  for (const electric::SupplyCondition supply : electric::arming_conditions(site, unit)) {
    const electric::ArmingPoint point = electric::solve_arming(site, unit, supply, armed, false);
    unite(all, point.quantities.empty() ? Volts{} : range_of(point.solved, 0), known);
  }
  return all;
}

RestAndAlarm reading(const std::vector<Level>& levels, results::WhichReading which, UnitCondition unit) {
  RestAndAlarm told;
  bool rest_known = true, alarm_known = true;
  for (const results::LevelLine& line : results::lines_of(levels)) {
    const electric::Happening happening = line.levels.front()->situation.state.happening;
    if (line.unit != unit) continue;
    const bool pulsed = line.levels.front()->pulse.has_value();
    const Volts range = pulsed ? results::meter_range_of(line, which) : results::range_of(line, which);
    if (happening == electric::Happening::rest) unite(told.rest, range, rest_known);
    if (happening == electric::Happening::alarm) unite(told.alarm, range, alarm_known);
    told.by_meter = told.by_meter || pulsed;
  }
  return told;
}

/// What was not solved is not known.
const ZoneReadings& readings_at(const Answers& answers, const std::string& zone, const std::string& trigger) {
  static const ZoneReadings nothing;
  const auto found = answers.readings.find({zone, trigger});
  return found == answers.readings.end() ? nothing : found->second;
}

}  // namespace

void ReadingsTaken::take(const std::string& zone, const electric::LevelsOfZone& levels) {
  Readings taken;
  taken[{zone, ""}].at_panel = reading(levels.bare, &Level::panel, UnitCondition::detached);
  for (const auto& [trigger, wired] : levels.by_trigger) {
    taken[{zone, trigger}] = {reading(wired, &Level::unit, UnitCondition::powered),
                              reading(wired, &Level::panel, UnitCondition::powered)};
  }
  const std::lock_guard<std::mutex> lock(mutex_);
  readings_.merge(taken);
}

Readings ReadingsTaken::readings() && { return std::move(readings_); }

Readings readings_of(const site::Site& site) {
  ReadingsTaken taken;
  const electric::Excerpts excerpts(site);
  for (const auto& entry : site.zones)
    taken.take(entry.first, electric::levels_of_zone(excerpts.of_zone(entry.first), entry.first));
  return std::move(taken).readings();
}

Answers answers_of(const site::Site& site, Readings readings) {
  Answers answers;
  answers.readings = std::move(readings);
  answers.supply = results::supply_answer(site);
  for (const auto& [id, unit] : site.units) {
    if (!unit.arming.output.known()) continue;
    answers.armed[id] = arming_of(site, id, true);
    answers.disarmed[id] = arming_of(site, id, false);
  }
  return answers;
}

RestAndAlarm at_unit(const Answers& answers, const std::string& zone, const std::string& trigger) {
  return readings_at(answers, zone, trigger).at_unit;
}

RestAndAlarm at_panel(const Answers& answers, const std::string& zone, const std::string& trigger) {
  return readings_at(answers, zone, trigger).at_panel;
}

Volts supply_at(const site::Site& site, const Answers& answers, const std::string& consumer) {
  Volts all;
  bool known = true;
  for (const electric::SupplyPoint& point : answers.supply.points) {
    for (std::size_t i = 0; i < point.consumers.size(); ++i) {
      const electric::Consumer& one = point.consumers[i];
      if (one.id == consumer && !electric::certainly_dead(site, *one.feed, point.condition))
        unite(all, range_of(point.solved, i), known);
    }
  }
  return all;
}

Volts shift_of(const site::Site& site, const Answers& answers, const std::string& unit, const std::string& panel) {
  Volts all;
  bool known = true;
  for (const electric::SupplyPoint& point : answers.supply.points)
    for (std::size_t i = 0; i < point.shifted_units.size(); ++i)
      if (point.shifted_units[i] == unit + "/" + panel)
        unite(all,
              electric::negatives_apart(site, point, unit, panel) ? Volts{}
                                                                  : range_of(point.solved, point.consumers.size() + i),
              known);
  return all;
}

}  // namespace zoneproof::handover
