// Coverage of random storeys against rays: Embree 3 says what a sight line meets, the camera's own projection (held
// against OpenCV elsewhere) what is in its picture.
#include <gtest/gtest.h>

#include <random>

#include "sight/random_camera.hpp"
#include "sight/random_scene.hpp"
#include "sight/ray_witness.hpp"

namespace zoneproof::sight {
namespace {

using plane::Point;

constexpr int kScenes = 200, kPlaces = 5000, kHeights = 24;
constexpr int kManyHeights = 4000;  ///< what lies between the heights
/// Nearer to a border of our areas and patches both may differ: what rounding to the grid and single precision move.
constexpr double kNear_m = 0.003;
/// Lenses that bend: the picture's and masks' borders are followed with a tolerance that gives a little away.
constexpr double kNear_px = 1.5;

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
  const RayWitness rays(made.scene.building, made.sources, made.cameras, made.demand);
  const Floor& floor = made.scene.building.floors[0];
  std::mt19937_64 random(seed);
  Count count;
  for (int i = 0; i < kPlaces; ++i) {
    const Point p = {within(random, 0.0, kRoomWide_m), within(random, 0.0, kRoomDeep_m)};
    const RayWitness::Said said = {ours.in_area(p), ours.seen(p)};
    count.area += said.area ? 1 : 0, count.witnessed += said.witnessed ? 1 : 0;
    if (said == rays.of(p, floor, {}, kHeights)) continue;
    const RayWitness::Said by_rays = rays.of(p, floor, {}, kManyHeights);
    if (said == by_rays) continue;
    ++count.differ;
    if (ours.to_border(p) < kNear_m) continue;
    if (said.area == by_rays.area && rays.near_border_of_picture(p, floor, kNear_px)) continue;
    ADD_FAILURE() << "scene " << seed << " at " << p.x << ", " << p.y << ": area " << said.area << ", by rays "
                  << by_rays.area << "; seen " << said.witnessed << ", by rays " << by_rays.witnessed << "; "
                  << ours.to_border(p) << " m from the nearest border";
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
