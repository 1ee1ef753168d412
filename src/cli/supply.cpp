#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "cli/results.hpp"
#include "cli/table.hpp"
#include "electric/limit.hpp"
#include "electric/naming.hpp"
#include "electric/standby.hpp"
#include "electric/supply_check.hpp"
#include "messages/cli.hpp"
#include "site/file.hpp"
#include "site/relations.hpp"

namespace zoneproof::cli {

namespace {

using chain::Evidence;
using chain::Verdict;
using electric::SupplyPoint;
using Json = nlohmann::ordered_json;

/// Rows of a discharge table: enough to see its shape on a page.
constexpr std::size_t kDischargeRows = 12;

struct BatteryRun {
  std::string supply;
  electric::Discharge discharge;
};

struct SupplyAnswer {
  const site::Site& site;
  std::vector<SupplyPoint> points;  ///< one a condition
  std::vector<BatteryRun> batteries;
  std::vector<Evidence> evidence;

  bool all_proven() const {
    return std::all_of(evidence.begin(), evidence.end(),
                       [](const Evidence& one) { return one.verdict == Verdict::proven; });
  }
};

/// Discharges as the rulebook demands them; none where it does not say for how long.
std::vector<BatteryRun> discharges(const site::Site& site) {
  const electric::Limit standby = electric::limit_of(site, "standby_h");
  const electric::Limit alarm = electric::limit_of(site, "alarm_duration_h");
  std::vector<BatteryRun> runs;
  if (!standby.value || !alarm.value) return runs;
  for (const auto& entry : site.supplies) {
    if (!site::has_battery(site, entry.first)) continue;
    const electric::StandbyDemand demand = {*standby.value, *alarm.value};
    runs.push_back({entry.first, electric::discharge(site, entry.first, demand)});
  }
  return runs;
}

SupplyAnswer answer_of(const site::Site& site) {
  SupplyAnswer answer = {site, {}, discharges(site), electric::check_supply(site)};
  for (electric::SupplyCondition condition : electric::supply_conditions(site)) {
    answer.points.push_back(electric::solve_supply(site, condition));
  }
  for (Evidence& evidence : electric::check_standby(site)) answer.evidence.push_back(std::move(evidence));
  return answer;
}

/// Points of a discharge, evenly thinned, its first and last kept.
std::vector<electric::DischargePoint> thinned(const std::vector<electric::DischargePoint>& points) {
  if (points.size() <= kDischargeRows) return points;
  std::vector<electric::DischargePoint> out;
  for (std::size_t i = 0; i < kDischargeRows; ++i)
    out.push_back(points[i * (points.size() - 1) / (kDischargeRows - 1)]);
  return out;
}

// ---- For people ----------------------------------------------------------------------------------------------------

std::string figure(double value, const char* unit) {
  return std::isfinite(value) ? shown({value, unit, 3}) : text(say::not_known_short());
}

std::string range_words(const electric::Consumer& consumer) {
  if (consumer.min_V == nullptr || !consumer.min_V->known() || !consumer.max_V->known())
    return text(say::not_known_short());
  return text(say::from_to({consumer.min_V->high, "V", 3}, {consumer.max_V->low, "V", 3}));
}

void print_loads(const SupplyAnswer& answer, const SupplyPoint& point, Screen& screen) {
  screen.heading(text(say::loads_when(electric::supply_words(point.condition))));
  Table table({{text(say::column_load()), false, 16},
               {text(say::column_lowest()), true},
               {text(say::column_nominal()), true},
               {text(say::column_high()), true},
               {text(say::column_works_from()), true},
               {text(say::column_current()), true},
               {text(say::column_most()), true}});
  for (std::size_t i = 0; i < point.consumers.size(); ++i) {
    const electric::Consumer& consumer = point.consumers[i];
    const circuit::WorstCase& volts = point.solved.cases.at(i);
    std::vector<Cell> row = {{electric::thing_words(answer.site, consumer.id)}};
    if (electric::certainly_dead(answer.site, *consumer.feed, point.condition)) {
      row.push_back({text(say::load_is_off()), Style::faint});
    } else if (!point.solved.has_numbers(i)) {
      row.insert(row.end(), 3, Cell{text(say::not_known_short()), Style::unanswered});
    } else {
      for (double value : {volts.low.bound, volts.nominal, volts.high.bound}) row.push_back({figure(value, "V")});
      row.push_back({range_words(consumer)});
      const electric::Drawn drawn = electric::drawn_by(answer.site, point, i);
      row.push_back({figure(drawn.nominal_A, "A")});
      row.push_back({figure(drawn.most_A, "A")});
    }
    table.add(std::move(row));
  }
  table.print(screen, 2);
}

void print_shifts(const SupplyAnswer& answer, const SupplyPoint& point, Screen& screen) {
  for (std::size_t k = 0; k < point.shifted_units.size(); ++k) {
    const circuit::WorstCase& shift = point.solved.cases.at(point.consumers.size() + k);
    if (!point.solved.has_numbers(point.consumers.size() + k)) continue;
    const std::size_t slash = point.shifted_units[k].find('/');
    screen.line(text(say::negative_shift(electric::thing_words(answer.site, point.shifted_units[k].substr(0, slash)),
                                         electric::thing_words(answer.site, point.shifted_units[k].substr(slash + 1)),
                                         {shift.low.bound, "V", 3}, {shift.high.bound, "V", 3})),
                2);
  }
}

const site::SupplySpec* spec_of(const site::Site& site, const site::Supply& supply) {
  const site::Part* part = site::part_of(site, supply.part);
  return part != nullptr && part->supply ? &*part->supply : nullptr;
}

std::string rating_words(const site::Value& value) {
  return value.known() ? shown({value.low, "A", 3}) : text(say::not_known_short());
}

/// Of each output, the condition in which most is asked of it.
void print_outputs(const SupplyAnswer& answer, Screen& screen) {
  Table table({{text(say::column_output()), false, 16},
               {text(say::column_condition()), false, 14},
               {text(say::column_current()), true},
               {text(say::column_most()), true},
               {text(say::column_starting()), true},
               {text(say::column_rating()), true},
               {text(say::column_limit()), true}});
  for (const auto& [id, supply] : answer.site.supplies) {
    const site::SupplySpec* spec = spec_of(answer.site, supply);
    if (spec == nullptr) continue;
    const auto add = [&, supply_id = id](const std::string& output, const std::string& name, const site::Value& rating,
                                         const site::Value* limit) {
      const SupplyPoint* worst = nullptr;
      electric::Drawn most;
      for (const SupplyPoint& point : answer.points) {
        const electric::Drawn drawn = electric::drawn_from(answer.site, point, supply_id, output);
        if (worst != nullptr && drawn.most_A <= most.most_A) continue;
        worst = &point;
        most = drawn;
      }
      if (worst == nullptr) return;  // nothing is solved
      table.add({{name},
                 {electric::supply_words(worst->condition)},
                 {figure(most.nominal_A, "A")},
                 {figure(most.most_A, "A")},
                 {figure(most.starting_A, "A")},
                 {rating_words(rating)},
                 {limit != nullptr ? rating_words(*limit) : ""}});
    };
    add("", electric::thing_words(answer.site, id), spec->rating_A, nullptr);
    for (const auto& [output, output_spec] : spec->outputs) {
      add(output, text(say::output_indented(output_spec.name.empty() ? output : output_spec.name)),
          output_spec.rating_A, &output_spec.limit_A);
    }
  }
  if (table.empty()) return;
  screen.heading(text(say::heading_outputs()));
  table.print(screen, 2);
}

void print_battery(const SupplyAnswer& answer, const BatteryRun& run, Screen& screen) {
  screen.heading(text(say::heading_battery(electric::thing_words(answer.site, run.supply))));
  for (const chain::Gap& gap : run.discharge.gaps)
    screen.line(text(say::rests_on(place_words(answer.site, gap.pointer))), 2);
  if (run.discharge.points.empty()) return;
  screen.line(text(say::battery_capacity({run.discharge.usable_Ah, "Ah", 3}, {run.discharge.autonomy_h, "h", 3})), 2);
  Table table({{text(say::column_hours()), true},
               {text(say::column_left()), true},
               {text(say::column_battery_volts()), true},
               {text(say::column_current()), true}});
  for (const electric::DischargePoint& point : thinned(run.discharge.points)) {
    table.add({{shown({point.hours, "h", 3})},
               {shown({100.0 * point.share_left, "pct", 3})},
               {figure(point.battery_V, "V")},
               {figure(point.current_A, "A")}});
  }
  table.print(screen, 2);
}

void print_answer(const SupplyAnswer& answer, Screen& screen) {
  screen.line(answer.site.name, 0, Style::heading);
  for (const SupplyPoint& point : answer.points) {
    print_loads(answer, point, screen);
    print_shifts(answer, point, screen);
  }
  print_outputs(answer, screen);
  for (const BatteryRun& run : answer.batteries) print_battery(answer, run, screen);
  if (answer.evidence.empty()) return screen.line(text(say::nothing_is_fed()));
  screen.heading(text(answer.all_proven() ? say::all_supply_proven() : say::heading_not_proven()));
  for (const Evidence& evidence : answer.evidence) {
    if (evidence.verdict != Verdict::proven) print_evidence(screen, answer.site, evidence);
  }
}

// ---- For programs --------------------------------------------------------------------------------------------------

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

Json json_of_point(const SupplyAnswer& answer, const SupplyPoint& point) {
  Json loads = Json::array(), shifts = Json::array(), supplies = Json::array();
  for (std::size_t i = 0; i < point.consumers.size(); ++i) {
    Json load = json_of_span(point.solved, i);
    load["id"] = point.consumers[i].id;
    load["off"] = electric::certainly_dead(answer.site, *point.consumers[i].feed, point.condition);
    load["current"] = json_of_drawn(electric::drawn_by(answer.site, point, i));
    loads.push_back(std::move(load));
  }
  for (std::size_t k = 0; k < point.shifted_units.size(); ++k) {
    Json shift = json_of_span(point.solved, point.consumers.size() + k);
    const std::size_t slash = point.shifted_units[k].find('/');
    shift["unit"] = point.shifted_units[k].substr(0, slash);
    shift["panel"] = point.shifted_units[k].substr(slash + 1);
    shifts.push_back(std::move(shift));
  }
  for (const auto& [id, supply] : answer.site.supplies) {
    Json outputs = Json::object();
    if (const site::SupplySpec* spec = spec_of(answer.site, supply)) {
      for (const auto& entry : spec->outputs)
        outputs[entry.first] = json_of_drawn(electric::drawn_from(answer.site, point, id, entry.first));
    }
    supplies.push_back({{"id", id},
                        {"current", json_of_drawn(electric::drawn_from(answer.site, point, id, ""))},
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

Json json_of_answer(const SupplyAnswer& answer) {
  Json conditions = Json::array(), batteries = Json::array();
  for (const SupplyPoint& point : answer.points) conditions.push_back(json_of_point(answer, point));
  for (const BatteryRun& run : answer.batteries) batteries.push_back(json_of_battery(run));
  return {{"conditions", std::move(conditions)},
          {"batteries", std::move(batteries)},
          {"evidence", json_of(answer.evidence)},
          {"all_proven", answer.all_proven()}};
}

}  // namespace

int supply(const SupplyOptions& asked, Screen& screen) {
  int exit_code = 0;
  const auto site = load(asked.site, "supply", asked.json, screen, exit_code);
  if (!site) return exit_code;
  const SupplyAnswer answer = answer_of(*site);
  if (asked.json) {
    screen.raw(results_text("supply", site::site_hash(*site), json_of_answer(answer)));
  } else {
    print_answer(answer, screen);
  }
  return answer.all_proven() ? 0 : 1;
}

}  // namespace zoneproof::cli
