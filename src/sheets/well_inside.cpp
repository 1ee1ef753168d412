#include "sheets/well_inside.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Point;

namespace {

double to_line(Point p, Point a, Point b) {
  const Point d = b - a;
  const double size = d.x * d.x + d.y * d.y;
  const double share = size > 0.0 ? std::clamp(((p.x - a.x) * d.x + (p.y - a.y) * d.y) / size, 0.0, 1.0) : 0.0;
  return length(p - (a + d * share));
}

template <class Each>
void each_side(const Rings& area, const Each& each) {
  for (const auto& ring : area)
    for (std::size_t i = 0; i < ring.size(); ++i) each(ring[i], ring[(i + 1) % ring.size()]);
}

struct Best {
  std::optional<Point> at;
  double far = 0.0;
};

void search(const Rings& area, const Box& box, Best& best) {
  constexpr int kGrid = 24;
  for (int i = 0; i < kGrid; ++i) {
    for (int k = 0; k < kGrid; ++k) {
      const Point p = {box.left + box.width() * (i + 0.5) / kGrid, box.top + box.height() * (k + 0.5) / kGrid};
      if (!holds(area, p)) continue;
      double nearest = std::numeric_limits<double>::infinity();
      each_side(area, [&](Point a, Point b) { nearest = std::min(nearest, to_line(p, a, b)); });
      if (!(nearest > best.far)) continue;
      best = {p, nearest};
    }
  }
}

}  // namespace

bool holds(const Rings& area, Point p) {
  bool inside = false;
  each_side(area, [&](Point a, Point b) {
    if ((a.y > p.y) == (b.y > p.y)) return;
    if (p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) inside = !inside;
  });
  return inside;
}

bool holds(const Rings& area, const Box& box) {
  if (!holds(area, box.centre())) return false;
  bool crossed = false;
  each_side(area, [&](Point a, Point b) { crossed = crossed || cross(drawing::Line{a, b}, box); });
  return !crossed;
}

std::optional<Point> well_inside(const Rings& area) {
  if (area.empty() || area.front().empty()) return std::nullopt;
  Box box = {area[0][0].x, area[0][0].y, area[0][0].x, area[0][0].y};
  each_side(area, [&](Point a, Point) { box = united(box, {a.x, a.y, a.x, a.y}); });
  Best best;
  search(area, box, best);
  if (!best.at) return std::nullopt;
  const Point step = {box.width() / 12, box.height() / 12}, low = *best.at - step, high = *best.at + step;
  search(area, {low.x, low.y, high.x, high.y}, best);
  return best.at;
}

}  // namespace zoneproof::sheets
