#pragma once
#include <vector>

/// Places on a sheet of paper: millimetres from its upper left corner, x to the right, y down.
namespace zoneproof::drawing {

struct Point {
  double x = 0.0, y = 0.0;
};

inline Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
inline Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
inline Point operator*(Point a, double factor) { return {a.x * factor, a.y * factor}; }
double length(Point vector);

/// The place at `radius` from `centre` in a direction: degrees, 0 to the right, growing clockwise as seen on paper.
Point at_angle(Point centre, double radius, double angle_deg);

/// An upright rectangle; left <= right and top <= bottom.
struct Box {
  double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;
  double width() const { return right - left; }
  double height() const { return bottom - top; }
  Point centre() const { return {(left + right) / 2, (top + bottom) / 2}; }
};

Box grown(Box box, double by);
Box moved(Box box, Point by);
Box united(Box a, Box b);
/// Whether they share more than an edge.
bool overlap(const Box& a, const Box& b);
bool inside(const Box& inner, const Box& outer);
bool inside(Point point, const Box& box);
/// The place of `box` that is nearest to `point`.
Point nearest(const Box& box, Point point);

struct Line {
  Point from, to;
};

/// Whether two lines have a place in common.
bool cross(const Line& a, const Line& b);
/// Whether a line enters a box or touches its edge.
bool cross(const Line& line, const Box& box);

}  // namespace zoneproof::drawing
