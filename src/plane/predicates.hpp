#pragma once
#include <cmath>

#include "plane/point.hpp"

/// Exact questions about points.
///
/// Each answer is that of the real numbers which the doubles stand for. Most are decided by plain arithmetic and a
/// bound on its error (Shewchuk, Adaptive precision floating-point arithmetic and fast robust geometric predicates,
/// 1997, figures 21 and 23, bounds from memory and derived anew in docs/methods/plane.md); the rest by exact expansions
/// (expansion.hpp).
///
/// Range: coordinates are 0 or of a magnitude from 2^-200 to 2^200. Then no product of four overflows, and none has
/// digits below the smallest double. Outside of it an answer may be wrong; nothing checks. Deterministic: the same on
/// every machine that rounds to nearest even and does not fuse (-ffp-contract=off).
namespace zoneproof::plane {

constexpr double least_magnitude = 0x1p-200, greatest_magnitude = 0x1p200;

/// Inside: twice the area of a triangle by plain arithmetic, and the sum of magnitudes that its error is measured by.
struct PlainArea {
  double area, magnitude;
  PlainArea(Point a, Point b, Point c) {
    const double left = (a.x - c.x) * (b.y - c.y), right = (a.y - c.y) * (b.x - c.x);
    area = left - right;
    magnitude = std::abs(left) + std::abs(right);
  }
};
constexpr double area_error = (3.0 + 16.0 * 0x1p-53) * 0x1p-53;  ///< times the magnitude: no more than this is wrong
constexpr double precise_area = 0x1p-11;  ///< of the magnitude: from here on the error is below 2^-40 of the area
int exact_orientation(Point a, Point b, Point c);
double exact_twice_area(Point a, Point b, Point c);

/// 1: a, b, c turn left (counter-clockwise), -1: right, 0: they lie on one line.
/// Cost: 2 ns where plain arithmetic decides, 20 to 100 ns elsewhere.
inline int orientation(Point a, Point b, Point c) {
  const PlainArea plain(a, b, c);
  if (std::abs(plain.area) > area_error * plain.magnitude) return plain.area > 0.0 ? 1 : -1;
  return exact_orientation(a, b, c);
}

/// Twice the area of the triangle, positive where it turns left: sign exact, value within 2^-40 of it.
inline double twice_area(Point a, Point b, Point c) {
  const PlainArea plain(a, b, c);
  return std::abs(plain.area) > precise_area * plain.magnitude ? plain.area : exact_twice_area(a, b, c);
}

/// 1: d lies inside of the circle through a, b, c, which turn left; -1: outside; 0: on it. The sign turns with that of
/// a, b, c. Cost: 5 ns where plain arithmetic decides, a few microseconds where nothing but exact arithmetic does.
int in_circle(Point a, Point b, Point c, Point d);

/// Order of the directions from `origin` to a and to b by bearing from the x axis counter-clockwise, in [0, 360)
/// degrees: -1 where a comes first, 0 where both are the same direction. Neither may be `origin`.
int compare_bearings(Point origin, Point a, Point b);

/// Whether p, on the line through a and b, lies strictly between them.
inline bool between(Point a, Point b, Point p) {
  if (a.x != b.x) return (a.x < p.x && p.x < b.x) || (b.x < p.x && p.x < a.x);
  return (a.y < p.y && p.y < b.y) || (b.y < p.y && p.y < a.y);
}

/// The multiple of `step`, a power of two, at whose pixel two crossing segments a-b and c-d cross: the pixel of a point
/// is the square of side `step` around it, with its left and lower border. Exact. The segments must cross properly, the
/// coordinates be multiples of `step` and below 2^50 steps.
Point crossing_pixel(Point a, Point b, Point c, Point d, double step);

}  // namespace zoneproof::plane
