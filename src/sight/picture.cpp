#include "sight/picture.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "sight/picture_scene.hpp"
#include "sight/picture_window.hpp"

namespace zoneproof::sight {

namespace {

using plane::Box;
using plane::Point;

/// Beyond the frame, so that nothing ends on it by being cut.
constexpr double kBeside = 0x1p-8;

/// The plane across the axis, as far as the frame goes.
Window before_the_axis(const CameraModel& camera, const std::vector<Vector3>& frame) {
  Box box = {{0.0, 0.0}, {0.0, 0.0}};
  for (const Vector3& ray : frame) {
    const Vector3 p = camera.in_camera(camera.eye() + ray);
    box.low = {std::min(box.low.x, p.x / p.z), std::min(box.low.y, p.y / p.z)};
    box.high = {std::max(box.high.x, p.x / p.z), std::max(box.high.y, p.y / p.z)};
  }
  box.low = {box.low.x - kBeside, box.low.y - kBeside};
  box.high = {box.high.x + kBeside, box.high.y + kBeside};
  return {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, box};
}

/// The sides of a cube.
std::vector<Window> around_the_eye() {
  const Box side = {{-1.0, -1.0}, {1.0, 1.0}};
  return {{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, side},  {{0, 0, -1}, {0, 1, 0}, {1, 0, 0}, side},
          {{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}, side}, {{1, 0, 0}, {0, 0, -1}, {0, 1, 0}, side},
          {{1, 0, 0}, {0, 0, 1}, {0, -1, 0}, side}, {{-1, 0, 0}, {0, 1, 0}, {0, 0, -1}, side}};
}

/// Areas of the same surface in several windows become one entry.
void join_areas(ExpectedView& view) {
  std::stable_sort(view.areas.begin(), view.areas.end(),
                   [](const SeenArea& a, const SeenArea& b) { return a.surface < b.surface; });
  std::vector<SeenArea> joined;
  for (SeenArea& area : view.areas) {
    if (joined.empty() || joined.back().surface != area.surface)
      joined.push_back(std::move(area));
    else
      for (auto& ring : area.rings) joined.back().rings.push_back(std::move(ring));
  }
  view.areas = std::move(joined);
}

/// Follows level sight lines around the compass; where the line enters or leaves the picture or a mask its end is
/// halved in.
class Horizon {
 public:
  explicit Horizon(const CameraModel& camera) : camera_(camera) {}

  std::vector<std::vector<PicturePlace>> lines() const {
    constexpr int kSteps = 1440;
    std::vector<std::vector<PicturePlace>> all;
    bool open = false;
    for (int i = 0; i < kSteps; ++i) {
      const double a = turn(i, kSteps), b = turn(i + 1, kSteps);
      const auto at_a = shown(a), at_b = shown(b);
      if (at_a && !open) all.emplace_back(1, *at_a);
      if (!at_a && at_b) all.emplace_back(1, edge(b, a));
      if (at_a && !at_b) all.back().push_back(edge(a, b));
      if (at_b) all.back().push_back(*at_b);
      open = at_b.has_value();
    }
    return all;
  }

 private:
  static double turn(int i, int steps) { return 2.0 * std::numbers::pi * i / steps; }
  std::optional<PicturePlace> shown(double bearing) const {
    const auto at = camera_.place_of(camera_.eye() + Vector3{std::sin(bearing), std::cos(bearing), 0.0});
    return at && camera_.in_picture(*at) && !camera_.masked(*at) ? at : std::nullopt;
  }
  PicturePlace edge(double in, double out) const {
    for (int i = 0; i < 50; ++i) {
      const double middle = (in + out) / 2.0;
      (shown(middle) ? in : out) = middle;
    }
    return *shown(in);
  }
  const CameraModel& camera_;
};

}  // namespace

const SeenArea* ExpectedView::area_of(std::size_t surface) const {
  const auto at = std::lower_bound(areas.begin(), areas.end(), surface,
                                   [](const SeenArea& area, std::size_t wanted) { return area.surface < wanted; });
  return at != areas.end() && at->surface == surface ? &*at : nullptr;
}

ExpectedView expected_view(const CameraModel& camera, const Building& building, const PictureWish& wish) {
  const PictureScene scene = picture_scene(camera, building, wish);
  ExpectedView view;
  view.width_px = camera.width_px();
  view.height_px = camera.height_px();
  view.surfaces = scene.surfaces;
  const double focal = std::max(camera.focal_across_px(), camera.focal_down_px());
  const double tolerance = kCurve_px / 2.0 / focal;
  const std::vector<Vector3> frame = camera.frame_outline(tolerance).rays;
  std::vector<std::vector<Vector3>> borders = {frame};
  for (MaskOutline& mask : camera.mask_outlines(tolerance)) borders.push_back(std::move(mask.outline.rays));
  view.masks = camera.setup().masks;
  if (camera.lens().terms().projection == site::Projection::pinhole) {
    add_window(camera, scene, before_the_axis(camera, frame), borders, view);
  } else {
    for (const Window& window : around_the_eye()) add_window(camera, scene, window, borders, view);
  }
  join_areas(view);
  view.horizon = Horizon(camera).lines();
  for (const Vector3& ray : frame) {
    if (const auto at = camera.place_of(camera.eye() + ray))
      view.border.push_back(
          {std::clamp(at->across_px, 0.0, view.width_px), std::clamp(at->down_px, 0.0, view.height_px)});
  }
  return view;
}

}  // namespace zoneproof::sight
