#include "sight/height_share.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

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

  /// A condition a X + b Y + c >= 0.
  struct Side {
    double a, b, c;
  };
  /// Places where both hold.
  std::vector<Point> where(const Side& one, const Side& other) const {
    const Point low = {box_.low.x - eye_.x, box_.low.y - eye_.y}, high = {box_.high.x - eye_.x, box_.high.y - eye_.y};
    plane::ProjectivePolygon kept = {{low.x, low.y, 1}, {high.x, low.y, 1}, {high.x, high.y, 1}, {low.x, high.y, 1}};
    for (const Side& side : {one, other}) {
      kept = plane::cut(kept, {side.a * ahead_.x + side.b * ahead_.y, side.a * ahead_.y - side.b * ahead_.x, side.c});
      if (kept.size() < 3) return {};
    }
    return plane::cut_to_box(std::move(kept), eye_, box_);
  }
  /// Of a X + b Y: the least and the most over the box.
  std::pair<double, double> reach(double a, double b) const {
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const Point p : {box_.low, Point{box_.high.x, box_.low.y}, box_.high, Point{box_.low.x, box_.high.y}}) {
      const double x = (p.x - eye_.x) * ahead_.x + (p.y - eye_.y) * ahead_.y;
      const double y = (p.x - eye_.x) * ahead_.y - (p.y - eye_.y) * ahead_.x;
      low = std::min(low, a * x + b * y), high = std::max(high, a * x + b * y);
    }
    return {low, high};
  }
  Point ahead() const { return ahead_; }

 private:
  Point eye_, ahead_;
  plane::Box box_;
};

/// Where the condition holds for some Y of the box, X lies between two roots; nothing where it holds for none. Looking
/// straight up or down the border is a line and both are infinite.
std::optional<std::pair<double, double>> roots(const Border& border, double most_across) {
  constexpr double kFar = std::numeric_limits<double>::infinity();
  const double a = -border.scale * border.c * border.c,
               b = border.along - border.scale * border.c * (border.a + border.b),
               c = most_across - border.scale * border.a * border.b;
  if (a == 0.0) return std::pair(-kFar, kFar);
  const double discriminant = b * b - 4.0 * a * c;
  if (discriminant < 0.0) return std::nullopt;
  const double half = -0.5 * (b + std::copysign(std::sqrt(discriminant), b));  // no digits cancel
  const double one = half / a, other = half != 0.0 ? c / half : one;
  return std::minmax(one, other);
}

/// Adds where a border of the half of the plan in which a target stands upright, or upside down, does not hold.
void add_beyond(const Border& border, const Strips& strips, std::vector<std::vector<Point>>& pieces) {
  const Strips::Side half = {border.along, border.across, 0.0};
  const auto beyond = [&](const Strips::Side& side) { pieces.push_back(strips.where(half, side)); };
  const bool rolled = std::abs(border.across) > kNoRoll;
  const double most_across = rolled ? strips.reach(0.0, border.across).second : 0.0;
  const auto between = roots(border, most_across);
  if (!between) return beyond({0.0, 0.0, 1.0});
  const auto [least, most] = strips.reach(1.0, 0.0);
  const double low = std::max(between->first, least), high = std::min(between->second, most);
  if (low >= high) return beyond({0.0, 0.0, 1.0});
  beyond({-1.0, 0.0, low});
  beyond({1.0, 0.0, -high});
  const bool line = border.c == 0.0;
  if (!rolled && !line) return;
  // Held: across Y >= -rest(X), which is convex; a chord of it lies above it. Of a line one is the whole.
  const int chords = line ? 1 : kChords;
  for (int i = 0; i < chords; ++i) {
    const double from = low + (high - low) * i / chords, to = low + (high - low) * (i + 1) / chords;
    const double at_from = -border.rest(from), slope = (-border.rest(to) - at_from) / (to - from);
    beyond({slope, -border.across, at_from - slope * from});
  }
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
  std::vector<std::vector<Point>> pieces;
  add_beyond(border, strips, pieces);
  border.along = -border.along, border.across = -border.across;
  add_beyond(border, strips, pieces);
  // Behind the foot's or the head's plane of depth 0 the quotient means nothing: the frame leaves that out.
  return pieces;
}

}  // namespace zoneproof::sight
