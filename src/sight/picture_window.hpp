#pragma once
#include <vector>

#include "sight/picture_scene.hpp"

/// One flat plane before the camera in which the lines of an expected picture are straight. Used by `picture` only.
namespace zoneproof::sight {

/// The plane at distance 1 along `forward`, in the axes of the camera as its picture is shown; `box` in that plane is
/// what it answers for.
struct Window {
  Vector3 right, down, forward;
  plane::Box box;
};

/// Adds what is seen in the window: areas and edges. `borders`: where the picture ends, closed lines of rays in the
/// axes of the site: its frame and the outlines of its masks.
void add_window(const CameraModel& camera, const PictureScene& scene, const Window& window,
                const std::vector<std::vector<Vector3>>& borders, ExpectedView& view);

}  // namespace zoneproof::sight
