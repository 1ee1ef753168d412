#include "sight/height_share.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "plane/projective.hpp"

namespace zoneproof::sight {

namespace {

using plane::Point;

constexpr int kChords = 64;
constexpr double kNoRoll = 1e-12;  ///< a part of n across the axis below this is rounding

/// The parabola across x + along X >= scale (c X + a)(c X + b), in a frame along and across the axis.
struct Border {
  double along, across, scale, c, a, b;
  /// What is left of the condition without its part across: along X - scale z0 z1.
  double rest(double x) const { return along * x - scale * (c * x + a) * (c * x + b); }
};

class Strips {
 public:
  Strips(const CameraModel& model, const plane::Box& box) : eye_{model.eye().x, model.eye().y}, box_(box) {
    const Vector3 axis = model.forward();
    const double size = std::hypot(axis.x, axis.y);
    ahead_ = size > 0.0 ? Point{axis.x / size, axis.y / size} : Point{0.0, 1.0};
  }

  /// Places with a X + b Y + c >= 0.
  std::vector<Point> where(double a, double b, double c) const {
    const plane::HalfPlane half = {a * ahead_.x + b * ahead_.y, a * ahead_.y - b * ahead_.x, c};
    const Point low = {box_.low.x - eye_.x, box_.low.y - eye_.y}, high = {box_.high.x - eye_.x, box_.high.y - eye_.y};
    plane::ProjectivePolygon kept =
        plane::cut({{low.x, low.y, 1}, {high.x, low.y, 1}, {high.x, high.y, 1}, {low.x, high.y, 1}}, half);
    return kept.size() < 3 ? std::vector<Point>{} : plane::cut_to_box(std::move(kept), eye_, box_);
  }
  /// Along the axis: the nearest and the farthest place of the box.
  std::pair<double, double> reach() const {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Point p : {box_.low, Point{box_.high.x, box_.low.y}, box_.high, Point{box_.low.x, box_.high.y}}) {
      const double x = (p.x - eye_.x) * ahead_.x + (p.y - eye_.y) * ahead_.y;
      low = std::min(low, x), high = std::max(high, x);
    }
    return {low, high};
  }
  Point ahead() const { return ahead_; }

 private:
  Point eye_, ahead_;
  plane::Box box_;
};

/// Between which X a condition that is quadratic holds: outside of both roots nothing is witnessed.
std::vector<std::vector<Point>> outside_of_roots(const Border& border, const Strips& strips) {
  const double a = -border.scale * border.c * border.c,
               b = border.along - border.scale * border.c * (border.a + border.b),
               c = -border.scale * border.a * border.b;
  if (a == 0.0) return {strips.where(-b, 0.0, -c)};  // looking straight down: a half-plane, or all, or nothing
  const double discriminant = b * b - 4.0 * a * c;
  if (discriminant < 0.0) return {strips.where(0.0, 0.0, 1.0)};
  const double root = std::sqrt(discriminant);
  const double near = std::min((-b - root) / (2.0 * a), (-b + root) / (2.0 * a));
  const double far = std::max((-b - root) / (2.0 * a), (-b + root) / (2.0 * a));
  return {strips.where(-1.0, 0.0, near), strips.where(1.0, 0.0, -far)};
}

std::vector<std::vector<Point>> beyond_chords(const Border& border, const Strips& strips) {
  const auto [low, high] = strips.reach();
  const double towards = border.across > 0.0 ? 1.0 : -1.0, size = std::abs(border.across);
  std::vector<std::vector<Point>> pieces;
  // Held: towards Y >= g(X) = -rest(X) / size, which is convex; a chord of g lies above it.
  const auto g = [&](double x) { return -border.rest(x) / size; };
  for (int i = 0; i < kChords; ++i) {
    const double from = low + (high - low) * i / kChords, to = low + (high - low) * (i + 1) / kChords;
    const double slope = (g(to) - g(from)) / (to - from);
    pieces.push_back(strips.where(slope, -towards, g(from) - slope * from));
  }
  return pieces;
}

}  // namespace

bool height_share_is_answered(const CameraModel& model) { return model.is_flat(); }

std::vector<std::vector<Point>> places_below_height_share(const CameraModel& model, double floor_m, double target_m,
                                                          double share_pct, const plane::Box& box) {
  const Vector3 w = model.forward(), d = model.shown_down();
  const Vector3 n = w.z * d - d.z * w;
  const Strips strips(model, box);
  const Point ahead = strips.ahead();
  Border border;
  border.along = n.x * ahead.x + n.y * ahead.y;
  border.across = n.x * ahead.y - n.y * ahead.x;  // Y to the right of the axis
  border.scale = share_pct / 100.0 * model.height_px() / (model.focal_down_px() * target_m);
  border.c = w.x * ahead.x + w.y * ahead.y;
  border.a = (floor_m - model.eye().z) * w.z;
  border.b = (floor_m + target_m - model.eye().z) * w.z;
  std::vector<std::vector<Point>> pieces =
      std::abs(border.across) <= kNoRoll ? outside_of_roots(border, strips) : beyond_chords(border, strips);
  // Behind the foot's or the head's plane of depth 0 the quotient means nothing: the frame leaves that out.
  return pieces;
}

}  // namespace zoneproof::sight
