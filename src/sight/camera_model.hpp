#pragma once
#include <optional>
#include <string>
#include <vector>

#include "plane/point.hpp"
#include "sight/lens.hpp"
#include "sight/vector3.hpp"
#include "site/scene.hpp"

namespace zoneproof::sight {

inline constexpr double kWhole_percent = 100.0;  ///< of a width or a height

/// A place in the encoded picture as it is shown, turned: pixels from its upper left corner. The middle of the first
/// pixel is 0.5, 0.5 (libraries that count from the middle of the first pixel have 0, 0 there).
struct PicturePlace {
  double across_px = 0.0, down_px = 0.0;
};

/// The plain numbers that a camera is made of.
struct CameraSetup {
  Vector3 eye;
  double bearing_deg = 0.0;  ///< clockwise from north
  double tilt_deg = 0.0;     ///< upward positive
  double roll_deg = 0.0;     ///< clockwise seen from behind: what is level then falls to the left in the picture
  double focal_mm = 0.0;
  LensTerms lens;
  long long sensor_width_px = 0, sensor_height_px = 0;
  double pixel_um = 0.0;
  site::PictureTurn turn = site::PictureTurn::upright;
  long long encoded_width_px = 0, encoded_height_px = 0;  ///< of the picture as it is shown
  struct Mask {
    std::string id;
    std::vector<PicturePlace> corners;
  };
  std::vector<Mask> masks;
};

/// What is tried to cure a view: changes against how the camera stands. A pan turns clockwise seen from above.
struct CameraChange {
  double pan_deg = 0.0, tilt_deg = 0.0, raise_m = 0.0;
  std::optional<double> focal_mm;  ///< another one, with the terms of the lens as they are
};

/// A closed line of sight-rays around a part of the picture: unit vectors in the axes of the site, counter-clockwise as
/// the eye sees them. Between neighbours the border is taken as the flat fan through both.
struct RayOutline {
  std::vector<Vector3> rays;
  std::vector<bool> corner;  ///< for each ray: the border turns here; else the point only follows its bend
};

struct MaskOutline {
  std::string id;
  RayOutline outline;
};

/// A camera as it maps the site: where a place falls in its picture, and what a place in the picture shows.
///
/// The axis points by bearing and tilt and meets the sensor in its middle. A roll turns the camera clockwise about its
/// axis, seen from behind; then the sensor's picture is turned (left: counter-clockwise by a quarter), and at last its
/// whole is scaled to the encoded size, across and down each by its own factor. An encoder that cuts a piece out of the
/// sensor's picture is told by a camera part with the sensor's pixels that it uses.
///
/// A lens whose terms turn back before the sensor's corner says nothing about that corner: `reaches_corner` is false
/// then and outlines stop where the terms end. Frame and methods: lens.hpp.
class CameraModel {
 public:
  /// Throws std::invalid_argument where a size, the pixel's pitch or the focal length is not above 0, or where an angle
  /// or place is not a number.
  explicit CameraModel(CameraSetup setup);

  const CameraSetup& setup() const { return setup_; }
  const Lens& lens() const { return lens_; }
  Vector3 eye() const { return setup_.eye; }
  /// The camera's axes in those of the site: unit vectors. Right and down as the sensor stands, before the turn.
  Vector3 right() const { return right_; }
  Vector3 down() const { return down_; }
  Vector3 forward() const { return forward_; }
  /// Right and down as the picture is shown: along with its across and down.
  Vector3 shown_right() const { return shown_right_; }
  Vector3 shown_down() const { return shown_down_; }

  /// Pixels of the encoded picture to a focal length: its size at a distance of one metre on the axis, pixels per
  /// metre.
  double focal_across_px() const { return focal_across_; }
  double focal_down_px() const { return focal_down_; }
  double width_px() const { return static_cast<double>(setup_.encoded_width_px); }
  double height_px() const { return static_cast<double>(setup_.encoded_height_px); }

  /// A pinhole without distortion: what is straight stays so, the frame is a pyramid, density is a matter of depth.
  bool is_flat() const { return lens_.is_straight(); }
  /// The lens's terms hold as far as the picture's corners.
  bool reaches_corner() const;

  /// A place of the site in the camera's axes as the picture is shown: x right, y down, z forward; metres.
  Vector3 in_camera(Vector3 at) const;
  /// A place in the camera's axes as the picture is shown, in those of the site.
  Vector3 in_site(Vector3 in_camera) const;

  /// Where a place falls; outside of the picture too. Nothing where it is behind the camera (pinhole), beyond the range
  /// of the lens, or the eye itself.
  std::optional<PicturePlace> place_of(Vector3 at) const;
  bool in_picture(PicturePlace place) const;
  bool in_picture(Vector3 at) const;
  /// Under one of the masks, or on the border of one.
  bool masked(PicturePlace place) const;
  /// The unit vector from the eye through what is shown there; nothing beyond the range of the lens.
  std::optional<Vector3> ray(PicturePlace place) const;

  /// Pixels of the encoded picture per metre at a place: of a small length across the line of sight there, in the way
  /// in which it shows least. For a pinhole with equal scales that is the focal length over the depth (also beside the
  /// axis), for an equidistant lens over the distance. 0 where the place is not shown by the lens at all. Both picture
  /// scales count: a clip that is encoded narrower than the sensor shows a face with fewer pixels.
  double pixels_per_metre(Vector3 at) const;

  /// What share of the picture's height a target takes that stands at `foot`: between where its foot and its head fall,
  /// downward in the picture, whether it is in the frame or not. Nothing where one of them falls nowhere. With a lens
  /// that bends, what is between may bulge beyond: never told too large.
  std::optional<double> height_share_pct(Vector3 foot, double height_m) const;

  /// The border of the picture. `tolerance`: between neighbours the true border is nearer than this to their flat fan,
  /// in radians. A flat camera has 4 rays whatever the tolerance.
  RayOutline frame_outline(double tolerance) const;
  /// The masks likewise: their sides are straight in the picture.
  std::vector<MaskOutline> mask_outlines(double tolerance) const;

  /// A changed copy.
  CameraModel with(const CameraChange& change) const;

 private:
  /// From focal lengths on the sensor, along with the picture as shown, to the encoded picture and back.
  PicturePlace encoded(plane::Point shown) const;
  plane::Point shown(PicturePlace place) const;
  std::optional<Vector3> ray_at(plane::Point shown) const;
  RayOutline outline(const std::vector<PicturePlace>& corners, double tolerance) const;

  CameraSetup setup_;
  std::vector<std::vector<plane::Point>> mask_rings_;  ///< as those of the setup
  Lens lens_;
  Vector3 right_, down_, forward_, shown_right_, shown_down_;
  double focal_across_ = 0.0, focal_down_ = 0.0;
};

}  // namespace zoneproof::sight
