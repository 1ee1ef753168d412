#include "server/recorded.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

namespace {

constexpr std::string_view kReadings = "/zone_terminal/readings/";

bool is_reading(const std::string& pointer) { return pointer.find(kReadings) != std::string::npos; }

/// A number and nothing else: a data sheet has an origin as well, and may not be rewritten as if it were measured. The
/// members are those of site/number_form.hpp.
bool is_measured(const Json& operation) {
  static const std::set<std::string> members = {"value",         "plus",         "minus",  "min", "max",
                                                "tolerance_pct", "tempco_ppm_K", "origin", "note"};
  const auto value = operation.find("value");
  if (value == operation.end() || !value->is_object() || value->value("origin", Json()) != "measured") return false;
  const auto number = value->find("value");
  if (number == value->end() || !(number->is_number() || number->is_null())) return false;
  return std::all_of(value->items().begin(), value->items().end(),
                     [&](const auto& member) { return members.count(member.key()) != 0; });
}

std::string text_of(const Json& operation, const char* key) {
  const auto found = operation.find(key);
  return found != operation.end() && found->is_string() ? found->get<std::string>() : std::string();
}

bool is_recorded(const Json& operation) {
  if (!operation.is_object()) return true;  // refused as no operation
  const std::string op = text_of(operation, "op"), path = text_of(operation, "path");
  if (op == "test") return true;
  if (is_reading(path) && (op != "move" || is_reading(text_of(operation, "from")))) return true;
  return (op == "add" || op == "replace") && is_measured(operation);
}

}  // namespace

std::optional<std::string> first_not_recorded(const Json& operations) {
  if (!operations.is_array()) return std::nullopt;  // refused as no patch
  for (const Json& operation : operations)
    if (!is_recorded(operation)) return text_of(operation, "path");
  return std::nullopt;
}

}  // namespace zoneproof::server
