#include "sight/flat_clip.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace zoneproof::sight {

using plane::Point;

namespace {

Vector3 part(Vector3 a, Vector3 b, double share) { return a + share * (b - a); }
Point part(Point a, Point b, double share) { return {a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)}; }

/// Keeps where `inside` (a number that is linear along a side) is 0 or more. Both neighbours of a side find the same
/// place on it: it is computed from the inner end.
template <class P, class Inside>
std::vector<P> cut(const std::vector<P>& ring, const Inside& inside) {
  std::vector<P> kept;
  const std::size_t count = ring.size();
  for (std::size_t i = 0; i < count; ++i) {
    const P a = ring[i], b = ring[i + 1 == count ? 0 : i + 1];
    const double at_a = inside(a), at_b = inside(b);
    if (at_a >= 0.0) kept.push_back(a);
    if ((at_a >= 0.0) == (at_b >= 0.0)) continue;
    kept.push_back(at_a >= 0.0 ? part(a, b, at_a / (at_a - at_b)) : part(b, a, at_b / (at_b - at_a)));
  }
  return kept;
}

}  // namespace

std::vector<Vector3> before(const std::vector<Vector3>& ring, double near) {
  return cut(ring, [near](Vector3 p) { return p.z - near; });
}

std::vector<Vector3> body_before(const std::vector<Vector3>& corners, double near) {
  std::vector<Vector3> kept;
  for (const Vector3& a : corners) {
    if (a.z < near) continue;
    kept.push_back(a);
    for (const Vector3& b : corners)
      if (b.z < near) kept.push_back(part(a, b, (a.z - near) / (a.z - b.z)));
  }
  return kept;
}

std::vector<Point> projected(const std::vector<Vector3>& corners) {
  std::vector<Point> places;
  for (const Vector3& p : corners) places.push_back({p.x / p.z, p.y / p.z});
  return places;
}

std::vector<Point> cut_to(std::vector<Point> ring, const plane::Box& box) {
  ring = cut(ring, [&](Point p) { return p.x - box.low.x; });
  ring = cut(ring, [&](Point p) { return box.high.x - p.x; });
  ring = cut(ring, [&](Point p) { return p.y - box.low.y; });
  ring = cut(ring, [&](Point p) { return box.high.y - p.y; });
  // The last digits of a place on the border.
  for (Point& p : ring) p = {std::clamp(p.x, box.low.x, box.high.x), std::clamp(p.y, box.low.y, box.high.y)};
  return ring;
}

std::vector<Point> ends_of(const std::vector<Point>& points) {
  if (points.empty()) return {};
  const auto farthest = [&](Point from) {
    return *std::max_element(points.begin(), points.end(), [&](Point a, Point b) {
      return std::hypot(a.x - from.x, a.y - from.y) < std::hypot(b.x - from.x, b.y - from.y);
    });
  };
  const Point one = farthest(points.front()), other = farthest(one);
  if (one == other) return {};
  return {one, other};
}

}  // namespace zoneproof::sight
