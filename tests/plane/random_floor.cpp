#include "plane/random_floor.hpp"

#include <algorithm>
#include <random>

#include "plane/predicates.hpp"
#include "plane/triangulation.hpp"

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
  const Triangulation triangulation(arrange(floor.walls, floor.bound));
  std::vector<Point> eyes;
  while (eyes.size() < static_cast<std::size_t>(count)) {
    const double x = floor.bound.low.x + 0.25 * static_cast<double>(random() % quarters);
    const Point eye{x, floor.bound.low.y + 0.25 * static_cast<double>(random() % quarters)};
    const bool on_wall = std::any_of(floor.walls.begin(), floor.walls.end(), [&](const Segment& w) {
      return w.obstructs && orientation(w.from, w.to, eye) == 0 && between(w.from, w.to, eye);
    });
    if (!on_wall || triangulation.locate(eye, 0)->kind != Place::Kind::inside) eyes.push_back(eye);
  }
  return eyes;
}

}  // namespace zoneproof::plane
