#include "sight/scene.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace zoneproof::sight {

using plane::Point;

namespace {

/// Parts of the way from the eye (0) to a place (1) that lie in or on an outline.
std::vector<std::pair<double, double>> stretches_within(const Prism& prism, Point eye, Point place) {
  const double dx = place.x - eye.x, dy = place.y - eye.y;
  std::vector<double> stops;
  const std::size_t sides = prism.body ? prism.outline.size() : 1;
  for (std::size_t i = 0; i < sides; ++i) {
    const Point a = prism.outline[i], b = prism.outline[(i + 1) % prism.outline.size()];
    const double ex = b.x - a.x, ey = b.y - a.y, turn = dx * ey - dy * ex;
    if (turn == 0.0) continue;
    const double way = ((a.x - eye.x) * ey - (a.y - eye.y) * ex) / turn;
    const double share = ((a.x - eye.x) * dy - (a.y - eye.y) * dx) / turn;
    if (share >= 0.0 && share <= 1.0) stops.push_back(way);
  }
  std::vector<std::pair<double, double>> found;
  const auto add = [&](double from, double to) {
    from = std::max(from, 0.0), to = std::min(to, 1.0);
    if (from <= to) found.emplace_back(from, to);
  };
  if (!prism.body) {
    for (const double stop : stops) add(stop, stop);
    return found;
  }
  stops.insert(stops.end(), {0.0, 1.0});
  std::sort(stops.begin(), stops.end());
  for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
    const double middle = (stops[i] + stops[i + 1]) / 2.0;
    if (stops[i] < stops[i + 1] && holds({prism.outline}, {eye.x + middle * dx, eye.y + middle * dy}))
      add(stops[i], stops[i + 1]);
  }
  return found;
}

/// The widest gap between two convex figures along the directions square to their sides.
double gap_between(const std::vector<Point>& a, const std::vector<Point>& b) {
  double widest = -std::numeric_limits<double>::infinity();
  for (const auto* figure : {&a, &b}) {
    for (std::size_t i = 0; i < figure->size(); ++i) {
      const Point p = (*figure)[i], q = (*figure)[(i + 1) % figure->size()];
      const double size = std::hypot(q.x - p.x, q.y - p.y);
      if (size == 0.0) continue;
      const Point across = {(q.y - p.y) / size, (p.x - q.x) / size};
      const auto spread = [&](const std::vector<Point>& of) {
        std::pair<double, double> range = {INFINITY, -INFINITY};
        for (const Point c : of) {
          const double at = across.x * c.x + across.y * c.y;
          range = {std::min(range.first, at), std::max(range.second, at)};
        }
        return range;
      };
      const auto one = spread(a), other = spread(b);
      widest = std::max({widest, one.first - other.second, other.first - one.second});
    }
  }
  return widest;
}

double gap(const Prism& prism, const Eye& eye, const std::vector<double>& heights, Point place) {
  const double far = std::hypot(place.x - eye.at.x, place.y - eye.at.y);
  const double top = std::min(prism.top_m, 1000.0);
  std::vector<Point> lines = {{0.0, eye.height_m}};
  for (const double height : heights) lines.push_back({far, height});
  double least = std::numeric_limits<double>::infinity();
  for (const auto& [from, to] : stretches_within(prism, eye.at, place)) {
    std::vector<Point> cut = {{from * far, prism.bottom_m}, {from * far, top}};
    if (to > from) cut.insert(cut.end(), {{to * far, top}, {to * far, prism.bottom_m}});
    double here = gap_between(lines, cut);
    // Figures without width: the upright direction along the cut, too.
    const auto [low, high] =
        std::minmax_element(lines.begin(), lines.end(), [](Point p, Point q) { return p.y < q.y; });
    here = std::max({here, prism.bottom_m - high->y, low->y - top});
    least = std::min(least, here);
  }
  return least;
}

}  // namespace

double distance_to(const std::vector<Point>& ring, Point p) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point a = ring[i], b = ring[(i + 1) % ring.size()];
    const double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
    const double share = square > 0.0 ? std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0.0, 1.0) : 0.0;
    least = std::min(least, std::hypot(a.x + share * dx - p.x, a.y + share * dy - p.y));
  }
  return least;
}

bool holds(const Outlines& rings, Point p) {
  bool inside = false;
  for (const std::vector<Point>& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Point a = ring[i], b = ring[(i + 1) % ring.size()];
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) inside = !inside;
    }
  }
  return inside;
}

bool Drawn::in_area(Point p) const {
  return std::any_of(found.areas.begin(), found.areas.end(), [&](const Outlines& area) { return holds(area, p); });
}

bool Drawn::blind(Point p) const {
  return std::any_of(found.patches.begin(), found.patches.end(),
                     [&](const Patch& patch) { return holds(patch.outlines, p); });
}

double Drawn::to_border(Point p) const {
  double least = std::numeric_limits<double>::infinity();
  for (const Outlines& area : found.areas)
    for (const auto& ring : area) least = std::min(least, distance_to(ring, p));
  for (const Patch& patch : found.patches)
    for (const auto& ring : patch.outlines) least = std::min(least, distance_to(ring, p));
  return least;
}

double Drawn::length_of_borders() const {
  double sum = 0.0;
  const auto add = [&](const Outlines& outlines) {
    for (const auto& ring : outlines)
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Point a = ring[i], b = ring[(i + 1) % ring.size()];
        sum += std::hypot(b.x - a.x, b.y - a.y);
      }
  };
  for (const Outlines& area : found.areas) add(area);
  for (const Patch& patch : found.patches) add(patch.outlines);
  return sum;
}

double gap_to(const Prism& prism, const Eye& eye, const Band& band, Point place) {
  return gap(prism, eye, {band.low_m, band.high_m}, place);
}

bool meets(const Prism& prism, const Eye& eye, double height_m, Point place) {
  return gap(prism, eye, {height_m}, place) <= 0.0;
}

}  // namespace zoneproof::sight
