// Coverage of random storeys against rays: Embree 3 says what a sight line meets, the camera's own projection (held
// against OpenCV elsewhere) what is in its picture.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "sight/random_camera.hpp"
#include "sight/random_scene.hpp"
#include "sight/ray_scene.hpp"

namespace zoneproof::sight {
namespace {

using plane::Point;

constexpr int kScenes = 200, kPlaces = 5000, kHeights = 24;
/// Nearer to a border of our areas and patches both may differ: what rounding to the grid and single precision move.
constexpr double kNear_m = 0.003;
/// Lenses that bend: the picture's and masks' borders are followed with a tolerance that gives a little away.
constexpr double kNear_px = 1.5;

std::vector<Prism> without_glass(const std::vector<Prism>& prisms) {
  std::vector<Prism> kept;
  std::copy_if(prisms.begin(), prisms.end(), std::back_inserter(kept),
               [](const Prism& prism) { return prism.surface != site::Surface::glass; });
  return kept;
}

/// What rays say of a storey.
class Rays {
 public:
  explicit Rays(const RandomScene& of)
      : of_(of), all_(of.scene.building.prisms), solid_(without_glass(of.scene.building.prisms)) {}

  bool in_area(Point p, int heights) const {
    const Demand& demand = of_.demand;
    for (const Prism& prism : of_.scene.building.prisms) {
      const bool in_the_way = prism.bottom_m <= demand.stoop_m && prism.top_m > demand.stepped_on_m;
      if (prism.body && in_the_way && holds({prism.outline}, p)) return false;
    }
    return std::any_of(of_.sources.begin(), of_.sources.end(), [&](const AreaSource& source) {
      return holds(source.outlines, p) && (!source.looks || detected(*source.looks, p, heights));
    });
  }
  bool witnessed(Point p, int heights) const {
    return std::any_of(of_.cameras.begin(), of_.cameras.end(),
                       [&](const Watching& camera) { return shown(camera, p, heights); });
  }
  /// Some height of a place falls beside the border of a bent picture or of its mask.
  bool near_border_of_picture(Point p) const {
    for (const Watching& camera : of_.cameras) {
      if (camera.model.is_flat()) continue;
      for (int i = 0; i <= kHeights; ++i) {
        const auto at = camera.model.place_of({p.x, p.y, height(i, kHeights, {of_.demand.from_m, of_.demand.to_m})});
        if (!at) continue;
        const Point place = {at->across_px, at->down_px};
        const double width = camera.model.width_px(), tall = camera.model.height_px();
        if (distance_to(rectangle(0, 0, width, tall), place) < kNear_px) return true;
        for (const CameraSetup::Mask& mask : camera.model.setup().masks)
          if (distance_to(ring_of(mask), place) < kNear_px) return true;
      }
    }
    return false;
  }

 private:
  static double height(int i, int heights, Band band) { return band.low_m + (band.high_m - band.low_m) * i / heights; }
  static std::vector<Point> ring_of(const CameraSetup::Mask& mask) {
    std::vector<Point> ring;
    for (const PicturePlace corner : mask.corners) ring.push_back({corner.across_px, corner.down_px});
    return ring;
  }
  bool detected(const Looking& looks, Point p, int heights) const {
    const Eye eye = standing_off(of_.scene.building, looks);
    for (int i = 0; i <= heights; ++i)
      if (all_.blocked({eye.at.x, eye.at.y, eye.height_m}, {p.x, p.y, height(i, heights, looks.band)})) return false;
    return true;
  }
  bool shown(const Watching& camera, Point p, int heights) const {
    const CameraModel& model = camera.model;
    Looking looks;
    looks.eye = {{model.eye().x, model.eye().y}, model.eye().z};
    looks.heading = {model.forward().x, model.forward().y};
    const Eye eye = standing_off(of_.scene.building, looks);
    for (int i = 0; i <= heights; ++i) {
      const Vector3 at = {p.x, p.y, height(i, heights, {of_.demand.from_m, of_.demand.to_m})};
      const auto place = model.place_of(at);
      if (!place || !model.in_picture(*place) || model.pixels_per_metre(at) < camera.px_per_m) return false;
      for (const CameraSetup::Mask& mask : model.setup().masks)
        if (holds({ring_of(mask)}, {place->across_px, place->down_px})) return false;
      if (solid_.blocked({eye.at.x, eye.at.y, eye.height_m}, at)) return false;
    }
    return true;
  }

  const RandomScene& of_;
  RayScene all_, solid_;
};

double area_of(const Outlines& outlines) {
  double twice = 0.0;
  for (const auto& ring : outlines)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Point a = ring[i], b = ring[(i + 1) % ring.size()];
      twice += a.x * b.y - b.x * a.y;
    }
  return twice / 2.0;
}

/// The areas that are told are those of the outlines that are given.
void hold_together(const Coverage& found) {
  double area = 0.0, blind = 0.0;
  for (const Outlines& one : found.areas) area += area_of(one);
  for (const Patch& patch : found.patches) blind += area_of(patch.outlines);
  EXPECT_NEAR(area, found.area_m2, 1e-6);
  EXPECT_NEAR(area - blind, found.witnessed_m2, 1e-6);
}

struct Count {
  int area = 0, witnessed = 0, differ = 0;
};

Count hold_against_rays(const RandomScene& made, std::uint64_t seed) {
  const Drawn ours{coverage(made.scene.building, made.sources, made.cameras, made.demand, 0.0)};
  hold_together(ours.found);
  const Rays rays(made);
  std::mt19937_64 random(seed);
  Count count;
  for (int i = 0; i < kPlaces; ++i) {
    const Point p = {within(random, 0.0, kRoomWide_m), within(random, 0.0, kRoomDeep_m)};
    const bool area = ours.in_area(p), seen = area && !ours.blind(p);
    count.area += area ? 1 : 0, count.witnessed += seen ? 1 : 0;
    bool area_by_rays = rays.in_area(p, kHeights), seen_by_rays = area_by_rays && rays.witnessed(p, kHeights);
    if (area == area_by_rays && seen == seen_by_rays) continue;
    constexpr int many = 4000;  // what lies between the heights
    area_by_rays = rays.in_area(p, many), seen_by_rays = area_by_rays && rays.witnessed(p, many);
    if (area == area_by_rays && seen == seen_by_rays) continue;
    ++count.differ;
    if (ours.to_border(p) < kNear_m || (area == area_by_rays && rays.near_border_of_picture(p))) continue;
    ADD_FAILURE() << "scene " << seed << " at " << p.x << ", " << p.y << ": area " << area << ", by rays "
                  << area_by_rays << "; seen " << seen << ", by rays " << seen_by_rays << "; " << ours.to_border(p)
                  << " m from the nearest border";
  }
  return count;
}

TEST(AgainstEmbree, EveryPlaceOfRandomStoreysIsAsRaysSayOrBesideABorder) {
  Count all;
  for (std::uint64_t seed = 1; seed <= kScenes; ++seed) {
    const Count one = hold_against_rays(random_scene(seed), seed);
    all.area += one.area, all.witnessed += one.witnessed, all.differ += one.differ;
    if (HasNonfatalFailure()) break;
  }
  RecordProperty("places_in_areas", all.area);
  RecordProperty("places_witnessed", all.witnessed);
  RecordProperty("places_that_differ", all.differ);
  EXPECT_GT(all.area, kScenes * kPlaces / 10);
  EXPECT_GT(all.witnessed, all.area / 20);
  // The areas differ by less than one in a thousand: every place stands for the same area.
  EXPECT_LT(all.differ, all.area / 1000);
}

}  // namespace
}  // namespace zoneproof::sight
