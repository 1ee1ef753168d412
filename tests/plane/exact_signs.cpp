#include "plane/exact_signs.hpp"

#include <gmpxx.h>

namespace zoneproof::plane {
namespace {

using Number = mpq_class;

struct Vector {
  Number x, y;
};

Vector from_to(Point a, Point b) { return {Number(b.x) - Number(a.x), Number(b.y) - Number(a.y)}; }
Number cross(const Vector& a, const Vector& b) { return a.x * b.y - a.y * b.x; }
Number square(const Vector& a) { return a.x * a.x + a.y * a.y; }
bool in_half_open(const Number& value, double low, double step) { return value >= low && value < Number(low) + step; }

}  // namespace

int rational_orientation(Point a, Point b, Point c) { return sgn(cross(from_to(a, b), from_to(a, c))); }

int rational_in_circle(Point a, Point b, Point c, Point d) {
  const Vector p = from_to(d, a), q = from_to(d, b), r = from_to(d, c);
  const Number power = square(p) * cross(q, r) + square(q) * cross(r, p) + square(r) * cross(p, q);
  return sgn(power);
}

double error_of_twice_area(double value, Point a, Point b, Point c) {
  const Number truth = cross(from_to(a, b), from_to(a, c));
  if (truth == 0) return value == 0.0 ? 0.0 : 1.0;
  const Number error = abs((Number(value) - truth) / truth);
  return error.get_d();
}

bool crosses_in_pixel(Point a, Point b, Point c, Point d, Point middle, double step) {
  const Vector along = from_to(a, b), other = from_to(c, d);
  const Number share = cross(from_to(a, c), other) / cross(along, other);
  const Number x = Number(a.x) + share * along.x, y = Number(a.y) + share * along.y;
  return in_half_open(x, middle.x - step / 2, step) && in_half_open(y, middle.y - step / 2, step);
}

}  // namespace zoneproof::plane
