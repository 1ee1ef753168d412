#include "published/shelf_data.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>

namespace zoneproof::published {
namespace {

using nlohmann::json;

const json& document(const std::string& file) {
  static std::map<std::string, json> read;
  const auto found = read.find(file);
  if (found != read.end()) return found->second;
  std::ifstream in(std::string(ZONEPROOF_SOURCE_DIR) + "/data/" + file);
  if (!in) throw std::runtime_error("no file " + file);
  return read[file] = json::parse(in);
}

const json& at(const std::string& file, const std::string& pointer) {
  const json::json_pointer place(pointer);
  const json& whole = document(file);
  if (!whole.contains(place)) throw std::runtime_error(file + " has nothing at " + pointer);
  return whole.at(place);
}

}  // namespace

std::vector<std::string> shelf_files(const std::string& folder) {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(std::string(ZONEPROOF_SOURCE_DIR) + "/data/" + folder)) {
    if (entry.path().extension() == ".json") names.push_back(folder + "/" + entry.path().filename().string());
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::vector<std::string> keys(const std::string& file, const std::string& pointer) {
  std::vector<std::string> out;
  const json& node = at(file, pointer);
  if (!node.is_structured()) return out;
  for (const auto& item : node.items()) out.push_back(item.key());
  return out;
}

bool has(const std::string& file, const std::string& pointer) {
  return document(file).contains(json::json_pointer(pointer));
}

std::string text(const std::string& file, const std::string& pointer) { return at(file, pointer).get<std::string>(); }

bool flag(const std::string& file, const std::string& pointer) { return at(file, pointer).get<bool>(); }

bool is_figure(const std::string& file, const std::string& pointer) {
  const json& node = at(file, pointer);
  return node.is_number() || (node.is_object() && node.contains("value") && node["value"].is_number());
}

Figure figure(const std::string& file, const std::string& pointer) {
  const json& node = at(file, pointer);
  if (node.is_number()) return {node, node, node, "", 0.0};
  if (!is_figure(file, pointer)) throw std::runtime_error(file + " has no number at " + pointer);
  const double nominal = node["value"];
  const double spread = std::abs(nominal) * node.value("tolerance_pct", 0.0) / 100.0;
  return {node.value("min", nominal - spread), nominal, node.value("max", nominal + spread),
          node.value("origin", std::string()), node.value("tempco_ppm_K", 0.0)};
}

}  // namespace zoneproof::published
