#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <vector>

#include "cli/screen.hpp"
#include "electric/reading_chance.hpp"

/// How likely readings are wrong: the part of `levels` that `--yield` asks for.
namespace zoneproof::cli {

/// Of one level; nothing where it is not asked: in other conditions of the unit than running and detached, and of a
/// unit's input that there is none of.
struct LevelChance {
  std::optional<electric::ReadingChance> panel, unit;
};

/// One entry a level, in the order of `levels`. Cost: reading_chance.hpp.
std::vector<LevelChance> chances_of(const site::Site& site, const std::vector<electric::Level>& levels);

/// A line a state and condition of the unit, each figure of the supply condition in which it is worst; then the parts
/// that make most of each spread.
void print_chances(const site::Site& site, const std::vector<electric::Level>& levels,
                   const std::vector<LevelChance>& chances, Screen& screen);

/// Null where nothing was asked.
nlohmann::ordered_json json_of(const std::optional<electric::ReadingChance>& chance);

}  // namespace zoneproof::cli
