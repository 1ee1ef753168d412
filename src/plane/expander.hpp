#pragma once
#include <cstddef>

#include "plane/visibility.hpp"

/// Inside of the visibility: one query. visibility.hpp says by which method.
namespace zoneproof::plane {

class Expander {
 public:
  Expander(const Visibility& visibility, Point eye, View& view);
  bool stands() const { return !view_.ring_.empty(); }  ///< within the bound
  void see_all();
  void see_towards(Point towards);

 private:
  void face(const Place& place);
  void face_around(Vertex v, Half first);
  bool begins_at_wall(const View::Facing& facing) const;
  /// Through the facing edges from `begin` to before `end`, with a wall at either side: the eye is a corner.
  void see_between(std::size_t begin, std::size_t end);
  /// All cones through one facing edge, from right to left.
  void expand(Half facing);
  /// A wall, from the ray past that vertex leftward.
  void see(Half wall, Vertex ray);
  /// The corners on the ray past a vertex at which the view goes from one wall to another.
  void turn(Vertex ray, Half before, Half after);
  /// Where the ray meets a wall: a side without its wall told.
  Corner hit(Half wall, Vertex ray) const;
  void add(const Corner& corner, std::int32_t wall, Vertex behind);

  const Visibility& visibility_;
  const Triangulation& triangulation_;
  View& view_;
  Point eye_;
  Vertex eye_vertex_ = none;
  bool open_ = false;       ///< the eye stands on the bound, and what faces it begins and ends there
  Half last_spoke_ = none;  ///< from the eye to the left end of the last that faces it
  Half wall_ = none;        ///< seen last
  Half first_wall_ = none;
  Vertex first_ray_ = none;
};

}  // namespace zoneproof::plane
