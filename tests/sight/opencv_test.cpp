// Places in pictures against OpenCV 4.6 (module calib3d, Debian's package): projectPoints, undistortPoints and their
// counterparts for fisheyes.
#include <gtest/gtest.h>

#include <cmath>
#include <opencv2/calib3d.hpp>
#include <opencv2/core.hpp>

#include "random_camera.hpp"

namespace zoneproof::sight {
namespace {

constexpr double kPixels = 1e-6;
constexpr int kCameras = 200, kPlaces = 50;

/// A camera's sensor as OpenCV has it.
struct Sensor {
  cv::Matx33d camera;
  cv::Matx33d rotation;
  cv::Vec3d turn, shift;
  cv::Vec<double, 5> pinhole;  // k1 k2 p1 p2 k3
  cv::Vec4d fisheye;           // k1 k2 k3 k4
  double width, height;

  explicit Sensor(const CameraModel& of) {
    const CameraSetup& s = of.setup();
    width = static_cast<double>(s.sensor_width_px);
    height = static_cast<double>(s.sensor_height_px);
    const double focal = s.focal_mm * 1000.0 / s.pixel_um;
    camera = {focal, 0, width / 2, 0, focal, height / 2, 0, 0, 1};
    const Vector3 r = of.right(), d = of.down(), f = of.forward(), eye = of.eye();
    rotation = {r.x, r.y, r.z, d.x, d.y, d.z, f.x, f.y, f.z};
    cv::Rodrigues(rotation, turn);
    const cv::Matx31d moved = rotation * cv::Matx31d(eye.x, eye.y, eye.z);
    shift = {-moved(0), -moved(1), -moved(2)};
    pinhole = {s.lens.k1, s.lens.k2, s.lens.p1, s.lens.p2, s.lens.k3};
    fisheye = {s.lens.k1, s.lens.k2, s.lens.k3, 0.0};
  }

  cv::Point2d place(Vector3 at, Bend bend) const {
    const std::vector<cv::Point3d> points = {{at.x, at.y, at.z}};
    std::vector<cv::Point2d> places;
    if (bend == Bend::fisheye)
      cv::fisheye::projectPoints(points, places, turn, shift, camera, fisheye);
    else
      cv::projectPoints(points, turn, shift, camera, pinhole, places);
    return places[0];
  }
};

/// As cv::rotate turns pictures and cv::resize scales them, for one place.
PicturePlace shown(cv::Point2d p, const Sensor& sensor, const CameraSetup& setup) {
  double width = sensor.width, height = sensor.height;
  switch (setup.turn) {
    case site::PictureTurn::right: p = {height - p.y, p.x}, std::swap(width, height); break;
    case site::PictureTurn::left: p = {p.y, width - p.x}, std::swap(width, height); break;
    case site::PictureTurn::upside_down: p = {width - p.x, height - p.y}; break;
    default: break;
  }
  return {p.x * static_cast<double>(setup.encoded_width_px) / width,
          p.y * static_cast<double>(setup.encoded_height_px) / height};
}

class AgainstOpenCv : public testing::TestWithParam<Bend> {};

TEST_P(AgainstOpenCv, PlacesOfTheSiteFallOnTheSamePixels) {
  std::mt19937_64 random(71);
  int compared = 0;
  for (int i = 0; i < kCameras; ++i) {
    const CameraModel camera = random_camera(random, GetParam());
    const Sensor sensor(camera);
    for (int k = 0; k < kPlaces; ++k) {
      // Within the picture, and up to a fifth of its size beside it.
      const auto ray =
          camera.ray({camera.width_px() * within(random, -0.2, 1.2), camera.height_px() * within(random, -0.2, 1.2)});
      if (!ray) continue;
      // OpenCV's fisheye divides by the depth: behind the plane of the lens it shows the mirrored place.
      if (dot(*ray, camera.forward()) <= 1e-3) continue;
      const Vector3 at = camera.eye() + within(random, 0.5, 60) * *ray;
      const auto ours = camera.place_of(at);
      ASSERT_TRUE(ours.has_value());
      const PicturePlace theirs = shown(sensor.place(at, GetParam()), sensor, camera.setup());
      EXPECT_NEAR(ours->across_px, theirs.across_px, kPixels);
      EXPECT_NEAR(ours->down_px, theirs.down_px, kPixels);
      ++compared;
    }
  }
  EXPECT_GT(compared, kCameras * kPlaces * 3 / 4);
}

/// What OpenCV finds by iteration is compared where it leads back to the place it came from.
TEST_P(AgainstOpenCv, PlacesInThePictureHaveTheSameRays) {
  std::mt19937_64 random(72);
  const cv::TermCriteria until(cv::TermCriteria::COUNT | cv::TermCriteria::EPS, 500, 1e-14);
  int compared = 0;
  for (int i = 0; i < kCameras; ++i) {
    const CameraModel camera = random_camera(random, GetParam());
    const Sensor sensor(camera);
    const Lens& lens = camera.lens();
    for (int k = 0; k < kPlaces; ++k) {
      const cv::Point2d place(sensor.width * within(random, 0, 1), sensor.height * within(random, 0, 1));
      const std::vector<cv::Point2d> places = {place};
      std::vector<cv::Point2d> found;
      if (GetParam() == Bend::fisheye)
        cv::fisheye::undistortPoints(places, found, sensor.camera, sensor.fisheye, cv::noArray(), cv::noArray(), until);
      else
        cv::undistortPoints(places, found, sensor.camera, sensor.pinhole, cv::noArray(), cv::noArray(), until);
      const double focal = sensor.camera(0, 0);
      const auto direction =
          lens.direction_of({(place.x - sensor.width / 2) / focal, (place.y - sensor.height / 2) / focal});
      ASSERT_TRUE(direction.has_value());
      // OpenCV answers with tangents: nothing to compare at a right angle to the axis and behind.
      if (direction->z < 0.05) continue;
      const auto back = lens.place_of({found[0].x, found[0].y, 1.0});
      if (!back || std::hypot(back->x * focal + sensor.width / 2 - place.x,
                              back->y * focal + sensor.height / 2 - place.y) > 1e-9)
        continue;
      const double slope = 1.0 / (direction->z * direction->z);
      EXPECT_NEAR(direction->x / direction->z * focal, found[0].x * focal, kPixels * slope);
      EXPECT_NEAR(direction->y / direction->z * focal, found[0].y * focal, kPixels * slope);
      ++compared;
    }
  }
  EXPECT_GT(compared, kCameras * kPlaces / 2);
}

INSTANTIATE_TEST_SUITE_P(For, AgainstOpenCv, testing::Values(Bend::none, Bend::radial, Bend::tangential, Bend::fisheye),
                         [](const auto& of) { return name_of(of.param); });

}  // namespace
}  // namespace zoneproof::sight
