#include <algorithm>
#include <cmath>

#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "cli/table.hpp"
#include "messages/cli.hpp"
#include "results/terminal.hpp"

namespace zoneproof::cli {

namespace {

using electric::Extent;
using electric::MeterKind;
using electric::MeterReading;
using electric::ReadingSupply;
using electric::TerminalAnswer;
using electric::TerminalPoint;
using site::ReadingWay;

/// Digits of a voltage or resistance here: as many as a good meter shows.
constexpr int kDigits = 4;

/// What came out, and of which site; null where the readings were typed.
struct Told {
  const site::Site* site;
  const results::TerminalTold& terminal;
  const TerminalAnswer& answer = terminal.answer;
};

// ---- For people ----------------------------------------------------------------------------------------------------

std::string supply_words(ReadingSupply supply) {
  return text(supply == ReadingSupply::mains ? say::terminal_mains() : say::terminal_battery());
}

std::string extent_words(const Extent& extent, const char* unit) {
  const bool low = std::isfinite(extent.low), high = std::isfinite(extent.high);
  if (low && high) return text(say::from_to({extent.low, unit, kDigits}, {extent.high, unit, kDigits}));
  if (low) return text(say::terminal_no_end({extent.low, unit, kDigits}));
  return text(high ? say::terminal_at_most({extent.high, unit, kDigits}) : say::terminal_anything());
}

/// "over 4.7 kohm".
std::string reading_words(const site::TerminalReading& reading) {
  if (reading.kind.is(ReadingWay::loaded)) {
    return text(say::terminal_reading_over({reading.resistor_ohm.nominal, "ohm", kDigits}));
  }
  return text(reading.kind.is(ReadingWay::open) ? say::terminal_reading_open() : say::terminal_reading_shorted());
}

std::string named_reading(const Told& told, std::size_t index) {
  const std::string& id = told.answer.readings.at(index).name;
  return text(say::terminal_named(id, reading_words(told.terminal.spec.readings.at(id))));
}

void print_readings(const Told& told, Screen& screen) {
  screen.heading(text(say::terminal_heading_readings()));
  Table table({{text(say::terminal_column_reading()), false, 16},
               {text(say::terminal_column_on()), false, 10},
               {text(say::terminal_column_shown()), true},
               {text(say::terminal_column_really()), true}});
  for (std::size_t i = 0; i < told.answer.readings.size(); ++i) {
    const MeterReading& reading = told.answer.readings[i];
    const char* unit = reading.kind == MeterKind::current ? "A" : "V";
    table.add({{named_reading(told, i)},
               {supply_words(reading.supply)},
               {shown({0.5 * (reading.shown.low + reading.shown.high), unit, kDigits})},
               {extent_words(reading.really(), unit)}});
  }
  table.print(screen, 2);
}

void print_corners(const Told& told, ReadingSupply supply, Screen& screen) {
  if (!told.answer.model.on(supply).bounded()) return;
  screen.line(text(say::terminal_corners(supply_words(supply))), 2);
  Table table({{text(say::terminal_column_ohm()), true}, {text(say::terminal_column_volts()), true}});
  for (const TerminalPoint& corner : told.answer.model.on(supply).vertices()) {
    table.add({{shown({corner.ohm, "ohm", kDigits})}, {shown({corner.volts, "V", kDigits})}});
  }
  table.print(screen, 4);
}

void print_source(const Told& told, Screen& screen) {
  const TerminalAnswer& answer = told.answer;
  screen.heading(text(say::terminal_heading_source()));
  constexpr std::size_t indent = 32;
  for (ReadingSupply supply : answer.supplies) {
    screen.entry(text(say::terminal_volts_on(supply_words(supply))), extent_words(answer.model.on(supply).volts(), "V"),
                 indent, Style::plain, 2);
  }
  screen.entry(text(say::terminal_behind()), extent_words(answer.model.mains.ohm(), "ohm"), indent, Style::plain, 2);
  if (told.terminal.spec.input_ohm.none() && told.site == nullptr) screen.line(text(say::terminal_input_inside()), 2);
  if (answer.follows_rail) screen.line(text(say::terminal_follows_rail()), 2);
  for (ReadingSupply supply : answer.supplies) print_corners(told, supply, screen);
}

/// The open screws, then every load.
std::vector<std::pair<std::string, Extent>> loads_S(const TerminalAnswer& answer) {
  std::vector<std::pair<std::string, Extent>> all = {{text(say::terminal_nothing_on()), {}}};
  for (const circuit::Range& load : answer.loads_ohm) {
    all.push_back({shown({load.nominal, "ohm", kDigits}), {1.0 / load.high, 1.0 / load.low}});
  }
  return all;
}

void print_levels(const Told& told, Screen& screen) {
  const TerminalAnswer& answer = told.answer;
  screen.heading(text(say::terminal_heading_levels()));
  std::vector<Column> columns = {{text(say::terminal_column_load()), false, 10}};
  for (ReadingSupply supply : answer.supplies) columns.push_back({supply_words(supply), true});
  Table table(std::move(columns));
  for (const auto& [load, load_S] : loads_S(answer)) {
    std::vector<Cell> row = {{load}};
    for (ReadingSupply supply : answer.supplies) {
      row.push_back({extent_words(answer.model.on(supply).voltage_over(load_S), "V")});
    }
    table.add(std::move(row));
  }
  table.print(screen, 2);
}

Message take_words(ReadingWay way) {
  switch (way) {
    case ReadingWay::open: return say::terminal_take_open();
    case ReadingWay::loaded: return say::terminal_take_loaded();
    default: return say::terminal_take_shorted();
  }
}

void print_next(const Told& told, Screen& screen) {
  const TerminalAnswer& answer = told.answer;
  screen.heading(text(say::terminal_heading_next()));
  if (answer.next) {
    const electric::OfferedReading& offered = answer.offered.at(answer.next->which);
    screen.line(text(offered.way == ReadingWay::loaded
                         ? say::terminal_next_loaded({offered.resistor_ohm.nominal, "ohm", kDigits})
                         : take_words(offered.way)),
                2);
    screen.line(
        text(say::terminal_next_worth({answer.next->present_width, "V", 2}, {answer.next->worst_width, "V", 2})), 2);
  } else if (answer.lacking) {
    screen.line(text(say::terminal_too_little()), 2);
    screen.line(text(take_words(*answer.lacking)), 2);
  } else if (!answer.loads_ohm.empty()) {
    screen.line(text(say::terminal_next_none()), 2);
  }
  if (answer.loads_ohm.empty()) screen.line(text(say::terminal_say_eol()), 2);
}

void print_contradiction(const Told& told, Screen& screen) {
  const TerminalAnswer& answer = told.answer;
  screen.line();
  screen.line(text(say::terminal_disagree()), 0, Style::broken);
  if (answer.follows_rail) return screen.line(text(say::terminal_follows_rail()));
  std::vector<std::string> names;
  for (std::size_t index : answer.odd) names.push_back(named_reading(told, index));
  if (names.empty()) return screen.line(text(say::terminal_all_wrong()));
  screen.line(text(names.size() == 1 ? say::terminal_one_wrong(names.front()) : say::terminal_some_wrong(names)));
}

void print_answer(const Told& told, Screen& screen) {
  print_readings(told, screen);
  if (!told.answer.gaps.empty()) {
    screen.heading(text(say::terminal_not_known()));
    for (const chain::Gap& gap : told.answer.gaps) screen.line(place_words(*told.site, gap.pointer), 2);
    return;
  }
  if (!told.answer.agrees()) return print_contradiction(told, screen);
  print_source(told, screen);
  print_levels(told, screen);
  print_next(told, screen);
  if (told.site != nullptr) return;
  screen.heading(text(say::terminal_heading_use()));
  screen.line(text(say::terminal_use()), 2);
}

}  // namespace

int terminal(const TerminalOptions& asked, Screen& screen) {
  std::optional<Loaded> loaded;
  if (!asked.site.empty()) {
    int exit_code = 0;
    loaded = load(asked.site, "terminal", asked.json, screen, exit_code);
    if (!loaded) return exit_code;
  }
  const site::Site* site = loaded ? &loaded->site : nullptr;
  if (asked.json) return put_results(site, {}, asked.question, screen);
  const auto told = results::answer(site, asked.question);
  if (!told.answer) return refuse("terminal", told.problems, asked.json, screen);
  print_answer({site, *told.answer}, screen);
  return told.answer->answer.bounded() ? 0 : 1;
}

}  // namespace zoneproof::cli
