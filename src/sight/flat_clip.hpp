#pragma once
#include <vector>

#include "plane/point.hpp"
#include "sight/vector3.hpp"

/// Rings cut to what lies before an eye and within a box; z is the depth, x / z and y / z the place. A ring that is not
/// convex may come back with pieces joined along the cut, which enclose nothing (Sutherland and Hodgman, Reentrant
/// polygon clipping, 1974, from memory). A line is a ring of two points; `ends_of` makes one of it again.
namespace zoneproof::sight {

/// What of a ring has a depth of `near` or more.
std::vector<Vector3> before(const std::vector<Vector3>& ring, double near);
/// The corners of what a convex body with these corners leaves before that depth, and perhaps places within it.
std::vector<Vector3> body_before(const std::vector<Vector3>& corners, double near);
std::vector<plane::Point> projected(const std::vector<Vector3>& corners);
std::vector<plane::Point> cut_to(std::vector<plane::Point> ring, const plane::Box& box);
/// The two ends of points that lie on a line; nothing where they are one place.
std::vector<plane::Point> ends_of(const std::vector<plane::Point>& points);

}  // namespace zoneproof::sight
