#pragma once
#include <optional>
#include <utility>
#include <vector>

#include "sight/picture.hpp"
#include "sight/vector3.hpp"

/// The scene of an expected picture as facets in the axes of the camera as its picture is shown: x right, y down, z
/// forward, metres. Used by `picture` only.
namespace zoneproof::sight {

/// All pieces of one surface that lie in one plane: normal . place = offset, with the eye on the side of offset < 0 or
/// beyond; a unit normal.
struct Facet {
  std::size_t surface = 0;
  Vector3 normal;
  double offset = 0.0;
  std::vector<std::vector<Vector3>> rings;
};

/// A person: convex bodies by their corners, and the axis by which they are ordered in depth.
struct Figure {
  std::size_t surface = 0;
  Vector3 foot, head;
  std::vector<std::vector<Vector3>> bodies;
};

struct PictureScene {
  std::vector<Surface> surfaces;
  std::vector<Facet> facets;
  std::vector<Figure> figures;
  std::vector<std::pair<Vector3, Vector3>> meetings;  ///< lines in which hiding facets go through each other
};

PictureScene picture_scene(const CameraModel& camera, const Building& building, const PictureWish& wish);

}  // namespace zoneproof::sight
