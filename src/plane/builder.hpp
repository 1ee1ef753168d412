#pragma once
#include <vector>

#include "plane/triangulation.hpp"

/// Inside of the triangulation: how it is built. triangulation.hpp says by which method.
namespace zoneproof::plane {

class Builder {
 public:
  explicit Builder(Triangulation& triangulation) : t_(triangulation) {}
  void run();

 private:
  friend class ForcedEdge;

  /// A side of the hole that a new vertex makes, as seen from it: counter-clockwise.
  struct Side {
    Vertex from, to;
    Half twin;
  };

  void start_with_bound();
  std::vector<Vertex> along_curve() const;
  void insert(Vertex v);
  /// Triangles from v to all sides: into the slots given, then into new ones.
  void fan(Vertex v, bool closed);
  void add_side(Half h);
  Half new_triangle();
  void set(Half first, Vertex a, Vertex b, Vertex c);
  void pair(Half h, Half g);
  /// Turns the edge inside of its quadrilateral; h and its twin are the new edge.
  void flip(Half h);
  /// Flips until every edge that is none of the arrangement is locally Delaunay, as far as it can be reached from
  /// suspects.
  void make_delaunay();

  static std::size_t index(std::int32_t i) { return static_cast<std::size_t>(i); }
  Half& twin(Half h) { return t_.twin_[index(h)]; }
  std::int32_t& edge(Half h) { return t_.edge_[index(h)]; }

  Triangulation& t_;
  std::vector<Half> suspects_, slots_;
  std::vector<Side> sides_;
  Half last_ = 0;
};

}  // namespace zoneproof::plane
