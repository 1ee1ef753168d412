#include "results/levels.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "electric/backbone.hpp"
#include "electric/excerpt.hpp"
#include "electric/naming.hpp"
#include "messages/results.hpp"
#include "results/results.hpp"
#include "results/zone_named.hpp"
#include "site/relations.hpp"
#include "site/words.hpp"

namespace zoneproof::results {

using electric::Level;
using electric::SupplyCondition;
using electric::UnitCondition;
using Json = nlohmann::ordered_json;

namespace {

std::optional<std::vector<SupplyCondition>> conditions_asked(const std::string& named) {
  std::vector<SupplyCondition> all = electric::all_supply_conditions();
  if (named.empty()) return std::vector<SupplyCondition>{};  // all that the site can be in
  for (SupplyCondition condition : all) {
    if (named == electric::word(condition)) return std::vector<SupplyCondition>{condition};
  }
  return std::nullopt;
}

/// Why a condition cannot be asked of this site; nothing where it can.
std::optional<Message> condition_problem(const site::Site& site, const std::string& named) {
  const auto conditions = conditions_asked(named);
  if (!conditions) {
    std::vector<std::string> known;
    for (SupplyCondition condition : electric::all_supply_conditions()) known.emplace_back(electric::word(condition));
    return say::no_such_word(named, "--condition", known);
  }
  const std::vector<SupplyCondition> possible = electric::supply_conditions(site);
  if (named.empty() || std::find(possible.begin(), possible.end(), conditions->front()) != possible.end())
    return std::nullopt;
  return say::needs_two_supplies(named, static_cast<long long>(site.supplies.size()));
}

std::vector<ZoneLevels> solve(const site::Site& site, const std::vector<std::string>& zones,
                              const std::vector<SupplyCondition>& conditions, bool yield, const Progress& progress) {
  std::vector<ZoneLevels> all;
  const electric::Excerpts excerpts(site);
  for (const std::string& zone : zones) {
    const auto part = std::make_shared<const site::Site>(excerpts.of_zone(zone));
    if (progress) progress(electric::zone_words(site, zone));
    electric::LevelScope bare = {conditions, {UnitCondition::detached}};
    all.push_back({zone, "", electric::zone_levels(*part, zone, "", bare), {}, part});
    electric::LevelScope wired = {conditions, electric::all_unit_conditions()};
    wired.units.pop_back();  // detached: that is the one above
    for (const std::string& trigger : site::triggers_of_zone(site, zone)) {
      all.push_back({zone, trigger, electric::zone_levels(*part, zone, trigger, wired), {}, part});
    }
  }
  for (ZoneLevels& one : all) {
    if (yield && progress) progress(electric::zone_words(site, one.zone));
    one.chances = yield ? chances_of(*one.excerpt, one.levels) : std::vector<LevelChance>(one.levels.size());
  }
  return all;
}

Json json_of_corner(const Level& level, std::size_t which, const circuit::Extreme& extreme) {
  Json list = Json::array();
  for (const chain::CornerValue& value :
       electric::telling_corner(level.circuit.wiring, level.quantities.at(which), extreme)) {
    list.push_back({{"pointer", value.pointer}, {"value", json_of_number(value.value)}, {"unit", value.unit}});
  }
  return list;
}

Json json_of_reading(const Level& level, std::optional<std::size_t> which,
                     const std::optional<electric::ReadingChance>& chance) {
  if (!which) return nullptr;
  const circuit::WorstCase& worst = level.solved.cases.at(*which);
  const bool solved = level.solved.has_numbers(*which);
  const auto number = [&](double value) { return solved ? json_of_number(value) : Json(nullptr); };
  Json nodes = Json::array();
  for (const circuit::Quantity::Term& term : level.quantities.at(*which).terms) {
    nodes.push_back({{"node", level.circuit.wiring.network.node_name(term.node)}, {"weight", term.weight}});
  }
  return {{"low_V", number(worst.low.bound)},
          {"nominal_V", number(worst.nominal)},
          {"high_V", number(worst.high.bound)},
          {"low_exact", solved && static_cast<bool>(level.solved.low_exact.at(*which))},
          {"high_exact", solved && static_cast<bool>(level.solved.high_exact.at(*which))},
          {"low_corner", solved ? json_of_corner(level, *which, worst.low) : Json::array()},
          {"high_corner", solved ? json_of_corner(level, *which, worst.high) : Json::array()},
          {"nodes", std::move(nodes)},
          {"yield", json_of(chance)}};
}

Json json_of_seconds(const electric::Seconds& seconds, bool known) {
  if (!known) return nullptr;
  return {{"low_s", json_of_number(seconds.low)}, {"high_s", json_of_number(seconds.high)}};
}

Json json_of_meter(const std::optional<electric::MeterShows>& shows) {
  if (!shows) return nullptr;
  return {{"low_V", json_of_number(shows->low)},
          {"nominal_V", json_of_number(shows->nominal)},
          {"high_V", json_of_number(shows->high)}};
}

Json json_of_standing(const Level& level, const electric::StandingLevel& standing) {
  const auto reading = [&](const std::optional<std::size_t>& which) -> Json {
    if (!which || !standing.solved.has_numbers(*which)) return nullptr;
    const circuit::WorstCase& worst = standing.solved.cases.at(*which);
    return {{"low_V", json_of_number(worst.low.bound)},
            {"nominal_V", json_of_number(worst.nominal)},
            {"high_V", json_of_number(worst.high.bound)}};
  };
  const electric::DriveTiming& timing = level.pulse->timing;
  return {{"part", electric::word(standing.part)},
          {"lasts", level.circuit.terminal->spec->drive.is(site::TerminalDrive::alternating)
                        ? Json(nullptr)
                        : json_of_seconds(timing.of(standing.part), timing.known)},
          {"time_constant_s", json_of_number(standing.total_s)},
          {"panel", reading(level.panel)},
          {"unit_input", reading(level.unit)}};
}

/// Of a pulsed terminal: the parts of the period, what is left to settle when the panel looks, what a meter shows.
Json json_of_pulse(const Level& level) {
  if (!level.pulse) return nullptr;
  const electric::Pulse& pulse = *level.pulse;
  Json parts = Json::array(), gaps = Json::array();
  for (const electric::StandingLevel& standing : pulse.parts) parts.push_back(json_of_standing(level, standing));
  for (const chain::Gap& gap : pulse.gaps) gaps.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
  return {{"drive", site::word_of(*level.circuit.terminal->spec->drive.value)},
          {"period", json_of_seconds(pulse.timing.period, pulse.timing.known)},
          {"parts", std::move(parts)},
          {"left_at_look_pct", json_of_number(100.0 * pulse.left_at_look)},
          {"panel_meter", json_of_meter(pulse.panel_meter)},
          {"unit_meter", json_of_meter(pulse.unit_meter)},
          {"gaps", std::move(gaps)}};
}

}  // namespace

Answered<std::vector<ZoneLevels>> answer(const site::Site& site, const LevelsQuestion& question,
                                         const Progress& progress) {
  Answered<std::vector<ZoneLevels>> out;
  if (auto problem = condition_problem(site, question.condition)) out.problems.push_back(*std::move(problem));
  const ZoneFound zone = find_zone(site, question.zone);
  if (zone.problem) out.problems.push_back(*zone.problem);
  if (!out.problems.empty()) return out;
  std::vector<std::string> zones;
  if (zone.id.empty()) {
    for (const auto& entry : site.zones) zones.push_back(entry.first);
  } else {
    zones.push_back(zone.id);
  }
  out.answer = solve(site, zones, *conditions_asked(question.condition), question.yield, progress);
  return out;
}

Json json_of(const std::vector<ZoneLevels>& all) {
  Json list = Json::array();
  for (const ZoneLevels& one : all) {
    for (std::size_t i = 0; i < one.levels.size(); ++i) {
      const Level& level = one.levels[i];
      Json gaps = Json::array();
      for (const chain::Gap& gap : level.solved.gaps)
        gaps.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
      list.push_back({{"zone", one.zone},
                      {"trigger", one.trigger.empty() ? Json(nullptr) : Json(one.trigger)},
                      {"state", level.situation.state.name()},
                      {"supply", electric::word(level.situation.supply)},
                      {"unit", electric::word(level.situation.unit)},
                      {"panel", json_of_reading(level, level.panel, one.chances[i].panel)},
                      {"unit_input", json_of_reading(level, level.unit, one.chances[i].unit)},
                      {"pulse", json_of_pulse(level)},
                      {"gaps", std::move(gaps)}});
    }
  }
  return {{"levels", std::move(list)}};
}

}  // namespace zoneproof::results
