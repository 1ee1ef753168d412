#include "plane/random_floor.hpp"

#include <random>

namespace zoneproof::plane {

Floor random_floor(std::uint64_t seed, int walls, int size) {
  std::mt19937_64 random(seed);
  const auto whole = [&] { return static_cast<double>(random() % static_cast<std::uint64_t>(size + 1)); };
  const double side = size;
  Floor floor{{{0.0, 0.0}, {side, side}}, {}};
  for (int i = 0; i < walls; ++i) {
    const double ax = whole(), ay = whole(), bx = whole(), by = whole();
    floor.walls.push_back({{ax, ay}, {bx, by}, random() % 8 != 0});
  }
  return floor;
}

std::vector<Point> random_eyes(std::uint64_t seed, const Floor& floor, int count) {
  std::mt19937_64 random(seed);
  const auto quarters = static_cast<std::uint64_t>(4.0 * (floor.bound.high.x - floor.bound.low.x)) + 1;
  std::vector<Point> eyes;
  for (int i = 0; i < count; ++i) {
    const double x = floor.bound.low.x + 0.25 * static_cast<double>(random() % quarters);
    eyes.push_back({x, floor.bound.low.y + 0.25 * static_cast<double>(random() % quarters)});
  }
  return eyes;
}

}  // namespace zoneproof::plane
