#pragma once
#include <vector>

#include "plane/point.hpp"

namespace zoneproof::plane {

/// Twice the area of a ring, its last corner joined to its first: positive where it goes counter-clockwise.
double twice_area_of(const std::vector<Point>& ring);

/// The same ring, counter-clockwise.
std::vector<Point> counter_clockwise(std::vector<Point> ring);

}  // namespace zoneproof::plane
