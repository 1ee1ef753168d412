#include "results/results.hpp"

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/json_text.hpp"
#include "base/utf8.hpp"
#include "site/words.hpp"

namespace zoneproof::results {

using Json = nlohmann::ordered_json;

namespace {

const char* word_of_severity(Severity severity) {
  static constexpr std::array<const char*, 4> words = {"label", "note", "warning", "error"};
  return words.at(static_cast<std::size_t>(severity));
}

/// What was found in a file need not be UTF-8, which JSON is: then as it is shown to people.
std::string in_utf8(const std::string& text) {
  return first_invalid_utf8(text) == std::string::npos ? text : printable(text);
}

Json json_of_argument(const Argument& argument) {
  if (const auto* text = std::get_if<std::string>(&argument)) return in_utf8(*text);
  if (const auto* count = std::get_if<long long>(&argument)) return *count;
  if (const auto* measure = std::get_if<Measure>(&argument)) {
    return {{"value", json_of_number(measure->value)}, {"unit", measure->unit}};
  }
  Json list = Json::array();
  for (const std::string& text : std::get<std::vector<std::string>>(argument)) list.push_back(in_utf8(text));
  return list;
}

Json json_of_corner(const std::vector<chain::CornerValue>& corner) {
  Json list = Json::array();
  for (const chain::CornerValue& value : corner) {
    list.push_back({{"pointer", value.pointer}, {"value", json_of_number(value.value)}, {"unit", value.unit}});
  }
  return list;
}

}  // namespace

std::string engine_version() { return ZONEPROOF_VERSION; }

std::string results_text(const std::string& command, const std::optional<std::string>& site_hash, Json results) {
  results["command"] = command;
  const Json hash = site_hash ? Json(*site_hash) : Json(nullptr);
  return write_json({{"format", "zoneproof-results"},
                     {"version", kResultsVersion},
                     {"engine", engine_version()},
                     {"site_hash", hash},
                     {"results", std::move(results)}});
}

Json json_of_number(std::optional<double> number) {
  if (!number || !std::isfinite(*number)) return nullptr;
  return *number;
}

Json json_of(const std::vector<chain::Gap>& gaps) {
  Json list = Json::array();
  for (const chain::Gap& gap : gaps) list.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
  return list;
}

Json json_of(const chain::Evidence& evidence) {
  return {{"id", evidence.id},
          {"subject", evidence.subject},
          {"link", chain::word(evidence.link)},
          {"verdict", chain::word(evidence.verdict)},
          {"quantity", evidence.quantity},
          {"unit", evidence.unit},
          {"value", json_of_number(evidence.value)},
          {"bound", json_of_number(evidence.bound)},
          {"nominal", json_of_number(evidence.nominal)},
          {"limit", json_of_number(evidence.limit)},
          {"margin", json_of_number(evidence.margin)},
          {"required_margin", json_of_number(evidence.required_margin)},
          {"kind", evidence.kind == chain::BoundKind::exact ? "exact" : "bounded"},
          {"condition", evidence.condition},
          {"corner", json_of_corner(evidence.corner)},
          {"limit_source", evidence.limit_source},
          {"limit_verified", evidence.limit_verified},
          {"margin_source", evidence.margin_source},
          {"margin_verified", evidence.margin_verified},
          {"origin", std::string(site::word_of(evidence.origin))},
          {"gaps", json_of(evidence.gaps)},
          {"says", evidence.says ? json_of(*evidence.says) : Json(nullptr)},
          {"remedies", json_of(evidence.remedies)}};
}

Json json_of(const std::vector<chain::Evidence>& evidence) {
  Json list = Json::array();
  for (const chain::Evidence& one : evidence) list.push_back(json_of(one));
  return list;
}

Json json_of(const Message& message) {
  Json arguments = Json::object();
  for (const auto& [name, argument] : message.arguments) arguments[name] = json_of_argument(argument);
  Json out = {{"code", message.code},
              {"severity", word_of_severity(kind_of(message.code).severity)},
              {"arguments", std::move(arguments)},
              {"text", text(message)},
              {"remedy", remedy(message)}};
  const Place& place = message.place;
  if (place.file.empty()) return out;
  out["place"] = {
      {"file", printable(place.file)}, {"pointer", place.pointer}, {"line", place.line}, {"column", place.column}};
  return out;
}

Json json_of(const std::vector<Message>& messages) {
  Json list = Json::array();
  for (const Message& message : messages) list.push_back(json_of(message));
  return list;
}

}  // namespace zoneproof::results
