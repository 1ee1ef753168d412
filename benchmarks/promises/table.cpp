#include "promises/table.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

namespace zoneproof::promises {

namespace {

constexpr const char* line = "{:<60}{:>13}{:>14}{:>10}   {}\n";

std::string measured(double value, const std::string& unit) {
  return std::isnan(value) ? "-" : fmt::format("{:.4g} {}", value, unit);
}

std::string ratio(double value) { return std::isnan(value) ? "-" : fmt::format("{:.3g}", value); }

std::string aim(const Figure& figure) {
  std::string words;
  if (!std::isnan(figure.aim_ours)) words = fmt::format("{:.3g} {}", figure.aim_ours, figure.unit);
  if (!std::isnan(figure.aim_ratio)) words += fmt::format("{}ratio {:g}", words.empty() ? "" : ", ", figure.aim_ratio);
  return words;
}

}  // namespace

std::string table_head() { return fmt::format(line, "promise", "ours", "theirs", "ratio", "aim"); }

std::string table_lines(const Figure& figure) {
  std::string lines = fmt::format(line, figure.promise, measured(figure.ours, figure.unit),
                                  measured(figure.theirs, figure.unit), ratio(figure.ratio()), aim(figure));
  if (!figure.beside.empty()) lines += fmt::format("  beside {}\n", figure.beside);
  return lines + fmt::format("  limit: {}\n", figure.limit);
}

std::string json_of(const std::vector<Figure>& figures) {
  using Json = nlohmann::ordered_json;
  const auto or_null = [](double number) { return std::isnan(number) ? Json() : Json(number); };
  Json all = Json::array();
  for (const Figure& figure : figures) {
    all.push_back({{"promise", figure.promise},
                   {"beside", figure.beside.empty() ? Json() : Json(figure.beside)},
                   {"ours", or_null(figure.ours)},
                   {"theirs", or_null(figure.theirs)},
                   {"ratio", or_null(figure.ratio())},
                   {"unit", figure.unit},
                   {"aim_ours", or_null(figure.aim_ours)},
                   {"aim_ratio", or_null(figure.aim_ratio)},
                   {"limit", figure.limit}});
  }
  return all.dump(2) + '\n';
}

}  // namespace zoneproof::promises
