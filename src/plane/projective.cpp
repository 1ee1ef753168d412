#include "plane/projective.hpp"

#include <algorithm>

#include "plane/predicates.hpp"

namespace zoneproof::plane {

ProjectivePolygon cut(const ProjectivePolygon& polygon, const HalfPlane& half) {
  ProjectivePolygon kept;
  kept.reserve(polygon.size() + 1);
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const ProjectivePoint &p = polygon[i], &q = polygon[i + 1 == polygon.size() ? 0 : i + 1];
    const double at_p = half.at(p), at_q = half.at(q);
    if (at_p >= 0.0) kept.push_back(p);
    if ((at_p > 0.0 && at_q < 0.0) || (at_p < 0.0 && at_q > 0.0)) {
      const double share = at_p / (at_p - at_q);
      kept.push_back({p.x + share * (q.x - p.x), p.y + share * (q.y - p.y), p.w + share * (q.w - p.w)});
    }
  }
  return kept;
}

std::vector<Point> cut_to_box(ProjectivePolygon polygon, Point origin, const Box& box) {
  const Box here = {{box.low.x - origin.x, box.low.y - origin.y}, {box.high.x - origin.x, box.high.y - origin.y}};
  for (const HalfPlane& half : {HalfPlane{1, 0, -here.low.x}, HalfPlane{-1, 0, here.high.x},
                                HalfPlane{0, 1, -here.low.y}, HalfPlane{0, -1, here.high.y}}) {
    polygon = cut(polygon, half);
    if (polygon.size() < 3) return {};
  }
  std::vector<Point> points;
  points.reserve(polygon.size());
  for (const ProjectivePoint& p : polygon) {
    if (!(p.w > 0.0)) continue;  // the apex of a cone that only touches the box: it has no area
    const Point at = {p.x / p.w + origin.x, p.y / p.w + origin.y};
    points.push_back({std::clamp(at.x, box.low.x, box.high.x), std::clamp(at.y, box.low.y, box.high.y)});
  }
  return points.size() < 3 ? std::vector<Point>{} : points;
}

std::vector<Point> convex_hull(std::vector<Point> points) {
  std::sort(points.begin(), points.end(), [](Point a, Point b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) return points;
  std::vector<Point> hull;
  const auto half = [&](auto begin, auto end) {
    const std::size_t base = hull.size();
    for (auto p = begin; p != end; ++p) {
      while (hull.size() >= base + 2 && orientation(hull[hull.size() - 2], hull.back(), *p) <= 0) hull.pop_back();
      hull.push_back(*p);
    }
    hull.pop_back();
  };
  half(points.begin(), points.end());
  half(points.rbegin(), points.rend());
  return hull;
}

}  // namespace zoneproof::plane
