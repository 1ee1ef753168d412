#pragma once
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "plane/arrangement.hpp"

/// Constrained Delaunay triangulation of an arrangement: all its vertices, all its edges as edges of triangles, and
/// among the triangulations with both the one whose other edges are locally Delaunay, so that triangles are as round as
/// they can be.
///
/// Vertices go in along a Hilbert curve, each splitting the triangle it lies in, and edges are flipped until all are
/// Delaunay (Lawson, Software for C1 surface interpolation, 1977). Then each edge of the arrangement is forced in by
/// flips of what it crosses. Which flips is the point: the usual queue of crossed edges is not known to end. Here a
/// vertex beside the edge is chosen at which the chain of such vertices turns away from it; it is convex there, so some
/// crossed edge at it can be flipped and it has one crossed edge less (docs/methods/plane.md has the proof). At last
/// the new edges are made Delaunay again. All questions go to exact predicates. Sources from memory.
///
/// Half-edges: 3t, 3t + 1, 3t + 2 go counter-clockwise around triangle t, whose inside lies on their left.
namespace zoneproof::plane {

using Half = std::int32_t;

inline Half next(Half h) { return h % 3 == 2 ? h - 2 : h + 1; }
inline Half previous(Half h) { return h % 3 == 0 ? h + 2 : h - 1; }

/// Where a point lies: the same whatever way the walk to it took.
struct Place {
  enum class Kind { inside, on_edge, at_vertex } kind;
  Half half;  ///< inside: the first of its triangle; on_edge: that edge; at_vertex: `first_leaving`
};

class Triangulation {
 public:
  /// Cost: n log n for n vertices and k n for edges that cross k triangles; 5,000 vertices: 10 ms.
  explicit Triangulation(Arrangement arrangement);

  const Arrangement& arrangement() const { return arrangement_; }
  std::int32_t half_count() const { return static_cast<std::int32_t>(origin_.size()); }
  Vertex origin(Half h) const { return origin_[index(h)]; }
  Vertex target(Half h) const { return origin(next(h)); }
  Half twin(Half h) const {
    return twin_[index(h)];
  }  ///< the same edge seen from the other triangle; none on the bound
  std::int32_t edge(Half h) const { return edge_[index(h)]; }  ///< edge of the arrangement, or none
  Point point(Vertex v) const { return arrangement_.vertices[index(v)]; }
  bool blocks(Half h) const { return edge(h) != none && arrangement_.edges[index(edge(h))].obstructs; }

  /// The first of those that start at v: on the bound the one that lies on it. The next counter-clockwise is the twin
  /// of `previous`, until that is none or the first again. Cost: the number of triangles at v.
  Half first_leaving(Vertex v) const;

  /// The half-edge between two vertices in either direction, the given one where both exist; none where there is none.
  Half between(Vertex from, Vertex to) const;

  /// Where p lies, walking from the triangle of `near`; nothing outside of the bound or where p is not a number.
  /// Each step leaves through an edge that p lies beyond, the first of the three tried chosen by chance (fixed seed),
  /// which ends with probability 1 also where triangles are not Delaunay (Devillers, Pion, Teillaud, Walking in a
  /// triangulation, 2002, from memory). Cost: a few ns a triangle on the way.
  std::optional<Place> locate(Point p, Half near) const;

 private:
  friend class Builder;
  Half leaving(Vertex v) const { return leaving_[index(v)]; }
  static std::size_t index(std::int32_t i) { return static_cast<std::size_t>(i); }

  Arrangement arrangement_;
  std::vector<Vertex> origin_;
  std::vector<Half> twin_;
  std::vector<std::int32_t> edge_;
  std::vector<Half> leaving_;
};

}  // namespace zoneproof::plane
