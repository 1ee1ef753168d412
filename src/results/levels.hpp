#pragma once
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "electric/levels.hpp"
#include "results/level_chances.hpp"
#include "results/questions.hpp"
#include "site/model.hpp"

/// The question levels.
namespace zoneproof::results {

/// All levels of a zone with one of its triggers (or none), in the conditions asked for.
struct ZoneLevels {
  std::string zone;
  std::string trigger;  ///< empty: without any
  std::vector<electric::Level> levels;
  std::vector<LevelChance> chances;           ///< one a level, all empty unless they were asked for
  std::shared_ptr<const site::Site> excerpt;  ///< what the levels were solved in, and point into
};

Answered<std::vector<ZoneLevels>> answer(const site::Site& site, const LevelsQuestion& question,
                                         const Progress& progress);
nlohmann::ordered_json json_of(const std::vector<ZoneLevels>& answer);

}  // namespace zoneproof::results
