#include "server/recorded.hpp"

#include <nlohmann/json.hpp>

namespace zoneproof::server {

using Json = nlohmann::ordered_json;

namespace {

constexpr std::string_view kReadings = "/zone_terminal/readings/";

bool is_reading(const std::string& pointer) { return pointer.find(kReadings) != std::string::npos; }

bool is_measured(const Json& operation) {
  const auto value = operation.find("value");
  return value != operation.end() && value->is_object() && value->value("origin", Json()) == "measured";
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
