#pragma once
#include <string>
#include <utility>
#include <vector>

#include "sight/coverage.hpp"

/// Buildings out of prisms, cameras and areas for the tests, and a second method for what a prism hides.
namespace zoneproof::sight {

/// A building of one level at height 0, open to the sky.
struct MadeScene {
  Building building;

  MadeScene() {
    building.levels = {"ground"};
    building.floors = {{"ground", 0.0, std::numeric_limits<double>::infinity()}};
  }
  /// A solid screen.
  Prism& wall(plane::Point a, plane::Point b, double bottom_m, double top_m) {
    return add(ThingKind::wall, false, {a, b}, bottom_m, top_m);
  }
  /// A solid body; its outline counter-clockwise.
  Prism& body(std::vector<plane::Point> outline, double bottom_m, double top_m) {
    return add(ThingKind::block, true, std::move(outline), bottom_m, top_m);
  }
  Prism& add(ThingKind kind, bool is_body, std::vector<plane::Point> outline, double bottom_m, double top_m) {
    building.things.push_back({kind, "thing " + std::to_string(building.things.size())});
    building.prisms.push_back({building.things.size() - 1, is_body, std::move(outline), bottom_m, top_m,
                               site::Surface::solid, 0.0, false, 1.0});
    return building.prisms.back();
  }
};

inline std::vector<plane::Point> rectangle(double west, double south, double east, double north) {
  return {{west, south}, {east, south}, {east, north}, {west, north}};
}

/// 1920 x 1080 pixels of 2.9 um, 2.8 mm: 965.5 pixels to the focal length, 89.7 by 58.4 degrees.
inline CameraSetup wide_camera(Vector3 eye, double bearing_deg, double tilt_deg) {
  CameraSetup setup;
  setup.eye = eye;
  setup.bearing_deg = bearing_deg;
  setup.tilt_deg = tilt_deg;
  setup.focal_mm = 2.8;
  setup.sensor_width_px = setup.encoded_width_px = 1920;
  setup.sensor_height_px = setup.encoded_height_px = 1080;
  setup.pixel_um = 2.9;
  return setup;
}
constexpr double kWideFocal_px = 2800.0 / 2.9;

inline Watching watching(const CameraSetup& setup, const std::string& id = "camera") {
  return {id, CameraModel(setup), "ground", 0.0, 0.0, false, 0.0, 0.0};
}

/// Torso and head, nothing else.
inline Demand torso_and_head() { return {0.9, 1.7, 1.7, 0.0, 0.4, 1.0}; }

inline AreaSource drawn(std::vector<plane::Point> outline, const std::string& id = "drawn") {
  return {id, "/" + id, "ground", {std::move(outline)}, {}, "", 0, {}};
}

/// Detector that sees a place where some of a person is not hidden by one thing alone; heat does not pass glass.
inline AreaSource watched(std::vector<plane::Point> outline, Vector3 eye, plane::Point heading, Hides hides,
                          Medium medium = {false, false, true}) {
  AreaSource source = drawn(std::move(outline), "detector");
  Looking looks;
  looks.eye = {{eye.x, eye.y}, eye.z};
  looks.heading = heading;
  looks.medium = medium;
  looks.hides = hides;
  looks.band = {0.0, 1.7};
  source.looks = looks;
  return source;
}

/// Distance from a point to a closed ring.
double distance_to(const std::vector<plane::Point>& ring, plane::Point p);
/// Whether rings, holes among them, hold a point (crossings are counted; the border may go either way).
bool holds(const Outlines& rings, plane::Point p);

/// Coverage as its areas and patches draw it, place by place. (With patches of any size: a least one of 0.)
struct Drawn {
  Coverage found;

  bool in_area(plane::Point p) const;
  bool blind(plane::Point p) const;
  bool seen(plane::Point p) const { return in_area(p) && !blind(p); }
  double to_border(plane::Point p) const;
  /// Of all outlines: what rounding can move.
  double length_of_borders() const;
};

/// By how much a prism is away from the sight lines between an eye and the heights of a band at a place: negative where
/// it meets one of them. Decided in the upright plane through both: the sight lines fill a triangle, the prism cuts
/// rectangles out of the plane, and two convex figures are apart exactly where one of their sides' directions shows a
/// gap (separating axes). The size is that of the widest gap, in metres or less.
double gap_to(const Prism& prism, const Eye& eye, const Band& band, plane::Point place);

/// Whether a prism meets the sight line to one height.
bool meets(const Prism& prism, const Eye& eye, double height_m, plane::Point place);

}  // namespace zoneproof::sight
