#pragma once
#include <vector>

#include "cli/screen.hpp"
#include "electric/levels.hpp"
#include "results/level_chances.hpp"
#include "site/model.hpp"

/// How likely readings are wrong: the part of `levels` that `--yield` asks for.
namespace zoneproof::cli {

/// A line a state and condition of the unit, each figure of the supply condition in which it is worst; then the parts
/// that make most of each spread.
void print_chances(const site::Site& site, const std::vector<electric::Level>& levels,
                   const std::vector<results::LevelChance>& chances, Screen& screen);

}  // namespace zoneproof::cli
