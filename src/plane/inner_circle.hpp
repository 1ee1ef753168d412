#pragma once
#include <vector>

#include "plane/point.hpp"

namespace zoneproof::plane {

struct InnerCircle {
  Point centre;
  double radius = 0.0;  ///< of a circle that lies inside for certain; at most `precision` below the largest there is
};

/// The largest circle inside of rings (even-odd), in the unit of their coordinates, to within `precision` > 0. Radius 0
/// where nothing is enclosed.
///
/// Squares that cover the rings' box wait in the order of the largest radius that any place in them can have: the
/// signed distance of their middle from the border (negative outside) and half their diagonal, as a distance changes by
/// no more than one moves (branch and bound; Land and Doig 1960). The best is split into four until no square can hold
/// a circle that is larger by `precision`. Cost: squares times corners; a few thousand squares for a room.
InnerCircle inner_circle(const std::vector<std::vector<Point>>& rings, double precision);

}  // namespace zoneproof::plane
