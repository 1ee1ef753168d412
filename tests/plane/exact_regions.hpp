#pragma once
#include <functional>
#include <map>
#include <vector>

#include "plane/overlay.hpp"
#include "plane/projective.hpp"

/// Areas of regions by two exact methods that share nothing with the overlay: vertical slabs in rational numbers, for
/// rings that cross themselves in any way, and the Boolean operations of CGAL (exact kernel), for simple ones.
namespace zoneproof::plane {

/// Area of the places whose winding numbers pass; labels whose number is 0 are left out of them. The plane is cut into
/// slabs at every corner and crossing; within a slab no two sides cross, and numbers are counted upward.
double exact_area(const std::vector<Ring>& rings, const std::function<bool(const std::map<Label, int>&)>& passes);

enum class Operation { unite, intersect, subtract };

/// Area of the union of `a` (counter-clockwise simple polygons) combined with the union of `b`. By CGAL.
double cgal_area(const std::vector<std::vector<Point>>& a, const std::vector<std::vector<Point>>& b,
                 Operation operation);

/// Corners of the convex hull, counter-clockwise. By CGAL.
std::vector<Point> cgal_hull(const std::vector<Point>& points);

/// Area of a counter-clockwise convex polygon within a box, `origin` for (0, 0): the box cut by the lines through
/// neighbouring corners, in rational numbers.
double exact_area_in_box(const ProjectivePolygon& polygon, Point origin, const Box& box);

/// Half of the sum of cross products.
double ring_area(const std::vector<Point>& ring);
double perimeter(const std::vector<Ring>& rings);

}  // namespace zoneproof::plane
