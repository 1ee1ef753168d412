#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/commands.hpp"
#include "cli/evidence_text.hpp"
#include "cli/reading.hpp"
#include "cli/results.hpp"
#include "cli/table.hpp"
#include "cli/terminal_options.hpp"
#include "electric/terminal_answer.hpp"
#include "messages/cli.hpp"
#include "site/file.hpp"
#include "site/record_json.hpp"

namespace zoneproof::cli {

namespace {

using electric::Extent;
using electric::MeterKind;
using electric::MeterReading;
using electric::ReadingSupply;
using electric::TerminalAnswer;
using electric::TerminalPoint;
using site::ReadingWay;
using Json = nlohmann::ordered_json;

/// Digits of a voltage or resistance here: as many as a good meter shows.
constexpr int kDigits = 4;

/// A terminal and where it hangs: of a site file, or of the command line alone.
struct Asked {
  std::optional<site::Site> site;
  std::string part;
  site::ZoneTerminalSpec spec;
  std::vector<circuit::Range> loads;
};

struct Told {
  const Asked& asked;
  const site::Site& site;
  TerminalAnswer answer;
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
  return text(say::terminal_named(id, reading_words(told.asked.spec.readings.at(id))));
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
  if (told.asked.spec.input_ohm.none() && !told.asked.site) screen.line(text(say::terminal_input_inside()), 2);
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
    for (const chain::Gap& gap : told.answer.gaps) screen.line(place_words(told.site, gap.pointer), 2);
    return;
  }
  if (!told.answer.agrees()) return print_contradiction(told, screen);
  print_source(told, screen);
  print_levels(told, screen);
  print_next(told, screen);
  if (told.asked.site) return;
  screen.heading(text(say::terminal_heading_use()));
  screen.line(text(say::terminal_use()), 2);
}

// ---- For programs --------------------------------------------------------------------------------------------------

Json json_of_extent(const Extent& extent) {
  return {{"low", json_of_number(extent.low)}, {"high", json_of_number(extent.high)}};
}

Json json_of_readings(const TerminalAnswer& answer) {
  Json list = Json::array();
  for (std::size_t i = 0; i < answer.readings.size(); ++i) {
    const MeterReading& reading = answer.readings[i];
    const bool odd = std::find(answer.odd.begin(), answer.odd.end(), i) != answer.odd.end();
    list.push_back({{"id", reading.name},
                    {"supply", std::string(site::word_of(reading.supply))},
                    {"unit", reading.kind == MeterKind::current ? "A" : "V"},
                    {"really", json_of_extent(reading.really())},
                    {"others_agree_without_it", odd}});
  }
  return list;
}

Json json_of_sources(const TerminalAnswer& answer) {
  Json list = Json::array();
  for (ReadingSupply supply : answer.supplies) {
    const electric::TerminalRegion& region = answer.model.on(supply);
    Json corners = Json::array(), levels = Json::array();
    for (const TerminalPoint& corner : region.vertices()) {
      corners.push_back({{"ohm", json_of_number(corner.ohm)}, {"V", json_of_number(corner.volts)}});
    }
    for (const circuit::Range& load : answer.loads_ohm) {
      const Extent level = region.voltage_over({1.0 / load.high, 1.0 / load.low});
      levels.push_back({{"load_ohm", json_of_number(load.nominal)},
                        {"low_V", json_of_number(level.low)},
                        {"high_V", json_of_number(level.high)}});
    }
    list.push_back({{"supply", std::string(site::word_of(supply))},
                    {"ohm", json_of_extent(region.ohm())},
                    {"V", json_of_extent(region.volts())},
                    {"bounded", region.bounded()},
                    {"corners", std::move(corners)},
                    {"levels", std::move(levels)}});
  }
  return list;
}

Json json_of_next(const TerminalAnswer& answer) {
  if (!answer.next) return nullptr;
  const electric::OfferedReading& offered = answer.offered.at(answer.next->which);
  const bool loaded = offered.way == ReadingWay::loaded;
  return {{"kind", std::string(site::word_of(offered.way))},
          {"resistor_ohm", loaded ? json_of_number(offered.resistor_ohm.nominal) : Json(nullptr)},
          {"open_now_V", json_of_number(answer.next->present_width)},
          {"open_then_V", json_of_number(answer.next->worst_width)}};
}

Json json_of_answer(const Told& told) {
  const TerminalAnswer& answer = told.answer;
  Json gaps = Json::array(), readings = Json::object();
  for (const chain::Gap& gap : answer.gaps) gaps.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
  for (const auto& [id, reading] : told.asked.spec.readings) {
    readings[id] = site::write_record(site::record_of<site::TerminalReading>(), &reading);
  }
  return {{"part", told.asked.part.empty() ? Json(nullptr) : Json(told.asked.part)},
          {"agree", answer.agrees()},
          {"bounded", answer.bounded()},
          {"follows_rail", answer.follows_rail},
          {"readings", json_of_readings(answer)},
          {"sources", answer.agrees() ? json_of_sources(answer) : Json::array()},
          {"lacking", answer.lacking ? Json(std::string(site::word_of(*answer.lacking))) : Json(nullptr)},
          {"next", json_of_next(answer)},
          {"zone_terminal", {{"readings", std::move(readings)}}},
          {"gaps", std::move(gaps)}};
}

// ---- What is asked -------------------------------------------------------------------------------------------------

/// The options that say what a site file says itself.
std::optional<Message> options_beside_site(const TerminalOptions& asked) {
  if (!asked.open.empty()) return say::terminal_site_or_readings("--open");
  if (!asked.over.empty()) return say::terminal_site_or_readings("--over");
  if (!asked.shorted.empty()) return say::terminal_site_or_readings("--short");
  return std::nullopt;
}

/// The part that is meant: the one named, or the only one with readings.
std::optional<Message> choose_part(const site::Site& site, const std::string& named, std::string& part) {
  std::vector<std::string> known;
  for (const auto& [id, one] : site.parts) {
    if (one.zone_terminal && !one.zone_terminal->readings.empty()) known.push_back(id);
  }
  part = named.empty() && known.size() == 1 ? known.front() : named;
  if (std::find(known.begin(), known.end(), part) != known.end()) return std::nullopt;
  if (named.empty() && known.size() > 1) return say::terminal_part_wanted(known);
  return say::terminal_part_without_readings(known);
}

/// Fills `out`; what stands in the way goes to `problems`.
void read_asked(const TerminalOptions& asked, Asked& out, std::vector<Message>& problems) {
  out.loads = loads_typed(asked, problems);
  if (!out.site) {
    out.spec = terminal_typed(asked, problems);
    return;
  }
  if (auto problem = options_beside_site(asked)) problems.push_back(std::move(*problem));
  if (auto problem = choose_part(*out.site, asked.part, out.part)) {
    problems.push_back(std::move(*problem));
    return;
  }
  out.spec = *out.site->parts.at(out.part).zone_terminal;
  if (out.loads.empty()) out.loads = electric::loads_of_terminal(*out.site, out.part);
}

}  // namespace

int terminal(const TerminalOptions& asked, Screen& screen) {
  Asked read;
  if (!asked.site.empty()) {
    int exit_code = 0;
    read.site = load(asked.site, "terminal", asked.json, screen, exit_code);
    if (!read.site) return exit_code;
  }
  std::vector<Message> problems;
  read_asked(asked, read, problems);
  if (!problems.empty()) return refuse("terminal", problems, asked.json, screen);
  const site::Site nowhere;
  const site::Site& site = read.site ? *read.site : nowhere;
  const std::string panel = read.part.empty() ? std::string() : electric::panel_of_terminal(site, read.part);
  const Told told = {read, site, electric::terminal_answer(site, read.spec, panel, read.loads)};
  if (asked.json) {
    const auto hash = read.site ? std::optional(site::site_hash(site)) : std::nullopt;
    screen.raw(results_text("terminal", hash, json_of_answer(told)));
  } else {
    print_answer(told, screen);
  }
  return told.answer.bounded() ? 0 : 1;
}

}  // namespace zoneproof::cli
