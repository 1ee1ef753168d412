#include "plane/predicates.hpp"

#include <cmath>

#include "plane/expansion.hpp"

namespace zoneproof::plane {
namespace {

constexpr double in_circle_bound = (10.0 + 96.0 * 0x1p-53) * 0x1p-53;

using Two = Expansion<2>;

Two difference(double a, double b) { return Two(exact_difference(a, b)); }

int sign_of(double value) { return value > 0.0 ? 1 : value < 0.0 ? -1 : 0; }

/// a b - c d
template <std::size_t N>
auto cross(const Expansion<N>& a, const Expansion<N>& b, const Expansion<N>& c, const Expansion<N>& d) {
  return sum(product(a, b), negated(product(c, d)));
}

Expansion<16> exact_area(Point a, Point b, Point c) {
  return cross(difference(a.x, c.x), difference(b.y, c.y), difference(a.y, c.y), difference(b.x, c.x));
}

/// (x^2 + y^2) area
Expansion<512> lifted(const Two& x, const Two& y, const Expansion<16>& area) {
  return product(sum(product(x, x), product(y, y)), area);
}

int exact_in_circle(Point a, Point b, Point c, Point d) {
  const Two ax = difference(a.x, d.x), ay = difference(a.y, d.y), bx = difference(b.x, d.x), by = difference(b.y, d.y),
            cx = difference(c.x, d.x), cy = difference(c.y, d.y);
  const auto far_a = lifted(ax, ay, cross(bx, cy, by, cx));
  const auto far_b = lifted(bx, by, cross(cx, ay, cy, ax));
  const auto far_c = lifted(cx, cy, cross(ax, by, ay, bx));
  return sum(sum(far_a, far_b), far_c).sign();
}

/// 0 where the direction lies in [0, 180) degrees, else 1.
int half_turn(Point origin, Point p) { return p.y > origin.y || (p.y == origin.y && p.x > origin.x) ? 0 : 1; }

/// Where two segments cross, on one axis: the values of the coordinate at the ends of the first, and the exact areas of
/// those ends with the second, of opposite sign.
struct Crossing {
  double from, to;
  const Expansion<16>& area_from;
  const Expansion<16>& area_to;

  /// Whether the crossing's coordinate is at least `limit`: (from - limit) area_to - (to - limit) area_from against
  /// area_to - area_from, both multiplied out of the weighted mean of the ends.
  bool at_least(double limit) const {
    const auto moment = sum(scaled(area_to, from - limit), negated(scaled(area_from, to - limit)));
    return moment.sign() * area_to.sign() >= 0;
  }

  double rounded(double step) const {
    const double near = area_from.about(), far = area_to.about();
    double pixel = std::floor((from + (to - from) * (near / (near - far))) / step + 0.5) * step;
    while (!at_least(pixel - step / 2)) pixel -= step;
    while (at_least(pixel + step / 2)) pixel += step;
    return pixel;
  }
};

}  // namespace

int exact_orientation(Point a, Point b, Point c) { return exact_area(a, b, c).sign(); }

double exact_twice_area(Point a, Point b, Point c) { return exact_area(a, b, c).about(); }

int in_circle(Point a, Point b, Point c, Point d) {
  const double ax = a.x - d.x, ay = a.y - d.y, bx = b.x - d.x, by = b.y - d.y, cx = c.x - d.x, cy = c.y - d.y;
  const double bxcy = bx * cy, bycx = by * cx, cxay = cx * ay, cyax = cy * ax, axby = ax * by, aybx = ay * bx;
  const double far_a = ax * ax + ay * ay, far_b = bx * bx + by * by, far_c = cx * cx + cy * cy;
  const double power = far_a * (bxcy - bycx) + far_b * (cxay - cyax) + far_c * (axby - aybx);
  const double magnitude = (std::abs(bxcy) + std::abs(bycx)) * far_a + (std::abs(cxay) + std::abs(cyax)) * far_b +
                           (std::abs(axby) + std::abs(aybx)) * far_c;
  if (std::abs(power) > in_circle_bound * magnitude) return sign_of(power);
  return exact_in_circle(a, b, c, d);
}

int compare_bearings(Point origin, Point a, Point b) {
  const int half_a = half_turn(origin, a), half_b = half_turn(origin, b);
  return half_a != half_b ? half_a - half_b : -orientation(origin, a, b);
}

Point crossing_pixel(Point a, Point b, Point c, Point d, double step) {
  const Expansion<16> from = exact_area(c, d, a), to = exact_area(c, d, b);
  return {Crossing{a.x, b.x, from, to}.rounded(step), Crossing{a.y, b.y, from, to}.rounded(step)};
}

}  // namespace zoneproof::plane
