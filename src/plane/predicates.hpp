#pragma once
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

/// 1: a, b, c turn left (counter-clockwise), -1: right, 0: they lie on one line.
/// Cost: 3 ns where plain arithmetic decides, 20 ns where differences of coordinates are exact, 100 ns at most.
int orientation(Point a, Point b, Point c);

/// Twice the area of the triangle, positive where it turns left: sign exact, value within 2^-40 of it.
double twice_area(Point a, Point b, Point c);

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
