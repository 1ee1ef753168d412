#include "sight/shadow.hpp"

#include <algorithm>
#include <cmath>

#include "plane/predicates.hpp"

namespace zoneproof::sight {

namespace {

using plane::Point;

/// Narrows an interval of u to where `at_zero + slope u` is not negative. False where nothing is left.
bool narrow(Stretch& stretch, double at_zero, double slope) {
  if (std::isinf(at_zero)) return at_zero > 0.0;
  if (slope == 0.0) return at_zero >= 0.0;
  const double root = -at_zero / slope;
  if (slope > 0.0)
    stretch.from = std::max(stretch.from, root);
  else
    stretch.to = std::min(stretch.to, root);
  return stretch.from < stretch.to;
}

plane::ProjectivePoint scaled(Point p, Point eye, double u) { return {p.x - eye.x, p.y - eye.y, u}; }

}  // namespace

std::optional<Stretch> hidden_stretch(double eye_height_m, const Band& band, double bottom_m, double top_m,
                                      Hides hides) {
  const double eye = eye_height_m, fall_low = band.low_m - eye, fall_high = band.high_m - eye;
  Stretch stretch;
  const bool any = hides == Hides::some
                       ? narrow(stretch, top_m - eye, -fall_low) && narrow(stretch, eye - bottom_m, fall_high)
                       : narrow(stretch, eye - bottom_m, fall_low) && narrow(stretch, top_m - eye, -fall_high);
  return any ? std::optional(stretch) : std::nullopt;
}

std::vector<std::vector<Point>> shadow(Point eye, const std::vector<Point>& outline, bool body, const Stretch& stretch,
                                       const plane::Box& box) {
  std::vector<std::vector<Point>> pieces;
  const auto add = [&](plane::ProjectivePolygon polygon) {
    std::vector<Point> piece = plane::cut_to_box(std::move(polygon), eye, box);
    if (!piece.empty()) pieces.push_back(std::move(piece));
  };
  const std::size_t sides = body ? outline.size() : outline.size() - 1;
  for (std::size_t i = 0; i < sides; ++i) {
    Point a = outline[i], b = outline[(i + 1) % outline.size()];
    const int turn = plane::orientation(eye, a, b);
    if (turn == 0) continue;
    if (turn < 0) std::swap(a, b);
    add({scaled(a, eye, stretch.to), scaled(a, eye, stretch.from), scaled(b, eye, stretch.from),
         scaled(b, eye, stretch.to)});
  }
  if (!body) return pieces;
  for (const double u : {stretch.to, stretch.from}) {
    if (!(u > 0.0)) continue;
    plane::ProjectivePolygon slice;
    for (const Point p : outline) slice.push_back(scaled(p, eye, u));
    add(std::move(slice));
  }
  return pieces;
}

}  // namespace zoneproof::sight
