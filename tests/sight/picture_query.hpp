#pragma once
#include <cmath>

#include "sight/picture.hpp"
#include "sight/reasons.hpp"

namespace zoneproof::sight {

template <class P, class X, class Y>
bool crosses_evenly(const std::vector<P>& ring, double x, double y, X x_of, Y y_of) {
  bool inside = false;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const P &a = ring[i], &b = ring[(i + 1) % ring.size()];
    if ((y_of(a) > y) == (y_of(b) > y)) continue;
    if (x < x_of(a) + (y - y_of(a)) / (y_of(b) - y_of(a)) * (x_of(b) - x_of(a))) inside = !inside;
  }
  return inside;
}

inline bool inside_ring(const std::vector<plane::Point>& ring, plane::Point p) {
  return crosses_evenly(
      ring, p.x, p.y, [](plane::Point q) { return q.x; }, [](plane::Point q) { return q.y; });
}

/// What an expected view shows at a place, by its areas alone.
class PictureQuery {
 public:
  explicit PictureQuery(const ExpectedView& view) : view_(view) {}

  /// The surface whose area holds the place and that hides what is behind it; kNothing where none does.
  std::size_t hiding_at(PicturePlace p) const {
    for (const SeenArea& area : view_.areas)
      if (view_.surfaces[area.surface].hides && holds(area, p)) return area.surface;
    return kNothing;
  }
  bool shows(PicturePlace p, SurfaceRole role) const {
    for (const SeenArea& area : view_.areas)
      if (view_.surfaces[area.surface].role == role && holds(area, p)) return true;
    return false;
  }
  /// To the nearest line of the drawing or of its border, pixels.
  double to_nearest_line(PicturePlace p) const {
    double least = HUGE_VAL;
    for (const SeenEdge& edge : view_.edges)
      for (std::size_t i = 0; i + 1 < edge.points.size(); ++i)
        least = std::min(least, distance(p, edge.points[i], edge.points[i + 1]));
    for (std::size_t i = 0; i < view_.border.size(); ++i)
      least = std::min(least, distance(p, view_.border[i], view_.border[(i + 1) % view_.border.size()]));
    return least;
  }

 private:
  static bool holds(const SeenArea& area, PicturePlace p) {
    bool inside = false;
    for (const auto& ring : area.rings)
      if (crosses_evenly(
              ring, p.across_px, p.down_px, [](const PicturePlace& q) { return q.across_px; },
              [](const PicturePlace& q) { return q.down_px; }))
        inside = !inside;
    return inside;
  }
  static double distance(PicturePlace p, PicturePlace a, PicturePlace b) {
    const double dx = b.across_px - a.across_px, dy = b.down_px - a.down_px, size = dx * dx + dy * dy;
    double share = size > 0 ? ((p.across_px - a.across_px) * dx + (p.down_px - a.down_px) * dy) / size : 0.0;
    share = std::fmin(1.0, std::fmax(0.0, share));
    return std::hypot(p.across_px - a.across_px - share * dx, p.down_px - a.down_px - share * dy);
  }
  const ExpectedView& view_;
};

}  // namespace zoneproof::sight
