#include "handover/answers.hpp"

#include <algorithm>

#include "electric/arming_check.hpp"
#include "electric/backbone.hpp"

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

RestAndAlarm reading(const Answers& answers, const std::string& zone, const std::string& trigger,
                     results::WhichReading which, UnitCondition unit) {
  RestAndAlarm told;
  bool rest_known = true, alarm_known = true;
  for (const results::ZoneLevels& one : answers.levels) {
    if (one.zone != zone || one.trigger != trigger) continue;
    for (const results::LevelLine& line : results::lines_of(one.levels)) {
      const electric::Happening happening = line.levels.front()->situation.state.happening;
      if (line.unit != unit) continue;
      const bool pulsed = line.levels.front()->pulse.has_value();
      const Volts range = pulsed ? results::meter_range_of(line, which) : results::range_of(line, which);
      if (happening == electric::Happening::rest) unite(told.rest, range, rest_known);
      if (happening == electric::Happening::alarm) unite(told.alarm, range, alarm_known);
      told.by_meter = told.by_meter || pulsed;
    }
  }
  return told;
}

}  // namespace

Answers answers_of(const site::Site& site, const results::Progress& progress) {
  Answers answers;
  answers.levels = *results::answer(site, results::LevelsQuestion{}, progress).answer;
  answers.supply = results::supply_answer(site);
  for (const auto& [id, unit] : site.units) {
    if (!unit.arming.output.known()) continue;
    answers.armed[id] = arming_of(site, id, true);
    answers.disarmed[id] = arming_of(site, id, false);
  }
  return answers;
}

RestAndAlarm at_unit(const Answers& answers, const std::string& zone, const std::string& trigger) {
  return reading(answers, zone, trigger, &Level::unit, UnitCondition::powered);
}

RestAndAlarm at_panel(const Answers& answers, const std::string& zone, const std::string& trigger) {
  return reading(answers, zone, trigger, &Level::panel,
                 trigger.empty() ? UnitCondition::detached : UnitCondition::powered);
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
