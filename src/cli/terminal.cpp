#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/language.hpp"
#include "base/outward.hpp"
#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "cli/table.hpp"
#include "messages/cli.hpp"
#include "results/field_words.hpp"
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
/// Digits of a meter are powers of ten to within this much of a decade; more decimals than this none shows.
constexpr double kSameDigit = 1e-9, kMostDecimals = 9.0;

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
  if (low && high && extent.low == extent.high) return shown({extent.low, unit, kDigits});
  if (low && high)
    return text(say::from_to(lowest({extent.low, unit, kDigits}), highest({extent.high, unit, kDigits})));
  if (low) return text(say::terminal_no_end(lowest({extent.low, unit, kDigits})));
  return text(high ? say::terminal_at_most(highest({extent.high, unit, kDigits})) : say::terminal_anything());
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

/// "2.90 V": with as many decimals as the meter has digits for, in the unit in which such a digit is read.
std::string with_digits(double value, double digit, bool current) {
  const double scale = !current || digit >= 1e-3 ? 1.0 : digit >= 1e-6 ? 1e3 : 1e6;
  const char* unit = !current ? "V" : scale == 1.0 ? "A" : scale == 1e3 ? "mA" : "uA";
  const double decimals = std::ceil(-std::log10(digit * scale) - kSameDigit);
  const int places = static_cast<int>(std::clamp(decimals, 0.0, kMostDecimals));
  return with_decimal_sign(fmt::format("{:.{}f} {}", value * scale, places, unit));
}

/// What the meter showed: as it was typed, else as the meter's digits are.
std::string shown_words(const Told& told, const MeterReading& reading) {
  if (const auto typed = told.terminal.typed.find(reading.name); typed != told.terminal.typed.end())
    return typed->second;
  const bool current = reading.kind == MeterKind::current;
  const site::Meter& meter = told.terminal.spec.readings.at(reading.name).meter;
  const site::Value& digit = current ? meter.digit_A : meter.digit_V;
  if (!digit.known() || !(digit.low > 0.0)) return extent_words(reading.shown, current ? "A" : "V");
  const std::string low = with_digits(reading.shown.low, digit.low, current);
  const std::string high = with_digits(reading.shown.high, digit.low, current);
  return low == high ? low : text(say::terminal_shown_moving(low, high));
}

void print_readings(const Told& told, Screen& screen) {
  if (told.answer.readings.empty()) return;
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
               {shown_words(told, reading)},
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
  if (answer.holds_input) screen.line(text(say::terminal_input_inside()), 2);
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

/// Each reading, and each value of the sheet, without which the others agree.
std::vector<std::string> names_of_odd(const Told& told) {
  std::vector<std::string> names;
  for (std::size_t index : told.answer.contradiction.readings) names.push_back(named_reading(told, index));
  for (const std::string& pointer : told.answer.contradiction.sheet) names.push_back(place_words(*told.site, pointer));
  return names;
}

Message who_is_wrong(const Told& told) {
  const electric::Contradiction& found = told.answer.contradiction;
  const std::vector<std::string> names = names_of_odd(told);
  if (names.empty()) return say::terminal_all_wrong();
  if (found.sheet.empty())
    return names.size() == 1 ? say::terminal_one_wrong(names.front()) : say::terminal_some_wrong(names);
  if (!found.readings.empty()) return say::terminal_some_wrong_or_sheet(names);
  return names.size() == 1 ? say::terminal_sheet_wrong(names.front()) : say::terminal_sheets_wrong(names);
}

void print_contradiction(const Told& told, Screen& screen) {
  screen.line();
  const bool alone = told.answer.contradiction.sheet.empty();
  screen.line(text(alone ? say::terminal_disagree() : say::terminal_disagree_with_sheet()), 0, Style::broken);
  screen.line(text(told.answer.follows_rail ? say::terminal_follows_rail() : who_is_wrong(told)));
}

/// What no meter at rest tells, and with what it is found out.
Message instead_of_meter(const site::ZoneTerminalSpec& spec) {
  switch (spec.drive.value.value_or(site::TerminalDrive::steady)) {
    case site::TerminalDrive::scanned:
      return say::terminal_take_pulses({"source_V", "off_V", "on_s", "period_s", "pullup_ohm"});
    case site::TerminalDrive::bipolar:
      return say::terminal_take_pulses({"source_V", "reverse_V", "on_s", "reverse_s", "period_s", "pullup_ohm"});
    case site::TerminalDrive::alternating:
      return say::terminal_take_pulses({"rms_V", "wave", "period_s", "pullup_ohm"});
    default: return say::terminal_take_papers();
  }
}

void print_gaps(const Told& told, Screen& screen) {
  screen.heading(text(say::terminal_not_known()));
  bool missing = false;
  for (const chain::Gap& gap : told.answer.gaps) {
    screen.line(gap_words(*told.site, gap), 2);
    const auto place = results::place_of(site::record_of<site::Site>(), gap.pointer);
    missing = missing || gap.reason != "not_by_meter";
    if (gap.reason == "unknown" && place && place->field) screen.line(std::string(place->field->meaning), 4);
  }
  screen.heading(text(say::terminal_heading_todo()));
  screen.line(text(missing ? say::terminal_fill_in() : instead_of_meter(told.terminal.spec)), 2);
}

void print_answer(const Told& told, Screen& screen) {
  print_readings(told, screen);
  if (!told.answer.gaps.empty()) return print_gaps(told, screen);
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
