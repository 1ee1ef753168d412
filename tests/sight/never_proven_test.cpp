// What must not count as seen: each was once, and would have been proven on the night that it mattered.
#include <gtest/gtest.h>

#include "sight/answers.hpp"
#include "sight/scene.hpp"
#include "sight/small_site.hpp"

namespace zoneproof::sight {
namespace {

constexpr double kNeverSlack_m2 = 0.002;

/// A yard without a ceiling and a hall of 3 m, both on the ground; the camera belongs to the yard.
Coverage hall_from_the_yard(Vector3 eye, double tilt_deg) {
  MadeScene scene;
  scene.building.levels = {"yard", "ground"};
  scene.building.floors = {{"yard", 0.0, std::numeric_limits<double>::infinity()}, {"ground", 0.0, 3.0}};
  Watching camera = watching(wide_camera(eye, 0, tilt_deg));
  camera.level = "yard";
  return coverage(scene.building, {drawn(rectangle(-1, 4, 1, 6))}, {camera}, torso_and_head(), 0.0);
}

TEST(NeverProven, ThroughTheRoofOfAHall) {
  EXPECT_NEAR(hall_from_the_yard({0, 0, 2.6}, -20).witnessed_m2, 4.0, kNeverSlack_m2) << "at the height of a window";
  EXPECT_EQ(hall_from_the_yard({0, 0, 16}, -70).witnessed_m2, 0.0);
}

TEST(NeverProven, AHeadInTheHoleOfTheCeilingAboveAStair) {
  MadeScene scene;
  scene.building.floors[0].ceiling_m = 3.0;
  scene.add(ThingKind::stair, true, rectangle(-1, 4, 1, 5), 0.0, 1.2);
  scene.add(ThingKind::stair, true, rectangle(-1, 5, 1, 6), 0.0, 1.4);
  const Coverage found = coverage(scene.building, {drawn(rectangle(-1, 4, 1, 6))},
                                  {watching(wide_camera({0, 0, 2.6}, 0, -10))}, torso_and_head(), 0.0);
  // On the first step the head is at 2.9 m, on the second at 3.1 m.
  EXPECT_NEAR(found.area_m2, 4.0, kNeverSlack_m2);
  EXPECT_NEAR(found.witnessed_m2, 2.0, kNeverSlack_m2);
}

TEST(NeverProven, WhoStandsOnADockOrUnderAShelf) {
  const auto area_with = [](double bottom, double top) {
    MadeScene scene;
    scene.body(rectangle(-1, 4, 1, 6), bottom, top);
    return coverage(scene.building, {drawn(rectangle(-2, 4, 2, 6))}, {}, torso_and_head(), 0.0).area_m2;
  };
  EXPECT_NEAR(area_with(0.0, 0.1), 8.0, kNeverSlack_m2) << "a dock is stepped on";
  EXPECT_NEAR(area_with(1.65, 2.0), 8.0, kNeverSlack_m2) << "under a shelf one stoops";
  EXPECT_NEAR(area_with(0.0, 0.8), 4.0, kNeverSlack_m2) << "in a counter nobody stands";
}

TEST(NeverProven, OnADarkLevelByACameraOfALitOne) {
  MadeScene scene;
  scene.building.levels = {"shop", "ground"};
  scene.building.floors.push_back({"shop", 0.0, std::numeric_limits<double>::infinity()});
  Watching camera = watching(wide_camera({0, 0, 2.6}, 0, -20));
  camera.level = "shop";
  const auto shown = [&] {
    return coverage(scene.building, {drawn(rectangle(-1, 4, 1, 6))}, {camera}, torso_and_head(), 0.0).witnessed_m2;
  };
  EXPECT_NEAR(shown(), 4.0, kNeverSlack_m2);
  camera.dark_levels = {"ground"};
  EXPECT_EQ(shown(), 0.0) << "without a light of its own";
  camera.light_m = 20.0;
  EXPECT_NEAR(shown(), 4.0, kNeverSlack_m2);
}

TEST(NeverProven, ThroughASlitAtTheHeightOfTheHips) {
  MadeScene scene;
  scene.wall({-50, 2}, {50, 2}, 0.0, 1.1);
  scene.wall({-50, 2}, {50, 2}, 1.3, 3.0);
  Watching camera = watching(wide_camera({0, 0, 1.2}, 0, 0));
  const auto shown_at = [&](double height) {
    camera.only_height_m = height;
    return coverage(scene.building, {drawn(rectangle(-1, 4, 1, 6))}, {camera}, torso_and_head(), 0.0).witnessed_m2;
  };
  EXPECT_EQ(shown_at(0.0), 0.0);
  EXPECT_EQ(shown_at(1.7), 0.0);
  EXPECT_NEAR(shown_at(1.2), 4.0, kNeverSlack_m2) << "somebody is filmed there";
}

TEST(NeverProven, WhatAWallOfUncertainHeightHides) {
  const auto gaps_with = [](const Json& top) {
    Json file = two_yards();
    file["walls"]["w"] = wall(-1, 10, 1, 10, 2.0);
    file["walls"]["w"]["top_m"] = top;
    return building_of(site_of(file)).gaps;
  };
  EXPECT_TRUE(gaps_with({{"value", 2.0}, {"origin", "measured"}}).empty());
  ASSERT_EQ(gaps_with({{"value", 2.0}, {"origin", "assumed"}}).size(), 1U);
  EXPECT_EQ(gaps_with({{"value", 2.0}, {"origin", "assumed"}})[0].reason, "assumed");
  const auto ranged = gaps_with({{"value", 2.0}, {"min", 1.5}, {"max", 2.5}, {"origin", "measured"}});
  ASSERT_EQ(ranged.size(), 1U);
  EXPECT_EQ(ranged[0].reason, "has_range");
}

}  // namespace
}  // namespace zoneproof::sight
