#include "drawing/geometry.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace zoneproof::drawing {

namespace {

/// Twice the signed area of a triangle: on which side of a-b the point c lies.
double turn(Point a, Point b, Point c) { return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x); }

/// Whether c, known to be in line with a-b, lies between them.
bool between(Point a, Point b, Point c) {
  return std::min(a.x, b.x) <= c.x && c.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= c.y &&
         c.y <= std::max(a.y, b.y);
}

}  // namespace

double length(Point vector) { return std::sqrt(vector.x * vector.x + vector.y * vector.y); }

Point at_angle(Point centre, double radius, double angle_deg) {
  const double angle = angle_deg * std::numbers::pi / 180.0;
  return {centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)};
}

Box grown(Box box, double by) { return {box.left - by, box.top - by, box.right + by, box.bottom + by}; }

Box moved(Box box, Point by) { return {box.left + by.x, box.top + by.y, box.right + by.x, box.bottom + by.y}; }

Box united(Box a, Box b) {
  return {std::min(a.left, b.left), std::min(a.top, b.top), std::max(a.right, b.right), std::max(a.bottom, b.bottom)};
}

bool overlap(const Box& a, const Box& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

bool inside(const Box& inner, const Box& outer) {
  return outer.left <= inner.left && inner.right <= outer.right && outer.top <= inner.top &&
         inner.bottom <= outer.bottom;
}

bool inside(Point point, const Box& box) {
  return box.left <= point.x && point.x <= box.right && box.top <= point.y && point.y <= box.bottom;
}

Point nearest(const Box& box, Point point) {
  return {std::clamp(point.x, box.left, box.right), std::clamp(point.y, box.top, box.bottom)};
}

bool cross(const Line& a, const Line& b) {
  const double side_1 = turn(a.from, a.to, b.from), side_2 = turn(a.from, a.to, b.to);
  const double side_3 = turn(b.from, b.to, a.from), side_4 = turn(b.from, b.to, a.to);
  if (((side_1 > 0) != (side_2 > 0)) && ((side_3 > 0) != (side_4 > 0)) && side_1 != 0 && side_2 != 0 && side_3 != 0 &&
      side_4 != 0) {
    return true;
  }
  return (side_1 == 0 && between(a.from, a.to, b.from)) || (side_2 == 0 && between(a.from, a.to, b.to)) ||
         (side_3 == 0 && between(b.from, b.to, a.from)) || (side_4 == 0 && between(b.from, b.to, a.to));
}

bool cross(const Line& line, const Box& box) {
  // Most lines of a sheet lie wholly beyond one of its sides.
  if (std::max(line.from.x, line.to.x) < box.left || std::min(line.from.x, line.to.x) > box.right) return false;
  if (std::max(line.from.y, line.to.y) < box.top || std::min(line.from.y, line.to.y) > box.bottom) return false;
  if (inside(line.from, box) || inside(line.to, box)) return true;
  const Point corners[] = {{box.left, box.top}, {box.right, box.top}, {box.right, box.bottom}, {box.left, box.bottom}};
  for (std::size_t i = 0; i < 4; ++i) {
    if (cross(line, Line{corners[i], corners[(i + 1) % 4]})) return true;
  }
  return false;
}

}  // namespace zoneproof::drawing
