#pragma once
#include <cstdint>
#include <vector>

#include "plane/arrangement.hpp"

/// Floors for the tests: walls between points of a coarse grid, so that many cross, touch, repeat or lie on each other.
namespace zoneproof::plane {

struct Floor {
  Box bound;
  std::vector<Segment> walls;
};

/// Walls between points with whole coordinates from 0 to `size`, some of length 0, some that do not obstruct. Same
/// seed, same floor.
Floor random_floor(std::uint64_t seed, int walls, int size);

/// Points of the quarter grid in the bound: on walls, at their ends and between them. None lies on a wall that
/// obstructs and is bent in the arrangement because another crosses it at no multiple of the step: it would stand
/// beside the bent one.
std::vector<Point> random_eyes(std::uint64_t seed, const Floor& floor, int count);

}  // namespace zoneproof::plane
