#include "plane/inner_circle.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>
#include <tuple>

namespace zoneproof::plane {

namespace {

double distance_to_side(Point p, Point a, Point b) {
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double length2 = dx * dx + dy * dy;
  const double along = length2 > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / length2, 0.0, 1.0) : 0.0;
  return std::hypot(p.x - a.x - along * dx, p.y - a.y - along * dy);
}

/// Distance from the border, negative outside.
double depth(Point p, const std::vector<std::vector<Point>>& rings) {
  bool inside = false;
  double nearest = std::numeric_limits<double>::infinity();
  for (const std::vector<Point>& ring : rings) {
    for (std::size_t i = 0, last = ring.size() - 1; i < ring.size(); last = i++) {
      const Point a = ring[last], b = ring[i];
      nearest = std::min(nearest, distance_to_side(p, a, b));
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) inside = !inside;
    }
  }
  return inside ? nearest : -nearest;
}

struct Square {
  Point middle;
  double half;
  double depth;

  double most() const { return depth + half * std::sqrt(2.0); }
  bool operator<(const Square& other) const {
    return std::tuple(most(), -middle.x, -middle.y) < std::tuple(other.most(), -other.middle.x, -other.middle.y);
  }
};

}  // namespace

InnerCircle inner_circle(const std::vector<std::vector<Point>>& rings, double precision) {
  constexpr double kFar = std::numeric_limits<double>::infinity();
  Point low = {kFar, kFar}, high = {-kFar, -kFar};
  for (const std::vector<Point>& ring : rings) {
    for (const Point p : ring) {
      low = {std::min(low.x, p.x), std::min(low.y, p.y)};
      high = {std::max(high.x, p.x), std::max(high.y, p.y)};
    }
  }
  const double half = std::min(high.x - low.x, high.y - low.y) / 2.0;
  if (!(half > 0.0)) return {};
  std::priority_queue<Square> waiting;
  const auto add = [&](Point middle, double size) { waiting.push({middle, size, depth(middle, rings)}); };
  const auto across = static_cast<int>(std::ceil((high.x - low.x) / (2.0 * half)));
  const auto up = static_cast<int>(std::ceil((high.y - low.y) / (2.0 * half)));
  for (int i = 0; i < across; ++i)
    for (int k = 0; k < up; ++k) add({low.x + (2 * i + 1) * half, low.y + (2 * k + 1) * half}, half);
  InnerCircle best;
  while (!waiting.empty()) {
    const Square square = waiting.top();
    waiting.pop();
    if (square.depth > best.radius) best = {square.middle, square.depth};
    if (square.most() <= best.radius + precision) break;
    const double quarter = square.half / 2.0;
    for (const double x : {-quarter, quarter})
      for (const double y : {-quarter, quarter}) add({square.middle.x + x, square.middle.y + y}, quarter);
  }
  return best;
}

}  // namespace zoneproof::plane
