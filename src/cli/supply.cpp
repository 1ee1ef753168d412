#include <algorithm>
#include <cmath>

#include "base/outward.hpp"
#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "cli/table.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "results/supply.hpp"

namespace zoneproof::cli {

namespace {

using chain::Evidence;
using chain::Verdict;
using electric::SupplyPoint;

/// Rows of a discharge table: enough to see its shape on a page.
constexpr std::size_t kDischargeRows = 12;

/// What came out, and of which site.
struct Told {
  const site::Site& site;
  const results::SupplyAnswer& answer;
};

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

void print_loads(const Told& told, const SupplyPoint& point, Screen& screen) {
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
    std::vector<Cell> row = {{electric::thing_words(told.site, consumer.id)}};
    if (electric::certainly_dead(told.site, *consumer.feed, point.condition)) {
      row.push_back({text(say::load_is_off()), Style::faint});
    } else if (!point.solved.has_numbers(i)) {
      row.insert(row.end(), 3, Cell{text(say::not_known_short()), Style::unanswered});
    } else {
      for (double value : {volts.low.bound, volts.nominal, volts.high.bound}) row.push_back({figure(value, "V")});
      row.push_back({range_words(consumer)});
      const electric::Drawn drawn = electric::drawn_by(told.site, point, i);
      row.push_back({figure(drawn.nominal_A, "A")});
      row.push_back({figure(drawn.most_A, "A")});
    }
    table.add(std::move(row));
  }
  table.print(screen, 2);
}

void print_shifts(const Told& told, const SupplyPoint& point, Screen& screen) {
  for (std::size_t k = 0; k < point.shifted_units.size(); ++k) {
    const circuit::WorstCase& shift = point.solved.cases.at(point.consumers.size() + k);
    if (!point.solved.has_numbers(point.consumers.size() + k)) continue;
    const std::size_t slash = point.shifted_units[k].find('/');
    screen.line(text(say::negative_shift(electric::thing_words(told.site, point.shifted_units[k].substr(0, slash)),
                                         electric::thing_words(told.site, point.shifted_units[k].substr(slash + 1)),
                                         lowest({shift.low.bound, "V", 3}), highest({shift.high.bound, "V", 3}))),
                2);
  }
}

std::string rating_words(const site::Value& value) {
  return value.known() ? shown({value.low, "A", 3}) : text(say::not_known_short());
}

/// Of each output, the condition in which most is asked of it.
void print_outputs(const Told& told, Screen& screen) {
  Table table({{text(say::column_output()), false, 16},
               {text(say::column_condition()), false, 14},
               {text(say::column_current()), true},
               {text(say::column_most()), true},
               {text(say::column_starting()), true},
               {text(say::column_rating()), true},
               {text(say::column_limit()), true}});
  for (const auto& [id, supply] : told.site.supplies) {
    const site::SupplySpec* spec = results::spec_of(told.site, supply);
    if (spec == nullptr) continue;
    const auto add = [&, supply_id = id](const std::string& output, const std::string& name, const site::Value& rating,
                                         const site::Value* limit) {
      const SupplyPoint* worst = nullptr;
      electric::Drawn most;
      for (const SupplyPoint& point : told.answer.points) {
        const electric::Drawn drawn = electric::drawn_from(told.site, point, supply_id, output);
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
    add("", electric::thing_words(told.site, id), spec->rating_A, nullptr);
    for (const auto& [output, output_spec] : spec->outputs) {
      add(output, text(say::output_indented(output_spec.name.empty() ? output : output_spec.name)),
          output_spec.rating_A, &output_spec.limit_A);
    }
  }
  if (table.empty()) return;
  screen.heading(text(say::heading_outputs()));
  table.print(screen, 2);
}

void print_battery(const Told& told, const results::BatteryRun& run, Screen& screen) {
  screen.heading(text(say::heading_battery(electric::thing_words(told.site, run.supply))));
  for (const chain::Gap& gap : run.discharge.gaps)
    screen.line(text(say::rests_on(place_words(told.site, gap.pointer))), 2);
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

void print_answer(const Told& told, Screen& screen) {
  screen.line(told.site.name, 0, Style::heading);
  for (const SupplyPoint& point : told.answer.points) {
    print_loads(told, point, screen);
    print_shifts(told, point, screen);
  }
  print_outputs(told, screen);
  for (const results::BatteryRun& run : told.answer.batteries) print_battery(told, run, screen);
  if (told.answer.evidence.empty()) return screen.line(text(say::nothing_is_fed()));
  screen.heading(text(told.answer.all_proven() ? say::all_supply_proven() : say::heading_not_proven()));
  for (const Evidence& evidence : told.answer.evidence) {
    if (evidence.verdict != Verdict::proven) print_evidence(screen, told.site, evidence);
  }
}

}  // namespace

int supply(const SupplyOptions& asked, Screen& screen) {
  int exit_code = 0;
  const auto loaded = load(asked.site, "supply", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  if (asked.json) return put_results(*loaded, results::SupplyQuestion{}, screen);
  const results::SupplyAnswer answer = results::supply_answer(loaded->site);
  print_answer({loaded->site, answer}, screen);
  return answer.all_proven() ? 0 : 1;
}

}  // namespace zoneproof::cli
