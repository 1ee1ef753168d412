#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/language.hpp"
#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/level_yield.hpp"
#include "cli/reading.hpp"
#include "cli/table.hpp"
#include "electric/backbone.hpp"
#include "electric/levels.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"
#include "results/level_lines.hpp"
#include "results/levels.hpp"

namespace zoneproof::cli {

namespace {

using electric::Level;
using electric::UnitCondition;
using results::extreme_of;
using results::lines_of;
using results::millivolts;
using results::troubled;
using results::worst_of;
using results::ZoneLevels;
using Line = results::LevelLine;
using Which = results::WhichReading;

// ---- For people ----------------------------------------------------------------------------------------------------

/// Lowest, nominal (in the first condition) and highest.
void add_reading(const Line& line, Which which, std::vector<Cell>& row) {
  const Level* low = extreme_of(line, which, true);
  const Level* high = extreme_of(line, which, false);
  if (low == nullptr || troubled(line, which)) {
    const bool read = std::any_of(line.levels.begin(), line.levels.end(),
                                  [&](const Level* level) { return worst_of(*level, which) != nullptr; });
    row.insert(row.end(), 3, Cell{read ? text(say::not_known_short()) : "", Style::unanswered});
    return;
  }
  row.push_back({millivolts(worst_of(*low, which)->low.bound)});
  row.push_back({millivolts(worst_of(*line.levels.front(), which)->nominal)});
  row.push_back({millivolts(worst_of(*high, which)->high.bound)});
}

std::string quantity_words(const Level& level, std::size_t which) {
  std::string out;
  for (const circuit::Quantity::Term& term : level.quantities.at(which).terms) {
    if (!out.empty() || term.weight < 0) out += term.weight < 0 ? " - " : " + ";
    out += "v(" + level.circuit.wiring.network.node_name(term.node) + ")";
  }
  return out;
}

void print_corner(const site::Site& site, const Line& line, Which which, bool low, const Message& label,
                  Screen& screen) {
  const Level* level = extreme_of(line, which, low);
  if (level == nullptr || troubled(line, which)) return;
  const std::size_t index = *(level->*which);
  const circuit::WorstCase& worst = level->solved.cases.at(index);
  std::string words = electric::supply_words(level->situation.supply);
  const std::vector<chain::CornerValue> corner =
      electric::telling_corner(level->circuit.wiring, level->quantities.at(index), low ? worst.low : worst.high);
  if (!corner.empty()) words += "; " + corner_words(site, corner, corner.size());
  screen.entry(line.state + ", " + electric::unit_words(line.unit) + ", " + text(label), words, 6, Style::faint, 2);
}

/// The lines of one condition of the unit.
void print_lines(const std::vector<Line>& lines, UnitCondition unit, Screen& screen) {
  std::vector<Column> columns = {{text(say::column_state()), false, 10},
                                 {text(say::column_panel_low()), true},
                                 {text(say::column_nominal()), true},
                                 {text(say::column_high()), true}};
  const bool wired = unit != UnitCondition::detached;
  if (wired)
    columns.insert(
        columns.end(),
        {{text(say::column_unit_low()), true}, {text(say::column_nominal()), true}, {text(say::column_high()), true}});
  Table table(std::move(columns));
  for (const Line& line : lines) {
    if (line.unit != unit) continue;
    std::vector<Cell> row = {{line.state}};
    add_reading(line, &Level::panel, row);
    if (wired) add_reading(line, &Level::unit, row);
    table.add(std::move(row));
  }
  if (table.empty()) return;
  if (wired) screen.line(electric::unit_words(unit), 2);
  table.print(screen, 4);
}

/// What is missing of the times and capacitances of the pulses, each once.
void print_pulse_gaps(const site::Site& site, const std::vector<Level>& levels, Screen& screen) {
  std::vector<std::string> told;
  for (const Level& level : levels) {
    if (!level.pulse) continue;
    for (const chain::Gap& gap : level.pulse->gaps) {
      const std::string words = gap_words(site, gap);
      if (std::find(told.begin(), told.end(), words) == told.end()) told.push_back(words);
    }
  }
  for (const std::string& words : told) screen.entry(text(say::pulse_waits()), words, 4, Style::faint, 4);
}

std::string volts_of(double low, double high) { return millivolts(low) + " .. " + millivolts(high); }

/// Settled levels over the conditions of a line, in one part of the period.
std::string standing_cell(const Line& line, Which which, std::size_t part) {
  double low = circuit::infinite, high = -circuit::infinite;
  for (const Level* level : line.levels) {
    if (!(level->*which)) return "";
    const electric::StandingLevel& standing = level->pulse->parts.at(part);
    if (!standing.solved.has_numbers(*(level->*which))) return text(say::not_known_short());
    const circuit::WorstCase& worst = standing.solved.cases.at(*(level->*which));
    low = std::min(low, worst.low.bound);
    high = std::max(high, worst.high.bound);
  }
  return volts_of(low, high);
}

std::string meter_cell(const Line& line, bool at_panel) {
  const auto range = results::meter_range_of(line, at_panel ? &Level::panel : &Level::unit);
  return range ? volts_of(range->low, range->high) : text(say::not_known_short());
}

/// Of a pulsed terminal: the levels in each part of the period once settled, and what a direct-current meter shows.
void print_pulses(const std::vector<Line>& lines, UnitCondition unit, Screen& screen) {
  const bool wired = unit != UnitCondition::detached;
  const auto first = std::find_if(lines.begin(), lines.end(), [&](const Line& line) { return line.unit == unit; });
  if (first == lines.end() || !first->levels.front()->pulse) return;
  const electric::Pulse& pulse = *first->levels.front()->pulse;
  std::vector<Column> columns = {{text(say::column_state()), false, 10}};
  for (const electric::StandingLevel& standing : pulse.parts)
    columns.push_back({text(say::pulse_column(electric::part_words(standing.part))), true});
  columns.push_back({text(say::pulse_column_meter()), true});
  screen.line(text(wired ? say::pulse_title_unit(electric::unit_words(unit)) : say::pulse_title_panel()), 4);
  Table table(std::move(columns));
  double settles = 0.0;
  for (const Line& line : lines) {
    if (line.unit != unit) continue;
    std::vector<Cell> row = {{line.state}};
    for (std::size_t part = 0; part < pulse.parts.size(); ++part)
      row.push_back({standing_cell(line, wired ? &Level::unit : &Level::panel, part)});
    row.push_back({meter_cell(line, !wired)});
    table.add(std::move(row));
    for (const Level* level : line.levels) settles = std::max(settles, level->pulse->total_s);
  }
  table.print(screen, 6);
  if (std::isfinite(settles)) screen.line(text(say::pulse_settles(Measure{1e3 * settles, "ms"})), 6, Style::faint);
}

void print_zone(const site::Site& site, const ZoneLevels& one, bool corner, Screen& screen) {
  if (one.levels.empty()) {
    screen.line(text(say::no_levels()), 4);
    return;
  }
  const std::vector<Line> lines = lines_of(one.levels);
  for (UnitCondition unit : electric::all_unit_conditions()) {
    print_lines(lines, unit, screen);
    print_pulses(lines, unit, screen);
  }
  print_pulse_gaps(site, one.levels, screen);
  const Level& first = one.levels.front();
  if (first.panel) screen.line(text(say::nodes_at_panel(quantity_words(first, *first.panel))), 4, Style::faint);
  if (first.unit) screen.line(text(say::nodes_at_unit(quantity_words(first, *first.unit))), 4, Style::faint);
  print_chances(site, one.levels, one.chances, screen);
  for (const Line& line : lines) {
    if (!corner) break;
    for (const bool low : {true, false}) {
      print_corner(site, line, &Level::panel, low, low ? say::lowest_at_panel() : say::highest_at_panel(), screen);
      print_corner(site, line, &Level::unit, low, low ? say::lowest_at_unit() : say::highest_at_unit(), screen);
    }
  }
}

void print_levels(const site::Site& site, const std::vector<ZoneLevels>& all, const LevelsOptions& asked,
                  Screen& screen) {
  if (all.empty()) screen.line(text(say::no_zones()));
  for (const ZoneLevels& one : all) {
    if (one.trigger.empty()) {
      screen.heading(electric::zone_words(site, one.zone));
      screen.line(text(say::levels_without_wire()), 2);
    } else {
      const site::Trigger& trigger = site.triggers.at(one.trigger);
      screen.line(text(say::levels_with_wire(one.trigger, electric::thing_words(site, trigger.unit.id))), 2);
    }
    print_zone(site, one, asked.corner, screen);
  }
}

}  // namespace

int levels(const LevelsOptions& asked, Screen& screen) {
  int exit_code = 0;
  const auto loaded = load(asked.site, "levels", asked.json, screen, exit_code);
  if (!loaded) return exit_code;
  const results::LevelsQuestion question = {asked.zone, asked.condition, asked.yield};
  if (asked.json) return put_results(*loaded, question, screen);
  const auto told = results::answer(loaded->site, question, progress_on(screen));
  screen.end_progress();
  if (!told.answer) return refuse("levels", told.problems, asked.json, screen);
  print_levels(loaded->site, *told.answer, asked, screen);
  return 0;
}

}  // namespace zoneproof::cli
