// Where things fall in a camera's picture: cases with answers by hand, published fields of view and densities.
#include "sight/camera_model.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "random_camera.hpp"

namespace zoneproof::sight {
namespace {

using site::PictureTurn;
using site::Projection;

constexpr double kDegree = std::numbers::pi / 180.0;

/// 1920 x 1080 pixels of 2.9 um, 4 mm, three metres up, looking level to the north; encoded as large as the sensor.
CameraSetup north() {
  CameraSetup setup;
  setup.eye = {0, 0, 3};
  setup.focal_mm = 4;
  setup.sensor_width_px = setup.encoded_width_px = 1920;
  setup.sensor_height_px = setup.encoded_height_px = 1080;
  setup.pixel_um = 2.9;
  return setup;
}

/// A sensor of a given width in millimetres, 1920 pixels across.
CameraSetup of_width(double width_mm, double focal_mm) {
  CameraSetup setup = north();
  setup.pixel_um = width_mm * 1000.0 / 1920.0;
  setup.focal_mm = focal_mm;
  return setup;
}

const double kFocal = 4000.0 / 2.9;  // pixels

void expect_place(const CameraModel& camera, Vector3 at, double across, double down) {
  const auto place = camera.place_of(at);
  ASSERT_TRUE(place.has_value());
  EXPECT_NEAR(place->across_px, across, 1e-9);
  EXPECT_NEAR(place->down_px, down, 1e-9);
}

TEST(Camera, LookingNorthHasEastOnItsRight) {
  const CameraModel camera(north());
  expect_place(camera, {0, 10, 3}, 960, 540);
  expect_place(camera, {1, 10, 3}, 960 + kFocal / 10, 540);
  expect_place(camera, {0, 10, 2}, 960, 540 + kFocal / 10);
  EXPECT_FALSE(camera.place_of({0, -10, 3}).has_value());
  EXPECT_FALSE(camera.place_of({0, 0, 3}).has_value());
}

TEST(Camera, LookingEastHasSouthOnItsRight) {
  CameraSetup setup = north();
  setup.bearing_deg = 90;
  const CameraModel camera(setup);
  EXPECT_EQ(camera.forward(), (Vector3{1, 0, 0}));
  EXPECT_EQ(camera.right(), (Vector3{0, -1, 0}));
  expect_place(camera, {10, -1, 3}, 960 + kFocal / 10, 540);
}

/// Thirty degrees down from three metres up, the axis meets the floor at 3 / tan 30 deg = 5.196 m.
TEST(Camera, TiltedDownLooksAtTheFloorBeforeIt) {
  CameraSetup setup = north();
  setup.tilt_deg = -30;
  const CameraModel camera(setup);
  expect_place(camera, {0, 3 * std::sqrt(3.0), 0}, 960, 540);
  // What is level lies 30 degrees above the axis.
  expect_place(camera, {0, 1e6, 3}, 960, 540 - kFocal * std::tan(30 * kDegree));
}

TEST(Camera, LookingStraightDownHasTheBearingUpInItsPicture) {
  CameraSetup setup = north();
  setup.tilt_deg = -90;
  const CameraModel camera(setup);
  expect_place(camera, {0, 1, 0}, 960, 540 - kFocal / 3);
  expect_place(camera, {1, 0, 0}, 960 + kFocal / 3, 540);
}

/// Rolled clockwise by a quarter, seen from behind, the camera's upper edge points to the right: what hangs above falls
/// on the left edge of the picture.
TEST(Camera, RolledClockwiseTurnsItsPictureTheOtherWay) {
  CameraSetup setup = north();
  setup.roll_deg = 90;
  expect_place(CameraModel(setup), {0, 10, 4}, 960 - kFocal / 10, 540);
  setup.roll_deg = 5;
  const CameraModel camera(setup);
  const auto left = camera.place_of({-1, 10, 3}), right = camera.place_of({1, 10, 3});
  EXPECT_GT(left->down_px, right->down_px);  // what is level falls to the left
}

/// Turned to the right by a quarter, what was on top is on the right.
TEST(Camera, APictureIsTurnedBeforeItIsEncoded) {
  CameraSetup setup = north();
  const Vector3 above = {0, 10, 4};
  setup.turn = PictureTurn::upside_down;
  expect_place(CameraModel(setup), above, 960, 540 + kFocal / 10);
  std::swap(setup.encoded_width_px, setup.encoded_height_px);
  setup.turn = PictureTurn::right;
  expect_place(CameraModel(setup), above, 540 + kFocal / 10, 960);
  setup.turn = PictureTurn::left;
  expect_place(CameraModel(setup), above, 540 - kFocal / 10, 960);
}

/// A camera that hangs rolled by a quarter with its picture turned the same way shows the world upright.
TEST(Camera, ARollIsUndoneByATurn) {
  CameraSetup setup = north();
  setup.roll_deg = 90;
  setup.turn = PictureTurn::right;
  setup.lens.k1 = -0.1;
  std::swap(setup.encoded_width_px, setup.encoded_height_px);
  const CameraModel camera(setup);
  EXPECT_NEAR(angle_between(camera.shown_right(), {1, 0, 0}), 0, 1e-15);
  EXPECT_NEAR(angle_between(camera.shown_down(), {0, 0, -1}), 0, 1e-15);
  const auto above = camera.place_of({0, 10, 4});
  EXPECT_NEAR(above->across_px, 540, 1e-9);
  EXPECT_LT(above->down_px, 960);
}

TEST(Camera, TheEncodedPictureIsScaledAcrossAndDownByItself) {
  CameraSetup setup = north();
  setup.encoded_width_px = 704;
  setup.encoded_height_px = 576;
  const CameraModel camera(setup);
  expect_place(camera, {1, 10, 2}, 352 + kFocal / 10 * 704 / 1920, 288 + kFocal / 10 * 576 / 1080);
  // A metre shows least across: the picture was narrowed more than it was flattened.
  EXPECT_NEAR(camera.pixels_per_metre({0, 10, 3}), kFocal / 10 * 704 / 1920, 1e-9);
}

/// Widths of a scene at a distance and horizontal fields of view. Sources: 1/3" at 20 m and 1/4" at 10 ft, lens notes
/// of installers; 1/3" at 1.5 m, austech.info thread 761; angles of a 4.8 mm sensor, computed from 2 atan(w / 2 f)
/// (common practice).
TEST(Camera, PublishedFieldsOfViewAreMet) {
  struct Row {
    double sensor_mm, focal_mm, distance, width, width_error;
  };
  constexpr double kFoot = 0.3048;
  for (const Row& row :
       {Row{4.8, 19.2, 20, 5, 1e-9}, Row{4.8, 3.6, 1.5, 2, 1e-9}, Row{3.6, 4, 10 * kFoot, 9 * kFoot, 1e-9}}) {
    const CameraModel camera(of_width(row.sensor_mm, row.focal_mm));
    const Vector3 left = *camera.ray({0, 540}), right = *camera.ray({1920, 540});
    EXPECT_NEAR(row.distance * (right.x / right.y - left.x / left.y), row.width, row.width_error);
  }
  struct Angle {
    double focal_mm, degrees;
  };
  for (const Angle& angle : {Angle{2.8, 81.20}, Angle{3.6, 67.38}, Angle{4, 61.93}, Angle{6, 43.60}, Angle{8, 33.40},
                             Angle{12, 22.62}, Angle{16, 17.06}, Angle{19.2, 14.25}}) {
    const CameraModel camera(of_width(4.8, angle.focal_mm));
    const double field = angle_between(*camera.ray({0, 540}), *camera.ray({1920, 540})) / kDegree;
    EXPECT_NEAR(field, angle.degrees, 0.005);
  }
}

/// Pixels per metre on the axis are N f / (w D): 1920 pixels on 5.568 mm behind 4 mm show 275.9 at 5 m.
TEST(Camera, PublishedDensitiesAreMet) {
  const CameraModel camera(north());
  EXPECT_NEAR(camera.pixels_per_metre({0, 5, 3}), 275.9, 0.05);
  // The six densities of IEC/EN 62676-4:2014 (as tabled by VDE and DIN), in millimetres to a pixel: where a lens shows
  // one of them, a millimetre is so many pixels.
  struct Density {
    double mm_to_a_pixel, pixels_to_a_metre;
  };
  for (const Density& one :
       {Density{80, 12.5}, Density{40, 25}, Density{16, 62.5}, Density{8, 125}, Density{4, 250}, Density{1, 1000}}) {
    const double distance = kFocal / one.pixels_to_a_metre;
    const auto a = camera.place_of({0, distance, 3}), b = camera.place_of({one.mm_to_a_pixel / 1000, distance, 3});
    EXPECT_NEAR(b->across_px - a->across_px, 1.0, 1e-9);
    EXPECT_NEAR(camera.pixels_per_metre({0, distance, 3}), one.pixels_to_a_metre, 1e-9);
  }
}

/// The limit of density is a plane across the axis for a pinhole, a sphere around an equidistant lens.
TEST(Camera, DensityIsAMatterOfDepthOrOfDistance) {
  CameraSetup setup = north();
  EXPECT_NEAR(CameraModel(setup).pixels_per_metre({6, 8, 1}), kFocal / 8, 1e-9);
  setup.lens.projection = Projection::equidistant;
  EXPECT_NEAR(CameraModel(setup).pixels_per_metre({6, 8, 3}), kFocal / 10, 1e-9);
  EXPECT_NEAR(CameraModel(setup).pixels_per_metre({0, 10, 3}), kFocal / 10, 1e-9);
  EXPECT_EQ(CameraModel(north()).pixels_per_metre({0, -5, 3}), 0.0);
}

/// Share of the height, per cent, and pixels per metre are one quantity where 400 lines show 1.6 m:
/// px/m = share x 400 / 160 (the identity behind the tables of EN 50132-7 and IEC 62676-4).
TEST(Camera, ShareOfTheHeightAndDensityGoTogether) {
  CameraSetup setup = north();
  setup.encoded_height_px = 400;
  setup.encoded_width_px = 400 * 1920 / 1080;
  setup.eye.z = 0.8;
  const CameraModel camera(setup);
  for (const double share : {5.0, 10.0, 25.0, 50.0, 100.0}) {
    const double distance = camera.focal_down_px() / (share * 400 / 160);
    EXPECT_NEAR(*camera.height_share_pct({0, distance, 0}, 1.6), share, 1e-9);
  }
  EXPECT_FALSE(camera.height_share_pct({0, -5, 0}, 1.6).has_value());
}

TEST(Camera, ChangesAreTriedOnACopy) {
  const CameraModel camera(north());
  const CameraModel changed = camera.with({90, -30, 0.5, 6.0});
  EXPECT_NEAR(changed.forward().x, std::cos(30 * kDegree), 1e-15);
  EXPECT_NEAR(changed.forward().z, -0.5, 1e-15);
  EXPECT_EQ(changed.eye().z, 3.5);
  EXPECT_NEAR(changed.focal_across_px(), 1.5 * kFocal, 1e-9);
  EXPECT_EQ(camera.with({}).forward(), camera.forward());
}

TEST(Camera, WithoutSizeIsRefused) {
  CameraSetup setup = north();
  setup.focal_mm = 0;
  EXPECT_THROW(CameraModel{setup}, std::invalid_argument);
  setup = north();
  setup.bearing_deg = std::numeric_limits<double>::quiet_NaN();
  EXPECT_THROW(CameraModel{setup}, std::invalid_argument);
}

TEST(Camera, ALensThatTurnsBackBeforeTheCornerIsTold) {
  CameraSetup setup = north();
  setup.lens.k1 = -0.3;  // turns back at a place of 0.7 focal lengths; the corner lies at 0.8
  EXPECT_FALSE(CameraModel(setup).reaches_corner());
  setup.lens.k1 = -0.2;
  EXPECT_TRUE(CameraModel(setup).reaches_corner());
}

/// How far a ray lies from the nearest fan of an outline.
double off(const RayOutline& outline, Vector3 ray) {
  double least = HUGE_VAL;
  for (std::size_t i = 0; i < outline.rays.size(); ++i) {
    const Vector3 a = outline.rays[i], b = outline.rays[(i + 1) % outline.rays.size()];
    const Vector3 across = unit(cross(a, b));
    const double beside = std::abs(std::asin(std::clamp(dot(across, ray), -1.0, 1.0)));
    const bool between = dot(cross(across, a), ray) >= -1e-12 && dot(cross(across, b), ray) <= 1e-12;
    least = std::min(least, between ? beside : std::min(angle_between(a, ray), angle_between(b, ray)));
  }
  return least;
}

/// Twice the turn of an outline around a direction: positive counter-clockwise as the eye sees it.
double turn_around(const RayOutline& outline, const CameraModel& camera) {
  double sum = 0;
  for (std::size_t i = 0; i < outline.rays.size(); ++i) {
    const auto a = camera.place_of(camera.eye() + outline.rays[i]);
    const auto b = camera.place_of(camera.eye() + outline.rays[(i + 1) % outline.rays.size()]);
    sum -= a->across_px * b->down_px - b->across_px * a->down_px;
  }
  return sum;
}

/// Every tenth of a pixel's worth of border lies within the tolerance of the outline.
TEST(Camera, ItsFrameFollowsTheBorderOfThePicture) {
  std::mt19937_64 random(9);
  for (const Bend bend : {Bend::none, Bend::radial, Bend::tangential, Bend::fisheye}) {
    for (int i = 0; i < 20; ++i) {
      const CameraModel camera = random_camera(random, bend);
      for (const double tolerance : {1e-2, 1e-4}) {
        const RayOutline frame = camera.frame_outline(tolerance);
        EXPECT_EQ(std::count(frame.corner.begin(), frame.corner.end(), true), 4);
        if (bend == Bend::none) {
          EXPECT_EQ(frame.rays.size(), 4U);
        }
        EXPECT_LT(frame.rays.size(), tolerance < 1e-3 ? 1000U : 120U);
        EXPECT_GT(turn_around(frame, camera), 0.0);
        for (int k = 0; k < 200; ++k) {
          const double share = within(random, 0, 1);
          const PicturePlace places[] = {{share * camera.width_px(), 0},
                                         {share * camera.width_px(), camera.height_px()},
                                         {0, share * camera.height_px()},
                                         {camera.width_px(), share * camera.height_px()}};
          for (const PicturePlace& place : places) EXPECT_LT(off(frame, *camera.ray(place)), tolerance);
        }
      }
    }
  }
}

TEST(Camera, MasksAreOutlinedCounterClockwiseHoweverTheyWereDrawn) {
  CameraSetup setup = north();
  setup.lens.k1 = -0.1;
  setup.masks.push_back({"window", {{0, 0}, {400, 0}, {400, 300}, {0, 300}}});
  setup.masks.push_back({"street", {{0, 0}, {0, 300}, {400, 300}, {400, 0}}});
  const CameraModel camera(setup);
  const auto masks = camera.mask_outlines(1e-4);
  ASSERT_EQ(masks.size(), 2U);
  EXPECT_EQ(masks[0].id, "window");
  for (const MaskOutline& mask : masks) EXPECT_NEAR(turn_around(mask.outline, camera), 2 * 400 * 300, 200);
}

/// A fisheye of 1 mm has the sensor's corners beyond its backward direction: its outline stops there.
TEST(Camera, AnOutlineStopsWhereTheLensEnds) {
  CameraSetup setup = north();
  setup.focal_mm = 1;
  setup.lens.projection = Projection::equidistant;
  const CameraModel camera(setup);
  EXPECT_FALSE(camera.reaches_corner());
  const RayOutline frame = camera.frame_outline(1e-2);
  EXPECT_EQ(std::count(frame.corner.begin(), frame.corner.end(), true), 8);
}

}  // namespace
}  // namespace zoneproof::sight
