#pragma once
#include <span>

#include "plane/arrangement.hpp"

namespace zoneproof::plane {

/// The area seen from a point between the walls that obstruct, by exact rational numbers (GMP) and no clever method:
/// the directions to all ends of walls, all their crossings and the corners of the bound, in order; between two of them
/// the nearest wall is the same all the way. A wall in line with the eye hides nothing. From the bound one sees inward.
double exact_seen_area(std::span<const Segment> walls, const Box& bound, Point eye);

}  // namespace zoneproof::plane
