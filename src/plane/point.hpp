#pragma once

namespace zoneproof::plane {

/// A place of the plane, in any unit of length; x to the right, y up, so that counter-clockwise is a left turn.
struct Point {
  double x = 0.0, y = 0.0;
  friend bool operator==(const Point&, const Point&) = default;
};

/// An upright rectangle with its border.
struct Box {
  Point low, high;
  bool holds(Point p) const { return p.x >= low.x && p.x <= high.x && p.y >= low.y && p.y <= high.y; }
};

}  // namespace zoneproof::plane
