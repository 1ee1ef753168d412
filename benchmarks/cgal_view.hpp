#pragma once
#include <memory>
#include <vector>

#include "plane/point.hpp"

/// Views inside of a polygon with holes by CGAL's triangular expansion (CGAL 5.5, 2D Visibility), which is held
/// against.
namespace zoneproof::cgal {

enum class Kernel { inexact_constructions, exact };

class Views {
 public:
  /// Rings: the outer one, then the holes, in any orientation.
  Views(const std::vector<std::vector<plane::Point>>& rings, Kernel kernel);
  ~Views();

  /// A point that lies inside. Empty where CGAL gives up (it may, with inexact constructions).
  std::vector<plane::Point> from(plane::Point eye) const;
  /// A point on the side from corner i to corner i + 1 of the outer ring, or corner i + 1 itself: seen inward.
  std::vector<plane::Point> from_side(plane::Point eye, std::size_t corner) const;
  /// Computes the view and its number of corners alone: what is measured.
  std::size_t corner_count(plane::Point eye) const;

  class Implementation;

 private:
  std::unique_ptr<Implementation> implementation_;
};

}  // namespace zoneproof::cgal
