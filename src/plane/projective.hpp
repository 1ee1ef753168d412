#pragma once
#include <optional>
#include <span>
#include <vector>

#include "plane/point.hpp"

/// Convex polygons that may reach to infinity, cut by half-planes.
///
/// A corner is (x, y, w) and stands for the point (x / w, y / w); with w = 0 for the direction (x, y). w is never
/// negative. A half-plane is a linear function of the three, so cutting (Sutherland and Hodgman, Reentrant polygon
/// clipping, 1974, from memory) is the same for both kinds, and what reaches to infinity needs no number for "far".
namespace zoneproof::plane {

struct ProjectivePoint {
  double x = 0.0, y = 0.0, w = 1.0;
};

/// Points with a x + b y + c >= 0.
struct HalfPlane {
  double a = 0.0, b = 0.0, c = 0.0;
  double at(const ProjectivePoint& p) const { return a * p.x + b * p.y + c * p.w; }
};

using ProjectivePolygon = std::vector<ProjectivePoint>;

/// What of a polygon lies in a half-plane. Of a convex one the corners stay in their order; of any other, sides that
/// lie on the border may cover each other, while every place keeps its winding number.
ProjectivePolygon cut(const ProjectivePolygon& polygon, const HalfPlane& half);

/// What of a polygon lies within a box, as points of the plane with `origin` for (0, 0); empty where nothing does.
std::vector<Point> cut_to_box(ProjectivePolygon polygon, Point origin, const Box& box);

/// Corners of the convex hull, counter-clockwise, none within a side; fewer than three where it has no area.
/// Andrew, Another efficient algorithm for convex hulls in two dimensions, 1979 (from memory). n log n.
std::vector<Point> convex_hull(std::vector<Point> points);

}  // namespace zoneproof::plane
