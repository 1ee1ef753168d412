#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "plane/point.hpp"
#include "sight/building.hpp"
#include "sight/camera_model.hpp"

/// The picture that a camera should give, as lines and areas with what is hidden taken out.
///
/// The scene is flat facets: walls and leaves, sides, tops and undersides of bodies, persons; areas on the floor are
/// marks that hide nothing. Seen from one point, facets whose planes do not pass through it are a map of the plane: in
/// a plane before the camera every straight edge is a straight line, whatever the lens does to it later. So all edges
/// of all facets, the lines in which facets go through each other, and the borders of frame and masks are laid over
/// each other there (plane/overlay.hpp). No facet, no change of order and no border then crosses a triangle of the
/// overlay, so that one question at its middle (which facet is nearest, if any is seen?) answers for all of it. Lines
/// are drawn between triangles whose answers differ; areas are the triangles with one answer. Only then the lens bends
/// them, halved until they are as bent as it bends them.
///
/// Chosen before a painter's order, which cyclic overlaps and facets through each other break, and before a buffer of
/// depths at some resolution, whose outlines are stairs that have to be made straight again by guessing: here edges end
/// where they end, so the drawing can be printed at any size. The price is an overlay of every edge that could be seen;
/// about 10 us for each crossing of two edges.
///
/// A pinhole needs one such plane. An equidistant lens sees more than half of the sphere: six planes, the sides of a
/// cube about the eye, take it all, and lines go on from one to the next.
///
/// Exact but for: the grid of the overlay (a ten-thousandth of a pixel for common lenses), persons, which are bodies of
/// three convex pieces and are ordered by the nearest approach of the sight line to their axis, and curves as chords
/// (`kCurve_px`).
namespace zoneproof::sight {

enum class SurfaceRole { wall, opening, block, stair, person, area, patch };

/// What is on the floor and hides nothing: a detection area, a blind patch. Rings as of plane::Overlay::outlines: the
/// outer one and its holes turn against each other.
struct FloorMark {
  SurfaceRole role = SurfaceRole::area;  ///< or patch
  std::string id;
  std::vector<std::vector<plane::Point>> rings;
  double height_m = 0.0;  ///< of the floor above the site's datum
};

/// A person who stands somewhere, facing the camera.
struct Standing {
  std::string id;
  plane::Point at;
  double floor_m = 0.0;   ///< above the site's datum
  double height_m = 0.0;  ///< of the person
};

struct PictureWish {
  std::string level;  ///< on which the camera hangs: what is below its floor or above its ceiling is not seen
  std::vector<FloorMark> marks;
  std::vector<Standing> persons;
  std::vector<std::size_t>
      open_things;  ///< of Building::things: of two states, shown in the one in which they hide less
};

/// A facet of the scene, or several of one thing in one plane.
struct Surface {
  SurfaceRole role = SurfaceRole::wall;
  std::size_t thing = 0;  ///< of Building::things; persons and marks: kNothing (reasons.hpp)
  std::string id;         ///< of the thing, mark or person
  bool hides = true;      ///< false: marks, glass, mesh
  bool either = false;    ///< stands so in one of two states only
};

/// A part of the picture in which a surface is seen.
struct SeenArea {
  std::size_t surface = 0;
  std::vector<std::vector<PicturePlace>> rings;  ///< closed; holes among them turn the other way
};

/// A line of the drawing.
struct SeenEdge {
  std::size_t surface = 0;  ///< whose border it is: the nearer one
  bool silhouette = false;  ///< beyond it something farther is seen; else two surfaces meet in it
  std::vector<PicturePlace> points;
};

/// Places are pixels of the encoded picture as it is shown; all lie within it.
struct ExpectedView {
  double width_px = 0.0, height_px = 0.0;
  std::vector<Surface> surfaces;
  std::vector<SeenArea> areas;  ///< one for each surface that is seen, ascending
  std::vector<SeenEdge> edges;
  std::vector<std::vector<PicturePlace>>
      horizon;                           ///< where level sight lines fall, whether something hides them or not; sought
                                         ///< every quarter of a degree: what is narrower than that does not cut it
  std::vector<PicturePlace> border;      ///< of the picture, closed; the circle of a fisheye where it ends within
  std::vector<CameraSetup::Mask> masks;  ///< under them nothing is seen; their sides are straight

  const SeenArea* area_of(std::size_t surface) const;
};

/// Greatest distance of a chord from its curve.
inline constexpr double kCurve_px = 0.25;

/// Throws std::invalid_argument where the building has no such level. Cost: tens of milliseconds for a room, a second
/// for a thousand facets that are all before the camera.
ExpectedView expected_view(const CameraModel& camera, const Building& building, const PictureWish& wish);

}  // namespace zoneproof::sight
