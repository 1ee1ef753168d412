#pragma once
#include <array>
#include <utility>
#include <vector>

#include "plane/builder.hpp"

/// Inside of the triangulation: an edge of the arrangement made an edge of triangles.
///
/// The edges that it crosses are kept in their order from u to v, each as its end on the left and its end on the right;
/// the left ends form a chain from u to v, and so do the right ones. A vertex p of a chain that is strictly convex
/// there (the one farthest from the line is) lies with both its neighbours on one side of the line, and the crossed
/// edges at p lead to ends q1 ... qk on the other. If none of them could be flipped, every q would lie within the
/// triangle of p and its neighbours, which the line does not enter. So one can be flipped, p has one crossed edge less,
/// and with its last p leaves its chain.
namespace zoneproof::plane {

class ForcedEdge {
 public:
  ForcedEdge(Builder& builder, std::int32_t edge);
  void run();

 private:
  using Ends = std::array<Vertex, 2>;  ///< left, right

  void collect();
  void flip_one();
  bool flip_at(std::size_t begin, std::size_t end, std::size_t side);
  bool can_flip(std::size_t side, Vertex p, Vertex before, Vertex q, Vertex after) const;
  void suspect(Half h);
  int turn(Vertex a, Vertex b, Vertex c) const;

  Builder& builder_;
  const Triangulation& t_;
  std::int32_t edge_;
  Vertex u_, v_;
  std::vector<Ends> crossed_;
  std::vector<std::pair<Vertex, Vertex>> made_;
};

}  // namespace zoneproof::plane
