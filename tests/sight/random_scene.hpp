#pragma once
#include <cstdint>

#include "sight/scene.hpp"

namespace zoneproof::sight {

/// A storey by chance: outer walls, inner ones of many heights, with doors and windows, beams, blocks, shelves and
/// racks; detectors with a fan and cameras of every kind on its walls and within.
struct RandomScene {
  MadeScene scene;
  std::vector<AreaSource> sources;
  std::vector<Watching> cameras;
  Demand demand;
};

/// Same seed, same scene.
RandomScene random_scene(std::uint64_t seed);

constexpr double kRoomWide_m = 16.0, kRoomDeep_m = 12.0;

}  // namespace zoneproof::sight
