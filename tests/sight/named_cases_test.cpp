// Scenes small enough to compute by hand. A sight line from height H to the height h at distance D passes distance d at
// H + (h - H) d / D; every number below comes from that and from nothing else. Frames are wide enough not to count
// where they are not what the case is about.
#include <gtest/gtest.h>

#include <cmath>

#include "sight/scene.hpp"

namespace zoneproof::sight {
namespace {

constexpr double kStrip_m = 0.5;
constexpr double kSlack_m2 = 0.002;  ///< grid and chords: 0.12 mm along some metres

Coverage cover(const MadeScene& scene, const std::vector<AreaSource>& sources, const CameraSetup& camera,
               Demand demand = torso_and_head()) {
  return coverage(scene.building, sources, {watching(camera)}, demand, 0.0);
}

/// A strip 0.5 m wide, whole steps of the grid, straight ahead to the north.
std::vector<AreaSource> strip_ahead(double from, double to) {
  return {drawn(rectangle(-kStrip_m / 2, from, kStrip_m / 2, to))};
}

TEST(NamedCase, ALintelHidesTheHeadFromNineFifthsOfItsDistanceOnForEver) {
  MadeScene scene;
  scene.wall({-50, 2}, {50, 2}, 2.1, 3.0);
  // 2.6 - 0.9 u >= 2.1 for u = 2 / D <= 5 / 9: D >= 3.6.
  const Coverage found = cover(scene, strip_ahead(2.5, 500.0), wide_camera({0, 0, 2.6}, 0, -20));
  EXPECT_NEAR(found.area_m2, kStrip_m * 497.5, 1e-6);
  EXPECT_NEAR(found.witnessed_m2, kStrip_m * 1.1, kSlack_m2);
  ASSERT_EQ(found.patches.size(), 1U);
  ASSERT_FALSE(found.patches[0].causes.empty());
  EXPECT_EQ(found.patches[0].causes[0].why, Why::hidden);
  EXPECT_EQ(found.patches[0].causes[0].thing, scene.building.things[0].id);
}

TEST(NamedCase, ACameraBelowHeadHeightLosesTheTorsoForAWhileBehindALowWall) {
  MadeScene scene;
  scene.wall({-50, 2}, {50, 2}, 0.0, 1.0);
  // 1.2 - 0.3 u <= 1.0 for u >= 2 / 3: from the wall at 2 to 3 m; the head at 1.7 m is above eye and wall.
  const Coverage found = cover(scene, strip_ahead(1.5, 9.5), wide_camera({0, 0, 1.2}, 0, 0));
  EXPECT_NEAR(found.witnessed_m2, kStrip_m * 7.0, kSlack_m2);
}

/// Rows of the picture below the horizon of a level camera at 1.3 m: the whole width is masked.
CameraSetup level_with_mask(double first_row, double last_row) {
  CameraSetup setup = wide_camera({0, 0, 1.3}, 0, 0);
  setup.masks.push_back({"mask", {{0, first_row}, {1920, first_row}, {1920, last_row}, {0, last_row}}});
  return setup;
}

TEST(NamedCase, AMaskInsideTheBandHidesWhatNeitherEndOfTheBandTells) {
  // 100 to 200 rows below the horizon: from 0.10357 D to 0.20714 D below the eye. The band reaches 0.4 m below it, so
  // the mask cuts it as far as D = 0.4 / 0.10357 = 3.862. Nearer than 1.931 m neither of its ends is masked.
  const double limit = 0.4 * kWideFocal_px / 100.0;
  const Coverage found = cover({}, strip_ahead(1.0, 10.0), level_with_mask(640, 740));
  EXPECT_NEAR(found.witnessed_m2, kStrip_m * (10.0 - limit), kSlack_m2);
  ASSERT_FALSE(found.patches.empty());
  EXPECT_EQ(found.patches[0].causes[0].why, Why::masked);
  EXPECT_EQ(found.patches[0].causes[0].mask, "mask");
}

TEST(NamedCase, AMaskThatBeginsAtTheHorizonHidesTheBandAtEveryDistance) {
  EXPECT_NEAR(cover({}, strip_ahead(1.0, 200.0), level_with_mask(540, 640)).witnessed_m2, 0.0, kSlack_m2);
  EXPECT_NEAR(cover({}, strip_ahead(1.0, 200.0), level_with_mask(440, 540)).witnessed_m2, 0.0, kSlack_m2);
}

TEST(NamedCase, ALowCameraWithBarrelDistortionLosesTheMiddleOfAPersonFirst) {
  CameraSetup setup = wide_camera({0, 0, 1.3}, 0, 0);
  setup.focal_mm = 4.0;
  setup.lens.k1 = -0.2;
  // At the height of the eye a person at slope u = x / depth falls at u - 0.2 u^3 focal lengths; the picture ends at
  // 960 / 1379.3 of them. A barrel bulges: head and foot are nearer to the middle, so this decides.
  const double edge = 960.0 / (4000.0 / 2.9);
  double slope = edge;
  for (int i = 0; i < 60; ++i) slope = edge + 0.2 * slope * slope * slope;
  const Coverage found = cover({}, {drawn(rectangle(0, 1.5, 8, 4))}, setup);
  const double exact = slope * (4.0 * 4.0 - 1.5 * 1.5) / 2.0;
  EXPECT_LE(found.witnessed_m2, exact + 1e-6) << "never more than there is";
  EXPECT_NEAR(found.witnessed_m2, exact, 2.5 * 5e-4 * 4.0);
  // By the ends of the band alone it would be more.
  const CameraModel model(setup);
  const double beyond = slope * 1.5 + 0.003;
  EXPECT_TRUE(model.in_picture({beyond, 1.5, 0.9}));
  EXPECT_TRUE(model.in_picture({beyond, 1.5, 1.7}));
  EXPECT_FALSE(model.in_picture({beyond, 1.5, 1.3}));
}

TEST(NamedCase, AShelfHidesThroughItsUpperFaceFromAbove) {
  MadeScene scene;
  scene.body(rectangle(-1, 3, 1, 4), 1.0, 1.05);
  // 2.6 - 1.7 u <= 1.05 for u >= 0.91176: from its far side at 4 m to 4.387 m. Under it there is no place to stand.
  const Coverage found = cover(scene, strip_ahead(2.0, 12.0), wide_camera({0, 0, 2.6}, 0, -20));
  EXPECT_NEAR(found.area_m2, kStrip_m * 9.0, 1e-6);
  EXPECT_NEAR(found.area_m2 - found.witnessed_m2, kStrip_m * (4.0 * 1.7 / 1.55 - 4.0), kSlack_m2);
}

TEST(NamedCase, AShelfHidesThroughItsUnderside) {
  MadeScene scene;
  scene.body(rectangle(-1, 3, 1, 4), 1.0, 1.05);
  // 0.5 + 1.2 u >= 1.0 for u >= 5 / 12, and 0.5 + 0.4 u <= 1.05 always: as far as 4 x 12 / 5 = 9.6 m.
  const Coverage found = cover(scene, strip_ahead(2.0, 12.0), wide_camera({0, 0, 0.5}, 0, 5));
  EXPECT_NEAR(found.area_m2 - found.witnessed_m2, kStrip_m * 5.6, kSlack_m2);
}

TEST(NamedCase, AStairFromBehindHidesItsOwnLowerSteps) {
  MadeScene scene;
  for (int step = 1; step <= 10; ++step) {  // 10 steps of 0.2 by 0.3 m, rising to the north
    const double south = 3.0 + 0.3 * (step - 1);
    scene.add(ThingKind::stair, true, rectangle(-0.6, south, 0.6, south + 0.3), 0.0, 0.2 * step);
  }
  // Eye at y = 12, 2.6 m. The far end of the top step, 2.0 m high, 6 m away, is what sight lines touch first. To step k
  // (0.2 k + 0.9 up, D away) they pass it at 2.6 - (1.7 - 0.2 k) 6 / D, below 2.0 where D < 10 (1.7 - 0.2 k): steps 1
  // to 4 (D <= 9, 8.7, 8.4, 8.1 against 15, 13, 11, 9) and all of the floor before them (D <= 12 against 17); steps 5
  // (D >= 7.5 against 7) to 10 are seen.
  const Coverage found = cover(scene, {drawn(rectangle(-0.3, 0, 0.3, 6))}, wide_camera({0, 12, 2.6}, 180, 0));
  EXPECT_NEAR(found.area_m2, 3.6, kSlack_m2);
  EXPECT_NEAR(found.witnessed_m2, 6 * 0.3 * 0.6, kSlack_m2);
}

TEST(NamedCase, ARackSeenAlongItsLengthLeavesItsAisleAndHidesTheNextOne) {
  MadeScene scene;
  scene.body(rectangle(1, 2, 2, 12), 0.0, 2.5);
  scene.body(rectangle(-2, 2, -1, 12), 0.0, 2.5);
  for (const double eye_x : {0.0, 1.0}) {  // in the middle of the aisle, and in line with the face of a rack
    const Coverage aisle =
        cover(scene, {drawn(rectangle(-0.9375, 3, 0.9375, 12))}, wide_camera({eye_x, -1.5, 2.6}, 0, -10));
    EXPECT_NEAR(aisle.witnessed_m2, aisle.area_m2, kSlack_m2) << eye_x;
    EXPECT_NEAR(aisle.area_m2, 1.875 * 9.0, 1e-6);
  }
  // The lower end of the band is hidden behind a rack of 2.5 m as far as 17 times its distance. Where x < (y + 1.5) 2 /
  // 3.5 a sight line from the aisle crosses the rack: all of the strip from y = 3.75 on (3.1 m to the side at most).
  const Coverage next = cover(scene, {drawn(rectangle(2.1, 3.75, 3, 12))}, wide_camera({0, -1.5, 2.6}, 0, -10));
  EXPECT_NEAR(next.witnessed_m2, 0.0, kSlack_m2);
  // Between the racks stands what fills them: no place to stand.
  EXPECT_NEAR(cover(scene, {drawn(rectangle(0, 2, 3, 12))}, wide_camera({0, -1.5, 2.6}, 0, -10)).area_m2, 20.0, 1e-6);
}

TEST(NamedCase, GlassIsClearToACameraUntilItsOwnLightComesBackFromIt) {
  MadeScene scene;
  scene.wall({-50, 2}, {50, 2}, 0.0, 3.0).surface = site::Surface::glass;
  scene.building.prisms[0].clear = 1.0;
  Watching camera = watching(wide_camera({0, 0, 2.6}, 0, -20));
  const auto witnessed = [&] {
    return coverage(scene.building, strip_ahead(2.5, 12.5), {camera}, torso_and_head(), 0.0).witnessed_m2;
  };
  EXPECT_NEAR(witnessed(), kStrip_m * 10.0, 1e-6);
  camera.own_light = true;
  camera.light_m = 30.0;
  EXPECT_NEAR(witnessed(), 0.0, kSlack_m2);
  scene.building.prisms.clear();
  EXPECT_NEAR(witnessed(), kStrip_m * 10.0, 1e-6);
  // The light reaches the far end of the band: sqrt(6^2 - 1.7^2) = 5.754 m on the plan, along the middle.
  camera.light_m = 6.0;
  EXPECT_NEAR(witnessed(), kStrip_m * (std::sqrt(36.0 - 1.7 * 1.7) - 2.5), kStrip_m * 0.01);
}

TEST(NamedCase, OpenRackingIsSeenThroughByItsShareAndTwoRowsByItsSquare) {
  MadeScene scene;
  scene.body(rectangle(-50, 3, 50, 4), 0.0, 3.0).surface = site::Surface::mesh;
  scene.building.prisms[0].clear = 0.4;
  const auto witnessed = [&](double clear_pct) {
    Demand demand = torso_and_head();
    demand.clear_pct = clear_pct;
    return cover(scene, strip_ahead(6.5, 12.5), wide_camera({0, 0, 2.6}, 0, -15), demand).witnessed_m2;
  };
  EXPECT_NEAR(witnessed(39.0), kStrip_m * 6.0, 1e-6);
  EXPECT_NEAR(witnessed(41.0), 0.0, 1e-6);
  scene.body(rectangle(-50, 5, 50, 6), 0.0, 3.0).surface = site::Surface::mesh;
  scene.building.prisms[1].clear = 0.4;
  EXPECT_NEAR(witnessed(15.0), kStrip_m * 6.0, 1e-6);
  EXPECT_NEAR(witnessed(17.0), 0.0, 1e-6);
}

/// A wall at y = 3 with a door of 1 m in its middle that may stand open or shut.
MadeScene room_with_door() {
  MadeScene scene;
  scene.wall({-50, 3}, {-0.5, 3}, 0.0, 3.0);
  scene.wall({0.5, 3}, {50, 3}, 0.0, 3.0);
  Prism& door = scene.add(ThingKind::opening, false, {{-0.5, 3}, {0.5, 3}}, 0.0, 3.0);
  door.either = true;
  return scene;
}

TEST(NamedCase, ADoorThatTheDetectorItselfLooksThroughMakesNoBlindPatch) {
  const MadeScene scene = room_with_door();
  const std::vector<AreaSource> area = {watched(rectangle(-3, 1.5, 3, 9), {0, 0, 2.4}, {0, 1}, Hides::all)};
  const Coverage found = cover(scene, area, wide_camera({0, 0, 2.4}, 0, -18));
  // Before the wall 6 x 1.5; behind it the wedge through the door, 0.5 m to a side at 3 m: (9^2 - 3^2) / 6.
  EXPECT_NEAR(found.area_m2, 9.0 + 12.0, kSlack_m2);
  for (const Patch& patch : found.patches)
    for (const auto& corner : patch.outlines.front()) EXPECT_LE(corner.y, 3.001) << "no blind patch behind the door";
}

TEST(NamedCase, ADoorThatOnlyTheCameraLooksThroughMakesAllBehindItBlind) {
  const MadeScene scene = room_with_door();
  // The detector hangs behind the wall; it sees the wedge whatever the door does.
  const std::vector<AreaSource> area = {watched(rectangle(-0.4, 3.5, 0.4, 6), {0, 9, 2.4}, {0, -1}, Hides::all)};
  const Coverage found = cover(scene, area, wide_camera({0, 0, 2.4}, 0, -18));
  EXPECT_NEAR(found.area_m2, 0.8 * 2.5, kSlack_m2);
  EXPECT_NEAR(found.witnessed_m2, 0.0, kSlack_m2);
  // And shows it all where there is no door in the doorway.
  MadeScene without = scene;
  without.building.prisms.pop_back();
  EXPECT_NEAR(cover(without, area, wide_camera({0, 0, 2.4}, 0, -18)).witnessed_m2, 0.8 * 2.5, kSlack_m2);
}

/// Two states in which the detector reaches a place: what holds has to hold in both.
TEST(NamedCase, ARackThatTheDetectorReachesThroughFullOrEmptyHasToBeSeenThroughFull) {
  MadeScene scene;
  Prism& rack = scene.add(ThingKind::block, true, rectangle(-50, 3, 50, 4), 0.0, 3.0);
  rack.surface = site::Surface::mesh;
  rack.clear = 0.5;
  rack.clear_otherwise = 0.9;
  rack.either = true;
  Prism& fence = scene.wall({-50, 2}, {50, 2}, 0.0, 3.0);
  fence.surface = site::Surface::mesh;
  fence.clear = 0.5;
  Demand demand = torso_and_head();
  demand.clear_pct = 30.0;
  // The detector between both sees through the rack, 0.5 or 0.9. The camera before the fence sees through both: 0.25
  // with the rack full is too little; 0.45 with the rack empty would do.
  const std::vector<AreaSource> area = {
      watched(rectangle(-0.25, 6, 0.25, 8), {0, 2.5, 2.4}, {0, 1}, Hides::some, {false, false, false})};
  EXPECT_NEAR(cover(scene, area, wide_camera({0, 0, 2.4}, 0, -15), demand).witnessed_m2, 0.0, kSlack_m2);
  scene.building.prisms[0].clear = 0.7;  // 0.35
  EXPECT_NEAR(cover(scene, area, wide_camera({0, 0, 2.4}, 0, -15), demand).witnessed_m2, 1.0, kSlack_m2);
}

TEST(NamedCase, ACameraInTheLineOfItsWallProvesNothingAsItMayHangOnEitherSide) {
  MadeScene scene;
  scene.wall({0, -5}, {0, 20}, 0.0, 3.0);
  const auto witnessed = [&](const CameraSetup& setup) {
    return cover(scene, {drawn(rectangle(-2, 6, 2, 8))}, setup).witnessed_m2;
  };
  EXPECT_EQ(witnessed(wide_camera({0, 0, 2.6}, 0, -10)), 0.0) << "looks along the wall";
  EXPECT_EQ(witnessed(wide_camera({0, 7, 2.6}, 0, -90)), 0.0) << "looks straight down beside it";
  EXPECT_NEAR(witnessed(wide_camera({0, 0, 2.6}, 5, -10)), 4.0, kSlack_m2 + 0.01) << "turned to the east";
  EXPECT_NEAR(witnessed(wide_camera({0.05, 0, 2.6}, 0, -10)), 4.0, kSlack_m2) << "or drawn where it hangs";
  EXPECT_EQ(witnessed(wide_camera({0, 0, 3.5}, 0, -25)), 8.0) << "above the wall it sees both sides";
}

TEST(NamedCase, AWallAndABlockOfOneNameAreTwoCauses) {
  MadeScene scene;
  scene.wall({-50, 2}, {50, 2}, 0.0, 3.0);
  scene.body(rectangle(-50, 3, 50, 4), 0.0, 3.0);
  scene.building.things = {{ThingKind::wall, "A"}, {ThingKind::block, "A"}};
  // What stands behind the block is behind both; behind the wall alone are the 1 m before it.
  scene.building.prisms[0].surface = site::Surface::mesh;  // so that it casts a shadow of its own
  scene.building.prisms[0].clear = 0.1;
  Demand demand = torso_and_head();
  demand.clear_pct = 50.0;
  const Coverage found = cover(scene, strip_ahead(1.5, 8.0), wide_camera({0, 0, 2.6}, 0, -20), demand);
  double wall = 0.0, block = 0.0;
  for (const Patch& patch : found.patches) {
    for (const Cause& cause : patch.causes) {
      if (cause.why != Why::hidden) continue;
      EXPECT_EQ(cause.thing, "A");
      (cause.thing_kind == ThingKind::wall ? wall : block) += cause.area_m2;
    }
  }
  EXPECT_NEAR(wall, kStrip_m * 5.0, kSlack_m2);
  EXPECT_NEAR(block, kStrip_m * 4.0, kSlack_m2);
}

/// Patches below a foot's size count as witnessed beside what is seen; a camera that shows nothing shows no such patch.
TEST(NamedCase, ACameraThatShowsNothingShowsNoSmallPatchEither) {
  const std::vector<AreaSource> sources = {drawn(rectangle(-2, 4, -1.9, 4.1), "small"),
                                           drawn(rectangle(2, 4, 3, 5), "large")};
  MadeScene scene;
  const auto of = [&](double bearing) {
    return coverage(scene.building, sources, {watching(wide_camera({0, 0, 2.6}, bearing, -20))}, torso_and_head(),
                    0.05);
  };
  EXPECT_NEAR(of(0).witnessed_m2, 1.01, kSlack_m2);
  EXPECT_EQ(of(180).witnessed_m2, 0.0);
  EXPECT_EQ(of(180).patches.size(), 2U);
  EXPECT_NEAR(of(60).witnessed_m2, 1.0, kSlack_m2) << "a button that nobody shows counts, however small";
}

TEST(NamedCase, TheWorstPlaceBetweenTwoCamerasThatFaceEachOtherIsHalfWay) {
  const MadeScene scene;
  const Coverage found = coverage(
      scene.building, {drawn(rectangle(-0.2, 6, 0.2, 14))},
      {watching(wide_camera({0, 0, 1.3}, 0, 0), "south"), watching(wide_camera({0, 20, 1.3}, 180, 0), "north")},
      torso_and_head(), 0.0);
  ASSERT_TRUE(found.worst);
  // Each is denser on its own half; half way both give the focal length over 10 m.
  EXPECT_NEAR(found.worst->px_per_m, kWideFocal_px / 10.0, 0.02 * kWideFocal_px / 10.0);
  EXPECT_NEAR(found.worst->at.y, 10.0, 0.2);
}

/// Both far corners are equally deep. Another library's sine, or another build, may round either deeper: a turn as
/// small as that must not change which of them is told.
TEST(NamedCase, OfTwoPlacesEquallyBadRoundingDoesNotChoose) {
  const MadeScene scene;
  const auto worst = [&](double bearing_deg) {
    return coverage(scene.building, {drawn(rectangle(-4, 6, 4, 14))},
                    {watching(wide_camera({0, 0, 1.3}, bearing_deg, 0))}, torso_and_head(), 0.0)
        .worst;
  };
  const auto straight = worst(0.0);
  ASSERT_TRUE(straight);
  EXPECT_EQ(straight->at.y, 14.0);
  for (const double turned_deg : {-1e-13, 1e-13}) {
    const auto found = worst(turned_deg);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->at, straight->at) << turned_deg;
    EXPECT_NEAR(found->px_per_m, straight->px_per_m, 1e-9);
  }
}

}  // namespace
}  // namespace zoneproof::sight
