#pragma once
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "plane/triangulation.hpp"

/// Many regions laid over each other: which parts of the plane lie in which of them.
///
/// The sides of all rings are arranged by snap rounding and triangulated; then no triangle is cut by any ring, so each
/// lies wholly inside or outside of every region. A ring with its inside on its left adds one to the winding number of
/// its label on the left of each side. So numbers are found by walking from triangle to triangle, beginning where
/// nothing lies, and adding what each crossed side is worth; a label holds where its number is not zero. Rings with one
/// label are thereby united, overlapping or not; a hole is a ring the other way around. Every union, difference or
/// intersection is a question to the set of labels of a triangle, so that why a place is out is known wherever it is.
///
/// Exact but for the rounding of corners to the step: each side of a region moves by 1.5 steps at most
/// (arrangement.hpp), and nothing appears or vanishes that is wider than that. Deterministic; the order of rings does
/// not count. Cost: that of the arrangement and of the triangulation, about 6 us a side of a ring.
namespace zoneproof::plane {

using Label = std::int32_t;

/// Corners in turn, the last joined to the first; may touch and cross itself.
struct Ring {
  std::vector<Point> corners;
  Label label = 0;
};

/// A connected part of the plane whose places are of one class.
struct Part {
  std::int32_t of_class;
  std::vector<std::int32_t> triangles;  ///< ascending
  double area;
};

class Overlay {
 public:
  /// `step`: side of the grid's pixels, a power of two. Throws std::invalid_argument as `arrange` does; `box` must hold
  /// all rings with 16 steps to spare on every side.
  Overlay(std::span<const Ring> rings, const Box& box, double step);

  const Triangulation& triangulation() const { return triangulation_; }
  std::int32_t triangle_count() const { return static_cast<std::int32_t>(set_of_.size()); }
  double area(std::int32_t triangle) const;
  Point middle(std::int32_t triangle) const;

  /// Sets of labels that occur, numbered as they were met.
  std::int32_t set_count() const { return static_cast<std::int32_t>(sets_.size()); }
  std::int32_t set_of(std::int32_t triangle) const { return set_of_[static_cast<std::size_t>(triangle)]; }
  std::span<const Label> labels(std::int32_t set) const { return sets_[static_cast<std::size_t>(set)]; }

  /// Parts by a class given to each set of labels; sets of class `none` belong to no part. In the order of their first
  /// triangle. Two triangles that share only a corner are not connected.
  std::vector<Part> parts(const std::function<std::int32_t(std::span<const Label>)>& class_of) const;

  /// Outlines of a part: the outer one counter-clockwise first, then its holes clockwise. Corners within a straight
  /// side are left out.
  std::vector<std::vector<Point>> outlines(const Part& part) const;

  /// Area of all triangles whose set passes.
  double area_where(const std::function<bool(std::span<const Label>)>& passes) const;

 private:
  void walk(std::span<const Segment> segments, std::span<const Label> label_of_segment);

  Triangulation triangulation_;
  std::vector<std::int32_t> set_of_;
  std::vector<std::vector<Label>> sets_;
};

}  // namespace zoneproof::plane
