#pragma once
#include <cstdint>
#include <vector>

#include "plane/locator.hpp"
#include "plane/triangulation.hpp"
#include "plane/view.hpp"

/// What is seen from a point of the plane, between walls.
///
/// Triangular expansion (Bungiu, Hemmer, Hershberger, Huang, Kröller, Efficient computation of visibility polygons,
/// 2014, arXiv 1403.3905): from the triangle of the eye through every edge that does not block, with the cone of rays
/// that came through all edges before; a triangle's far vertex splits the cone or lies beside it; at an edge that
/// blocks, the cone's share of it is seen. Every decision is `orientation(eye, vertex, vertex)`, so it is exact and
/// needs no constructed point; where a ray past a vertex meets a wall is computed once, from the doubles that were
/// given.
///
/// What is seen is a closed set without needles: of rays between two walls that end on one ray, and of those along a
/// wall, only what is an area counts. A wall hides what is behind it and is seen itself, from either side; one seen
/// edge-on hides nothing. Corners follow each other counter-clockwise, no two the same point of the plan. Every vertex
/// at which a side of the view begins or ends is a corner, also where two walls go on in one line; vertices within a
/// window are not.
///
/// The eye may stand anywhere within the bound:
/// - on a wall or where walls meet, `from(eye)` sees all sides of all of them; `from(eye, towards)` the one between the
/// walls
///   in that direction (along a wall: the one to the left of it), and the eye is then a corner of the view;
/// - on the bound it sees inward, and the eye is a corner; towards the outside nothing (an empty view);
/// - on a wall means exactly on its edge. Beside one by a rounding it sees that side: arrangement.hpp says when walls
/// are bent.
///
/// Range: coordinates of the eye below 2^-200 are taken for 0. Constructed corners lie within 2^-38 of the wall's
/// length and an ulp of where they should. Cost: O(n k) for n vertices and k holes at worst, as a rule proportional to
/// what is seen: 20 ns a corner, and 50 ns for finding the triangle. May be asked from several threads, each with a
/// View of its own.
namespace zoneproof::plane {

class Visibility {
 public:
  /// Keeps a reference: the triangulation must live as long. Cost: linear.
  explicit Visibility(const Triangulation& triangulation);

  /// False, and an empty view, where the eye is outside of the bound or no number.
  bool from(Point eye, View& view) const;
  /// Throws std::invalid_argument where `towards` is the eye. Only its direction counts.
  bool from(Point eye, Point towards, View& view) const;

 private:
  friend class Expander;

  /// A triangle as it is entered through one of its edges. What comes next stands together in memory, 32 bytes.
  struct Entry {
    Point apex;
    Vertex vertex;
    Half right, left;  ///< entered through the edge right (left) of the apex; -1 - h: that edge is h and blocks
  };

  Half beyond(Half h) const;

  const Triangulation& triangulation_;
  Locator locator_;
  std::vector<Entry> entries_;
  double doubt_;  ///< |products' difference| above this: its sign is right for any two vectors within the bound
};

}  // namespace zoneproof::plane
