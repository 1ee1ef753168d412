#include "results/terminal.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "messages/results.hpp"
#include "results/results.hpp"
#include "results/typed_readings.hpp"
#include "site/record_json.hpp"
#include "site/words.hpp"

namespace zoneproof::results {

using electric::Extent;
using electric::MeterKind;
using electric::MeterReading;
using electric::ReadingSupply;
using electric::TerminalAnswer;
using electric::TerminalPoint;
using site::ReadingWay;
using Json = nlohmann::ordered_json;

namespace {

/// The options that say what a site file says itself.
void options_beside_site(const TerminalQuestion& asked, std::vector<Message>& problems) {
  if (!asked.open.empty()) problems.push_back(say::terminal_site_or_readings("--open"));
  if (!asked.over.empty()) problems.push_back(say::terminal_site_or_readings("--over"));
  if (!asked.shorted.empty()) problems.push_back(say::terminal_site_or_readings("--short"));
  if (!asked.meter.empty()) problems.push_back(say::terminal_meter_in_site("--meter"));
  if (!asked.error.empty()) problems.push_back(say::terminal_meter_in_site("--error"));
  if (!asked.burden.empty()) problems.push_back(say::terminal_meter_in_site("--burden"));
  if (!asked.current_error.empty()) problems.push_back(say::terminal_meter_in_site("--current-error"));
}

/// The part that is meant: the one named, or the only one with readings.
std::optional<Message> choose_part(const site::Site& site, const std::string& named, std::string& part) {
  std::vector<std::string> known;
  for (const auto& [id, one] : site.parts) {
    if (one.zone_terminal && !one.zone_terminal->readings.empty()) known.push_back(id);
  }
  part = named.empty() && known.size() == 1 ? known.front() : named;
  if (std::find(known.begin(), known.end(), part) != known.end()) return std::nullopt;
  if (known.empty()) return say::terminal_none_with_readings();
  if (named.empty()) return say::terminal_part_wanted(known);
  return say::terminal_part_without_readings(named, known);
}

/// Of the question's own readings, away from any site.
void answer_typed(const TerminalQuestion& question, TerminalTold& told, std::vector<Message>& problems) {
  if (!question.part.empty()) problems.push_back(say::terminal_part_without_site(question.part));
  TypedTerminal typed = terminal_typed(question, problems);
  told.spec = std::move(typed.spec);
  told.typed = std::move(typed.shown);
}

Json json_of_extent(const Extent& extent) {
  return {{"low", json_of_number(extent.low)}, {"high", json_of_number(extent.high)}};
}

Json json_of_readings(const TerminalAnswer& answer) {
  Json list = Json::array();
  for (std::size_t i = 0; i < answer.readings.size(); ++i) {
    const MeterReading& reading = answer.readings[i];
    const std::vector<std::size_t>& against = answer.contradiction.readings;
    const bool odd = std::find(against.begin(), against.end(), i) != against.end();
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

}  // namespace

Answered<TerminalTold> answer(const site::Site* site, const TerminalQuestion& question) {
  Answered<TerminalTold> out;
  TerminalTold told;
  std::vector<circuit::Range> loads = loads_typed(question, out.problems);
  if (site == nullptr) {
    answer_typed(question, told, out.problems);
  } else {
    options_beside_site(question, out.problems);
    if (auto problem = choose_part(*site, question.part, told.part)) out.problems.push_back(*std::move(problem));
  }
  if (!out.problems.empty()) return out;
  if (site != nullptr) {
    told.spec = *site->parts.at(told.part).zone_terminal;
    if (loads.empty()) loads = electric::loads_of_terminal(*site, told.part);
  }
  const site::Site nowhere;
  const site::Site& where = site != nullptr ? *site : nowhere;
  const std::string panel = told.part.empty() ? std::string() : electric::panel_of_terminal(where, told.part);
  told.answer = electric::terminal_answer(where, told.spec, panel, loads);
  out.answer = std::move(told);
  return out;
}

Json json_of(const TerminalTold& told) {
  const TerminalAnswer& answer = told.answer;
  Json gaps = Json::array(), readings = Json::object();
  for (const chain::Gap& gap : answer.gaps) gaps.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
  for (const auto& [id, reading] : told.spec.readings) {
    readings[id] = site::write_record(site::record_of<site::TerminalReading>(), &reading);
  }
  return {{"part", told.part.empty() ? Json(nullptr) : Json(told.part)},
          {"agree", answer.agrees()},
          {"bounded", answer.bounded()},
          {"follows_rail", answer.follows_rail},
          {"input_inside", answer.holds_input},
          {"sheet_contradicts", answer.contradiction.sheet},
          {"readings", json_of_readings(answer)},
          {"sources", answer.agrees() ? json_of_sources(answer) : Json::array()},
          {"lacking", answer.lacking ? Json(std::string(site::word_of(*answer.lacking))) : Json(nullptr)},
          {"next", json_of_next(answer)},
          {"zone_terminal", {{"readings", std::move(readings)}}},
          {"gaps", std::move(gaps)}};
}

}  // namespace zoneproof::results
