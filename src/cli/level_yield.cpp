#include "cli/level_yield.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/language.hpp"
#include "cli/evidence_text.hpp"
#include "cli/table.hpp"
#include "electric/naming.hpp"
#include "messages/cli.hpp"

namespace zoneproof::cli {

namespace {

using electric::ChanceKind;
using electric::Level;
using electric::ReadingChance;
using electric::UnitCondition;
using results::LevelChance;

constexpr double millionth = 1e-6;
constexpr double telling_share = 0.02;  // of the variance: less does not move the spread by a hundredth

/// A state, and which of its levels in the conditions of the supply is to be told, for the panel and for the unit.
struct YieldLine {
  std::string state;
  UnitCondition unit = UnitCondition::detached;
  const ReadingChance* panel = nullptr;
  const ReadingChance* input = nullptr;
};

int gravity(const ReadingChance& chance) {
  switch (chance.kind) {
    case ChanceKind::not_asked: return 0;
    case ChanceKind::none: return 1;
    case ChanceKind::counted: return 2;
    case ChanceKind::open: return 3;
    case ChanceKind::always: return 4;
  }
  return 0;
}

/// Whether `a` is what a person must hear of rather than `b`: the graver kind, then what is likelier, then what spreads
/// more.
bool worse(const ReadingChance& a, const ReadingChance& b) {
  if (gravity(a) != gravity(b)) return gravity(a) > gravity(b);
  if (a.chance && b.chance && a.chance->interval.high != b.chance->interval.high)
    return a.chance->interval.high > b.chance->interval.high;
  return a.sigma_V.value_or(0.0) > b.sigma_V.value_or(0.0);
}

void take(const std::optional<ReadingChance>& candidate, const ReadingChance*& kept) {
  if (candidate && (kept == nullptr || worse(*candidate, *kept))) kept = &*candidate;
}

std::vector<YieldLine> yield_lines(const std::vector<Level>& levels, const std::vector<LevelChance>& chances) {
  std::vector<YieldLine> lines;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    if (!chances[i].panel && !chances[i].unit) continue;
    const std::string state = levels[i].situation.state.name();
    const UnitCondition unit = levels[i].situation.unit;
    auto found = std::find_if(lines.begin(), lines.end(),
                              [&](const YieldLine& line) { return line.state == state && line.unit == unit; });
    if (found == lines.end()) found = lines.insert(lines.end(), {state, unit, nullptr, nullptr});
    take(chances[i].panel, found->panel);
    take(chances[i].unit, found->input);
  }
  return lines;
}

/// In a million, to three digits, rounded outward: `up` for the high end.
std::string ppm(double share, bool up) {
  const double millionths = share / millionth;
  if (!(millionths > 0.0)) return "0";
  const double step = std::pow(10.0, std::floor(std::log10(millionths)) - 2.0);
  return with_decimal_sign(
      fmt::format("{:.6g}", (up ? std::ceil(millionths / step) : std::floor(millionths / step)) * step));
}

std::string ppm_words(const circuit::Chance& chance) {
  if (chance.outliers == 0) return text(say::yield_below(ppm(chance.interval.high, true)));
  return text(say::yield_between(ppm(chance.interval.low, false), ppm(chance.interval.high, true)));
}

void add_cells(const ReadingChance* chance, std::vector<Cell>& row) {
  if (chance == nullptr || chance->kind == ChanceKind::not_asked) {
    row.insert(row.end(), 2, Cell{});
    return;
  }
  const Cell unknown{text(say::not_known_short()), Style::unanswered};
  row.push_back(chance->sigma_V ? Cell{with_decimal_sign(fmt::format("{:.1f}", *chance->sigma_V * 1e3))} : unknown);
  switch (chance->kind) {
    case ChanceKind::none: return row.push_back({text(say::yield_never()), Style::proven});
    case ChanceKind::always: return row.push_back({text(say::yield_always()), Style::broken});
    case ChanceKind::counted: return row.push_back({ppm_words(*chance->chance), Style::broken});
    default: return row.push_back(unknown);
  }
}

std::string shares_words(const site::Site& site, const ReadingChance& chance) {
  std::string out;
  for (const electric::SpreadShare& part : chance.shares) {
    if (part.share < telling_share) break;
    const Measure share{std::round(100.0 * part.share), "pct"};
    out += (out.empty() ? "" : "; ") + text(say::yield_share(corner_place_words(site, part.pointer), share));
  }
  return out;
}

void print_shares(const site::Site& site, const YieldLine& line, const ReadingChance* chance, const Message& label,
                  Screen& screen) {
  if (chance == nullptr || !chance->sigma_V) return;
  const std::string words = shares_words(site, *chance);
  if (!words.empty()) screen.entry(line.state + ", " + text(label), words, 6, Style::faint, 4);
}

/// What the open ones wait for.
void print_missing(const site::Site& site, const std::vector<YieldLine>& lines, UnitCondition unit, Screen& screen) {
  std::vector<std::string> told;
  for (const YieldLine& line : lines) {
    if (line.unit != unit) continue;
    for (const ReadingChance* chance : {line.panel, line.input}) {
      if (chance == nullptr) continue;
      for (const chain::Gap& gap : chance->gaps) {
        const std::string words = gap_words(site, gap);
        if (std::find(told.begin(), told.end(), words) == told.end()) told.push_back(words);
      }
    }
  }
  for (const std::string& words : told) screen.entry(text(say::yield_waits()), words, 6, Style::faint, 4);
}

void print_unit(const site::Site& site, const std::vector<YieldLine>& lines, UnitCondition unit, Screen& screen) {
  const bool wired = unit != UnitCondition::detached;
  std::vector<Column> columns = {{text(say::column_state()), false, 10},
                                 {text(say::yield_column_panel()), true},
                                 {text(say::yield_column_ppm()), true}};
  if (wired) {
    columns.push_back({text(say::yield_column_unit()), true});
    columns.push_back({text(say::yield_column_ppm()), true});
  }
  Table table(std::move(columns));
  double confidence = 0.0;
  for (const YieldLine& line : lines) {
    if (line.unit != unit) continue;
    std::vector<Cell> row = {{line.state}};
    add_cells(line.panel, row);
    if (wired) add_cells(line.input, row);
    table.add(std::move(row));
    for (const ReadingChance* chance : {line.panel, line.input}) {
      if (chance != nullptr) confidence = std::max(confidence, chance->confidence);
    }
  }
  if (table.empty()) return;
  screen.line(text(say::yield_title(electric::unit_words(unit))), 2);
  table.print(screen, 4);
  if (confidence > 0.0) screen.line(text(say::yield_legend({100.0 * confidence, "pct"})), 4, Style::faint);
  print_missing(site, lines, unit, screen);
  for (const YieldLine& line : lines) {
    if (line.unit != unit) continue;
    print_shares(site, line, line.panel, say::yield_made_at_panel(), screen);
    print_shares(site, line, line.input, say::yield_made_at_unit(), screen);
  }
}

}  // namespace

void print_chances(const site::Site& site, const std::vector<Level>& levels, const std::vector<LevelChance>& chances,
                   Screen& screen) {
  const std::vector<YieldLine> lines = yield_lines(levels, chances);
  for (const UnitCondition unit : {UnitCondition::detached, UnitCondition::powered})
    print_unit(site, lines, unit, screen);
}

}  // namespace zoneproof::cli
