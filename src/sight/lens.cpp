#include "sight/lens.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

#include "sight/polynomial.hpp"

namespace zoneproof::sight {

using plane::Point;

namespace {

constexpr double kEndless = std::numeric_limits<double>::infinity();

/// Of two numbers that are both places where something ends; nothing: nowhere.
double nearer_root(std::optional<double> a, std::optional<double> b, double end) {
  return std::min({a.value_or(end), b.value_or(end), end});
}

}  // namespace

/// Derivatives of the bent place by u: symmetric.
struct Lens::Bent {
  double xx, xy, yy;
};

Lens::Lens(const LensTerms& terms) : terms_(terms) {
  if (!is_pinhole()) terms_.p1 = terms_.p2 = 0.0;
  const double q = std::hypot(terms_.p1, terms_.p2);
  tangential_ = q > 0.0;
  straight_ = is_pinhole() && !tangential_ && terms_.k1 == 0.0 && terms_.k2 == 0.0 && terms_.k3 == 0.0;
  // Slope of the radial part and the radial factor, each less three times the tangential part: polynomials of the
  // distance from the axis.
  const double end = is_pinhole() ? kEndless : std::numbers::pi;
  const std::array<double, 7> slope = {1.0, -6.0 * q, 3.0 * terms_.k1, 0.0, 5.0 * terms_.k2, 0.0, 7.0 * terms_.k3};
  const std::array<double, 7> factor = {1.0, -6.0 * q, terms_.k1, 0.0, terms_.k2, 0.0, terms_.k3};
  range_ = nearer_root(first_root(slope, end), first_root(factor, end), end);
  // A disc within the image: its border moves by 3 |q| |u|^2 at most against the radial one.
  reach_ = std::isinf(range_) ? kEndless : radial(range_) - 3.0 * q * range_ * range_;
}

double Lens::factor(double r) const {
  const double s = r * r;
  return 1.0 + s * (terms_.k1 + s * (terms_.k2 + s * terms_.k3));
}

double Lens::radial(double r) const { return r * factor(r); }

double Lens::radial_slope(double r) const {
  const double s = r * r;
  return 1.0 + s * (3.0 * terms_.k1 + s * (5.0 * terms_.k2 + s * 7.0 * terms_.k3));
}

Point Lens::bent(Point u) const {
  const double s = u.x * u.x + u.y * u.y, along = 2.0 * (terms_.p2 * u.x + terms_.p1 * u.y);
  const double scale = 1.0 + s * (terms_.k1 + s * (terms_.k2 + s * terms_.k3)) + along;
  return {scale * u.x + s * terms_.p2, scale * u.y + s * terms_.p1};
}

Lens::Bent Lens::bent_slopes(Point u) const {
  const double s = u.x * u.x + u.y * u.y, along = 2.0 * (terms_.p2 * u.x + terms_.p1 * u.y);
  const double scale = 1.0 + s * (terms_.k1 + s * (terms_.k2 + s * terms_.k3)) + along;
  const double steeper = 2.0 * (terms_.k1 + s * (2.0 * terms_.k2 + s * 3.0 * terms_.k3));
  return {scale + u.x * (steeper * u.x + 4.0 * terms_.p2),
          steeper * u.x * u.y + 2.0 * (terms_.p1 * u.x + terms_.p2 * u.y),
          scale + u.y * (steeper * u.y + 4.0 * terms_.p1)};
}

std::optional<Point> Lens::place_of(Vector3 d) const {
  if (is_pinhole()) {
    if (!(d.z > 0.0)) return std::nullopt;
    const Point u = {d.x / d.z, d.y / d.z};
    if (!(std::hypot(u.x, u.y) < range_)) return std::nullopt;
    return straight_ ? u : bent(u);
  }
  const double beside = std::hypot(d.x, d.y), away = std::atan2(beside, d.z);
  if (!(away < range_)) return std::nullopt;
  if (beside == 0.0) return Point{0.0, 0.0};
  const double place = radial(away);
  return Point{place * (d.x / beside), place * (d.y / beside)};
}

/// The radial part rises from 0 to the end of the range: one root, between bounds that close in. A Newton step that
/// leaves them, or that is longer than half of the step before, is replaced by one to their middle.
std::optional<double> Lens::radial_inverse(double place) const {
  if (place == 0.0) return 0.0;
  if (!(place < reach_) || !std::isfinite(place)) return std::nullopt;
  double low = 0.0, high = range_;
  if (std::isinf(high))
    for (high = std::max(1.0, place); radial(high) < place;) high *= 2.0;
  double r = std::min(place, low + (high - low) / 2.0), before = high - low;
  for (;;) {
    const double off = radial(r) - place;
    if (off == 0.0) return r;
    (off < 0.0 ? low : high) = r;
    const double newton = r - off / radial_slope(r), middle = low + (high - low) / 2.0;
    if (middle <= low || middle >= high) return r;
    const bool fast = newton > low && newton < high && std::abs(newton - r) <= before / 2.0;
    const double to = fast ? newton : middle;
    // The last digits: neighbours between which Newton's steps go to and fro.
    if (std::abs(to - r) <= std::numeric_limits<double>::epsilon() * r) return to;
    before = std::abs(to - r);
    r = to;
  }
}

/// Steps go where the distance to the target falls; the Jacobian is positive definite within the range, so some part of
/// a Newton step always does. Ends when no part of a step brings anything.
std::optional<Point> Lens::straightened(Point place) const {
  const double far = std::hypot(place.x, place.y);
  if (!tangential_) {
    const std::optional<double> r = radial_inverse(far);
    if (!r) return std::nullopt;
    return far == 0.0 ? Point{0.0, 0.0} : Point{*r * (place.x / far), *r * (place.y / far)};
  }
  const auto off = [&](Point u) {
    const Point at = bent(u);
    return Point{at.x - place.x, at.y - place.y};
  };
  Point u = {0.0, 0.0};
  Point left = off(u);
  double distance = far;
  while (distance > 0.0) {
    const Bent j = bent_slopes(u);
    const double det = j.xx * j.yy - j.xy * j.xy;
    const Point step = {(j.yy * left.x - j.xy * left.y) / det, (j.xx * left.y - j.xy * left.x) / det};
    double share = 1.0;
    for (;; share /= 2.0) {
      const Point to = {u.x - share * step.x, u.y - share * step.y};
      if (to == u) break;
      if (!(std::hypot(to.x, to.y) < range_)) continue;
      const Point still = off(to);
      const double then = std::hypot(still.x, still.y);
      if (!(then < distance)) continue;
      u = to;
      left = still;
      distance = then;
      break;
    }
    if (share * std::hypot(step.x, step.y) <= std::numeric_limits<double>::epsilon() * std::hypot(u.x, u.y)) break;
  }
  // What is left is rounding where the place has a direction, and a distance where it has none.
  const double rounding = 1e-12 * std::max(1.0, far);
  return distance <= rounding ? std::optional(u) : std::nullopt;
}

std::optional<Vector3> Lens::direction_of(Point place) const {
  if (is_pinhole()) {
    const std::optional<Point> u = straight_ ? std::optional(place) : straightened(place);
    if (!u) return std::nullopt;
    return unit({u->x, u->y, 1.0});
  }
  const double far = std::hypot(place.x, place.y);
  const std::optional<double> away = radial_inverse(far);
  if (!away) return std::nullopt;
  if (far == 0.0) return Vector3{0.0, 0.0, 1.0};
  return Vector3{std::sin(*away) * (place.x / far), std::sin(*away) * (place.y / far), std::cos(*away)};
}

std::optional<Lens::Derivative> Lens::derivative(Vector3 d) const {
  if (!place_of(d)) return std::nullopt;
  const double beside = std::hypot(d.x, d.y);
  // On the axis every way is away from it.
  const Point out = beside == 0.0 ? Point{1.0, 0.0} : Point{d.x / beside, d.y / beside};
  if (!is_pinhole()) {
    const double away = std::atan2(beside, d.z), far = length(d);
    const double along = radial_slope(away), around = beside == 0.0 ? 1.0 : radial(away) / (beside / far);
    return Derivative{along * out.x, -around * out.y, along * out.y, around * out.x};
  }
  // A turn away from the axis by an angle moves u by 1 / cos^2 of it, one around it by 1 / cos.
  const double around = length(d) / d.z, away = around * around;
  const Bent j = bent_slopes({d.x / d.z, d.y / d.z});
  return Derivative{away * (j.xx * out.x + j.xy * out.y), around * (-j.xx * out.y + j.xy * out.x),
                    away * (j.xy * out.x + j.yy * out.y), around * (-j.xy * out.y + j.yy * out.x)};
}

std::optional<Growth> Lens::growth(Vector3 direction) const {
  const auto at = derivative(direction);
  return at ? std::optional(singular_values(*at)) : std::nullopt;
}

Growth singular_values(const Lens::Derivative& m) {
  // A matrix of two rows is a turn with growth plus a mirrored turn with growth; the two are largest together and
  // smallest against each other.
  const double turn = std::hypot(m.across_away + m.down_around, m.down_away - m.across_around) / 2.0;
  const double mirror = std::hypot(m.across_away - m.down_around, m.down_away + m.across_around) / 2.0;
  const double most = turn + mirror;
  // Their difference would lose digits where the matrix is nearly flat; their product is its determinant.
  const double det = std::abs(m.across_away * m.down_around - m.across_around * m.down_away);
  return {most > 0.0 ? det / most : 0.0, most};
}

}  // namespace zoneproof::sight
