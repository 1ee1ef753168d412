#include "sight/cone.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace zoneproof::sight {

namespace {

using plane::Point;

/// Corners of a projected slice: points relative to the eye, and directions into which it is unbounded.
struct Slice {
  std::vector<Point> points, directions;
};

double reach_of(Point eye, const plane::Box& box) {
  return std::hypot(std::max(std::abs(box.low.x - eye.x), std::abs(box.high.x - eye.x)),
                    std::max(std::abs(box.low.y - eye.y), std::abs(box.high.y - eye.y)));
}

/// Hull of all points and of each, gone far into each direction. Far is twice what the box needs: neighbouring
/// directions (their bisectors are given too) are at most a right angle apart, so no place of the box that is a point
/// plus shares of both needs shares whose sum is more than 1.42 times its distance from the point.
std::vector<Point> hull_in_box(const Slice& slice, const Eye& eye, const plane::Box& box) {
  const double reach = reach_of(eye.at, box);
  std::vector<Point> points = slice.points;
  for (const Point p : slice.points) {
    const double far = 2.0 * (reach + std::hypot(p.x, p.y));
    for (const Point d : slice.directions) points.push_back({p.x + far * d.x, p.y + far * d.y});
  }
  plane::ProjectivePolygon polygon;
  for (const Point p : plane::convex_hull(std::move(points))) polygon.push_back({p.x, p.y, 1.0});
  return polygon.size() < 3 ? std::vector<Point>{} : plane::cut_to_box(std::move(polygon), eye.at, box);
}

void add_direction(Slice& slice, double x, double y) {
  const double size = std::hypot(x, y);
  if (size > 0.0) slice.directions.push_back({x / size, y / size});
}

/// Of every two: only those of the outermost ones are needed, and which these are need not be known.
void add_bisectors(Slice& slice) {
  const std::vector<Point> edges = slice.directions;
  for (std::size_t i = 0; i < edges.size(); ++i)
    for (std::size_t k = i + 1; k < edges.size(); ++k)
      add_direction(slice, edges[i].x + edges[k].x, edges[i].y + edges[k].y);
}

}  // namespace

std::vector<Point> places_in_cone(const Eye& eye, const std::vector<Vector3>& rays, const Band& band,
                                  const plane::Box& box) {
  const double low = band.low_m - eye.height_m, high = band.high_m - eye.height_m;
  // A ray that passes a height beyond this many times the farthest place of the box counts as level, so that the slice
  // goes on to infinity along it: the difference is less than rounding.
  constexpr double farthest = 1e9;
  const double reach = reach_of(eye.at, box);
  Slice slice;
  if (low <= 0.0 && high >= 0.0) slice.points.push_back({0.0, 0.0});
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const Vector3 &r = rays[i], &next = rays[(i + 1) % rays.size()];
    for (const double height : {low, high}) {
      if (height == 0.0 || !(r.z * height > 0.0)) continue;
      const double times = height / r.z;
      if (times * std::hypot(r.x, r.y) <= farthest * reach)
        slice.points.push_back({times * r.x, times * r.y});
      else
        add_direction(slice, r.x, r.y);
    }
    if (r.z == 0.0) add_direction(slice, r.x, r.y);
    if ((r.z > 0.0 && next.z < 0.0) || (r.z < 0.0 && next.z > 0.0)) {
      const double share = r.z / (r.z - next.z);
      add_direction(slice, r.x + share * (next.x - r.x), r.y + share * (next.y - r.y));
    }
  }
  add_bisectors(slice);
  return hull_in_box(slice, eye, box);
}

std::vector<Point> places_in_half_space(const Eye& eye, const Vector3& normal, double offset, const Band& band,
                                        const plane::Box& box) {
  // Of both heights the one that lies deeper in it decides, everywhere alike.
  const double rise = std::max(normal.z * (band.low_m - eye.height_m), normal.z * (band.high_m - eye.height_m));
  const plane::Box here = {{box.low.x - eye.at.x, box.low.y - eye.at.y},
                           {box.high.x - eye.at.x, box.high.y - eye.at.y}};
  const plane::ProjectivePolygon all = {{here.low.x, here.low.y, 1},
                                        {here.high.x, here.low.y, 1},
                                        {here.high.x, here.high.y, 1},
                                        {here.low.x, here.high.y, 1}};
  plane::ProjectivePolygon kept = plane::cut(all, {normal.x, normal.y, rise - offset});
  return kept.size() < 3 ? std::vector<Point>{} : plane::cut_to_box(std::move(kept), eye.at, box);
}

}  // namespace zoneproof::sight
