#include "results/level_chances.hpp"

#include <nlohmann/json.hpp>

#include "base/parallel_for.hpp"
#include "results/results.hpp"

namespace zoneproof::results {

using electric::Level;
using electric::ReadingChance;
using electric::UnitCondition;
using Json = nlohmann::ordered_json;

namespace {

constexpr double millionth = 1e-6;

}  // namespace

std::vector<LevelChance> chances_of(const site::Site& site, const std::vector<Level>& levels) {
  return parallel_map<LevelChance>(levels.size(), [&](std::size_t i) {
    LevelChance chance;
    const UnitCondition unit = levels[i].situation.unit;
    const bool happens = levels[i].situation.state.happening != electric::Happening::shorted;
    if (!happens || (unit != UnitCondition::detached && unit != UnitCondition::powered)) return chance;
    chance.panel = electric::panel_chance(site, levels[i]);
    if (unit == UnitCondition::powered) chance.unit = electric::unit_chance(site, levels[i]);
    return chance;
  });
}

Json json_of(const std::optional<ReadingChance>& answer) {
  if (!answer) return nullptr;
  const auto part = [](const std::optional<double>& share, double unit) {
    return share ? json_of_number(*share / unit) : Json(nullptr);
  };
  Json shares = Json::array(), gaps = Json::array();
  for (const electric::SpreadShare& share : answer->shares)
    shares.push_back({{"pointer", share.pointer}, {"share", json_of_number(share.share)}});
  for (const chain::Gap& gap : answer->gaps) gaps.push_back({{"pointer", gap.pointer}, {"reason", gap.reason}});
  const std::optional<circuit::Chance>& chance = answer->chance;
  std::optional<double> counted, least, most;
  if (chance) {
    if (chance->outliers > 0) counted = chance->outside;  // none met is no estimate
    least = chance->interval.low;
    most = chance->interval.high;
  }
  const char* interval = !chance ? nullptr : chance->replicated ? "replicates" : "binomial";
  return {{"kind", electric::word(answer->kind)},
          {"sigma_V", part(answer->sigma_V, 1.0)},
          {"shares", std::move(shares)},
          {"normal_ppm", part(answer->by_normal, millionth)},
          {"ppm", part(counted, millionth)},
          {"ppm_low", part(least, millionth)},
          {"ppm_high", part(most, millionth)},
          {"interval", interval == nullptr ? Json(nullptr) : Json(interval)},
          {"confidence_pct", chance ? json_of_number(100.0 * answer->confidence) : Json(nullptr)},
          {"points", chance ? Json(chance->tries) : Json(nullptr)},
          {"gaps", std::move(gaps)}};
}

}  // namespace zoneproof::results
