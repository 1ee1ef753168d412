#include "results/supply.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "chain/limit.hpp"
#include "results/results.hpp"
#include "site/relations.hpp"

namespace zoneproof::results {

using chain::Evidence;
using electric::SupplyPoint;
using Json = nlohmann::ordered_json;

namespace {

/// Discharges as the rulebook demands them; none where it does not say for how long.
std::vector<BatteryRun> discharges(const site::Site& site) {
  const chain::Limit standby = chain::limit_of(site, "standby_h");
  const chain::Limit alarm = chain::limit_of(site, "alarm_duration_h");
  std::vector<BatteryRun> runs;
  if (!standby.value || !alarm.value) return runs;
  for (const auto& entry : site.supplies) {
    if (!site::has_battery(site, entry.first)) continue;
    const electric::StandbyDemand demand = {*standby.value, *alarm.value};
    runs.push_back({entry.first, electric::discharge(site, entry.first, demand)});
  }
  return runs;
}

Json json_of_span(const electric::Solved& all, std::size_t which) {
  const circuit::WorstCase& worst = all.cases.at(which);
  const bool solved = all.has_numbers(which);
  const auto number = [&](double value) { return solved ? json_of_number(value) : Json(nullptr); };
  return {
      {"low_V", number(worst.low.bound)}, {"nominal_V", number(worst.nominal)}, {"high_V", number(worst.high.bound)}};
}

Json json_of_drawn(const electric::Drawn& drawn) {
  return {{"nominal_A", json_of_number(drawn.nominal_A)},
          {"most_A", json_of_number(drawn.most_A)},
          {"starting_A", json_of_number(drawn.starting_A)}};
}

Json json_of_point(const site::Site& site, const SupplyPoint& point) {
  Json loads = Json::array(), shifts = Json::array(), supplies = Json::array();
  for (std::size_t i = 0; i < point.consumers.size(); ++i) {
    Json load = json_of_span(point.solved, i);
    load["id"] = point.consumers[i].id;
    load["off"] = electric::certainly_dead(site, *point.consumers[i].feed, point.condition);
    load["current"] = json_of_drawn(electric::drawn_by(site, point, i));
    loads.push_back(std::move(load));
  }
  for (std::size_t k = 0; k < point.shifted_units.size(); ++k) {
    Json shift = json_of_span(point.solved, point.consumers.size() + k);
    const std::size_t slash = point.shifted_units[k].find('/');
    shift["unit"] = point.shifted_units[k].substr(0, slash);
    shift["panel"] = point.shifted_units[k].substr(slash + 1);
    shifts.push_back(std::move(shift));
  }
  for (const auto& [id, supply] : site.supplies) {
    Json outputs = Json::object();
    if (const site::SupplySpec* spec = spec_of(site, supply)) {
      for (const auto& entry : spec->outputs)
        outputs[entry.first] = json_of_drawn(electric::drawn_from(site, point, id, entry.first));
    }
    supplies.push_back({{"id", id},
                        {"current", json_of_drawn(electric::drawn_from(site, point, id, ""))},
                        {"outputs", std::move(outputs)}});
  }
  return {{"condition", electric::word(point.condition)},
          {"loads", std::move(loads)},
          {"negative_shifts", std::move(shifts)},
          {"supplies", std::move(supplies)}};
}

Json json_of_battery(const BatteryRun& run) {
  Json points = Json::array(), gaps = Json::array();
  for (const electric::DischargePoint& point : run.discharge.points) {
    points.push_back({{"hours", json_of_number(point.hours)},
                      {"share_left", json_of_number(point.share_left)},
                      {"battery_V", json_of_number(point.battery_V)},
                      {"current_A", json_of_number(point.current_A)}});
  }
  for (const chain::Gap& gap : run.discharge.gaps) gaps.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
  return {{"supply", run.supply},
          {"autonomy_h", json_of_number(run.discharge.autonomy_h)},
          {"ended_by", run.discharge.ended_by},
          {"usable_Ah", json_of_number(run.discharge.usable_Ah)},
          {"points", std::move(points)},
          {"gaps", std::move(gaps)}};
}

}  // namespace

bool SupplyAnswer::all_proven() const {
  return std::all_of(evidence.begin(), evidence.end(),
                     [](const Evidence& one) { return one.verdict == chain::Verdict::proven; });
}

const site::SupplySpec* spec_of(const site::Site& site, const site::Supply& supply) {
  const site::Part* part = site::part_of(site, supply.part);
  return part != nullptr && part->supply ? &*part->supply : nullptr;
}

SupplyAnswer supply_answer(const site::Site& site) {
  SupplyAnswer answer = {{}, discharges(site), electric::check_supply(site)};
  for (electric::SupplyCondition condition : electric::supply_conditions(site)) {
    answer.points.push_back(electric::solve_supply(site, condition));
  }
  for (Evidence& evidence : electric::check_standby(site)) answer.evidence.push_back(std::move(evidence));
  return answer;
}

Json json_of(const site::Site& site, const SupplyAnswer& answer) {
  Json conditions = Json::array(), batteries = Json::array();
  for (const SupplyPoint& point : answer.points) conditions.push_back(json_of_point(site, point));
  for (const BatteryRun& run : answer.batteries) batteries.push_back(json_of_battery(run));
  return {{"conditions", std::move(conditions)},
          {"batteries", std::move(batteries)},
          {"evidence", json_of(answer.evidence)},
          {"all_proven", answer.all_proven()}};
}

}  // namespace zoneproof::results
