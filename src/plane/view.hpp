#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "plane/triangulation.hpp"

namespace zoneproof::plane {

/// A corner of a view, and the side from it to the next corner.
struct Corner {
  Point at;
  Vertex vertex;      ///< the vertex that it is; none: a point of a wall that was constructed
  std::int32_t wall;  ///< the edge of the arrangement that the side lies on; none: the side is a window
  Vertex behind;      ///< of a window: the vertex at its near end, behind which it hides; else none
};

/// What is seen from a point: a star-shaped polygon, and the memory it is made in. Use one again and again: after a few
/// queries nothing is allocated any more.
class View {
 public:
  /// Counter-clockwise. Empty before the first query and after one outside of the bound.
  std::span<const Corner> corners() const { return {corners_.data(), corners_.size()}; }
  Point from() const { return from_; }
  /// Square of the unit of length. All its parts are positive: within 2^-50 and the corners' own error of the true one.
  double area() const;

 private:
  friend class Visibility;
  friend class Expander;

  /// The cone that is open to the left of one just seen.
  struct Cone {
    double x, y;    ///< its left side: from the eye to a vertex
    Vertex vertex;  ///< that vertex
    Half beyond;    ///< where the next cone to the left goes on
  };
  /// An edge that faces the eye: of its triangle, or of those that meet where it stands; counter-clockwise.
  struct Facing {
    Half half;
    Half spoke;  ///< the edge from the eye to the right end of it; none where the eye stands inside of a triangle
  };

  Point from_;
  std::vector<Corner> corners_;
  std::vector<Cone> cones_;
  std::vector<Facing> ring_;
};

}  // namespace zoneproof::plane
