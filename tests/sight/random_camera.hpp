#pragma once
#include <random>
#include <string>

#include "sight/camera_model.hpp"

/// Cameras by chance, as far apart as those that are built.
namespace zoneproof::sight {

inline double within(std::mt19937_64& random, double low, double high) {
  return std::uniform_real_distribution<double>(low, high)(random);
}

enum class Bend { none, radial, tangential, fisheye };

/// What a test with such a camera is called.
inline std::string name_of(Bend bend) {
  switch (bend) {
    case Bend::none: return "Pinhole";
    case Bend::radial: return "RadialTerms";
    case Bend::tangential: return "TangentialTerms";
    default: return "Fisheye";
  }
}

/// The lens's terms hold as far as the picture's corners. Tangential terms are of the size that calibrations find.
inline CameraModel random_camera(std::mt19937_64& random, Bend bend) {
  constexpr site::PictureTurn turns[] = {site::PictureTurn::upright, site::PictureTurn::left, site::PictureTurn::right,
                                         site::PictureTurn::upside_down};
  for (;;) {
    CameraSetup setup;
    setup.eye = {within(random, -50, 50), within(random, -50, 50), within(random, 0, 10)};
    setup.bearing_deg = within(random, -360, 360);
    setup.tilt_deg = within(random, -90, 90);
    setup.roll_deg = within(random, -180, 180);
    setup.focal_mm = bend == Bend::fisheye ? within(random, 1.2, 4) : within(random, 2.8, 25);
    setup.sensor_width_px = 1920;
    setup.sensor_height_px = 1080;
    setup.pixel_um = 2.9;
    setup.turn = turns[random() % 4];
    setup.encoded_width_px = 640 + static_cast<long long>(random() % 2000);
    setup.encoded_height_px = 360 + static_cast<long long>(random() % 2000);
    if (bend == Bend::fisheye) {
      setup.lens.projection = site::Projection::equidistant;
      setup.lens.k1 = within(random, -0.05, 0.05);
      setup.lens.k2 = within(random, -0.01, 0.01);
      setup.lens.k3 = within(random, -0.001, 0.001);
    } else if (bend != Bend::none) {
      setup.lens.k1 = within(random, -0.4, 0.4);
      setup.lens.k2 = within(random, -0.2, 0.2);
      setup.lens.k3 = within(random, -0.1, 0.1);
    }
    if (bend == Bend::tangential) {
      setup.lens.p1 = within(random, -0.01, 0.01);
      setup.lens.p2 = within(random, -0.01, 0.01);
    }
    CameraModel camera(setup);
    if (camera.reaches_corner()) return camera;
  }
}

}  // namespace zoneproof::sight
