#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <vector>

#include "electric/levels.hpp"
#include "electric/reading_chance.hpp"

/// How likely readings are wrong: the part of levels that its yield asks for.
namespace zoneproof::results {

/// Of one level; nothing where it is not asked: in other conditions of the unit than running and detached, and of a
/// unit's input that there is none of.
struct LevelChance {
  std::optional<electric::ReadingChance> panel, unit;
};

/// One entry a level, in the order of `levels`. Cost: reading_chance.hpp.
std::vector<LevelChance> chances_of(const site::Site& site, const std::vector<electric::Level>& levels);

/// Null where nothing was asked.
nlohmann::ordered_json json_of(const std::optional<electric::ReadingChance>& chance);

}  // namespace zoneproof::results
