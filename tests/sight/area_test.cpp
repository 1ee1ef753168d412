// Where somebody may stand who makes a zone alarm. Areas are held against the closed formulas of a circle's sector and
// ring, a trapezium and a rectangle (any book of mensuration); of a pattern the guaranteed outline may never reach
// beyond the true one and the largest never stay within it.
#include "sight/area.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "sight/answers.hpp"
#include "sight/scene.hpp"
#include "sight/small_site.hpp"

namespace zoneproof::sight {
namespace {

using plane::Point;
using site::Origin;
using site::PatternShape;
using site::Value;

constexpr double kChord_m = 0.005;  ///< as pattern.hpp promises
constexpr double kPi = std::numbers::pi;

double area_of(const Outlines& outlines) {
  double twice = 0.0;
  for (const auto& ring : outlines)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Point a = ring[i], b = ring[(i + 1) % ring.size()];
      twice += a.x * b.y - b.x * a.y;
    }
  return twice / 2.0;
}

Value exactly(double value) { return Value::exactly(value, Origin::data_sheet); }

/// A pattern that covers a body from the floor to 3 m as far as its rows go.
site::PatternSpec pattern(PatternShape shape, double range, double angle_deg, double width) {
  site::PatternSpec spec;
  spec.shape.value = shape;
  for (site::Reach* reach : {&spec.guaranteed, &spec.largest}) {
    reach->range_m = exactly(range);
    reach->angle_deg = exactly(angle_deg);
    reach->width_m = exactly(width);
  }
  spec.profile = {{exactly(0), exactly(0), exactly(3)}, {exactly(100), exactly(0), exactly(3)}};
  return spec;
}

constexpr Body kBody = {0.8, 1.4};
constexpr Point kAt = {3.0, -2.0};

double bearing_of(Point p) { return std::atan2(p.x - kAt.x, p.y - kAt.y) * 180.0 / kPi; }
double distance_of(Point p) { return std::hypot(p.x - kAt.x, p.y - kAt.y); }

/// Calls with every corner and with places between neighbours.
template <class Each>
void along(const std::vector<Point>& ring, const Each& each) {
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point a = ring[i], b = ring[(i + 1) % ring.size()];
    for (const double share : {0.0, 0.25, 0.5, 0.75}) each(Point{a.x + share * (b.x - a.x), a.y + share * (b.y - a.y)});
  }
}

class Fan : public testing::TestWithParam<std::pair<double, double>> {};

TEST_P(Fan, HasTheAreaOfItsSectorWithinItsChords) {
  const auto [range, angle] = GetParam();
  const site::PatternSpec spec = pattern(PatternShape::fan, range, angle, 0);
  const double true_area = range * range * angle * kPi / 180.0 / 2.0, band = range * angle * kPi / 180.0 * kChord_m;
  const Outlines inner = pattern_outlines(spec, Extent::guaranteed, kBody, kAt, 60.0);
  const Outlines outer = pattern_outlines(spec, Extent::largest, kBody, kAt, 60.0);
  ASSERT_EQ(inner.size(), 1U);
  ASSERT_EQ(outer.size(), 1U);
  EXPECT_LE(area_of(inner), true_area);
  EXPECT_GE(area_of(inner), true_area - band);
  EXPECT_GE(area_of(outer), true_area);
  EXPECT_LE(area_of(outer), true_area + 1.01 * band);
  along(inner[0], [&](Point p) {
    EXPECT_LE(distance_of(p), range + 1e-9);
    if (distance_of(p) > 1e-6) {
      EXPECT_LE(std::abs(std::remainder(bearing_of(p) - 60.0, 360.0)), angle / 2.0 + 1e-9);
    }
  });
  along(outer[0], [&](Point p) {
    const bool on_a_side = std::abs(std::abs(std::remainder(bearing_of(p) - 60.0, 360.0)) - angle / 2.0) < 1e-9;
    if (distance_of(p) > 1e-6 && !on_a_side) {
      EXPECT_GE(distance_of(p), range - 1e-9);
      EXPECT_LE(distance_of(p), range + kChord_m + 1e-9);
    }
  });
}
INSTANTIATE_TEST_SUITE_P(Pattern, Fan,
                         testing::Values(std::pair(12.0, 85.0), std::pair(16.0, 110.0), std::pair(5.0, 200.0),
                                         std::pair(40.0, 6.0), std::pair(1.5, 359.0)));

TEST(Pattern, ADiscAndItsHole) {
  site::PatternSpec spec = pattern(PatternShape::ceiling, 6.0, 0, 0);
  for (const double hole : {0.0, 1.5}) {
    spec.near_m = hole > 0.0 ? exactly(hole) : Value::absent();
    const double outer = kPi * 36.0, ring = outer - kPi * hole * hole;
    const double guaranteed = area_of(pattern_outlines(spec, Extent::guaranteed, kBody, kAt, 0.0));
    EXPECT_LE(guaranteed, ring);
    EXPECT_GE(guaranteed, ring - 2.0 * kPi * (6.0 + hole) * 1.01 * kChord_m);
    // Beyond its foot it is only said where it surely detects.
    const double largest = area_of(pattern_outlines(spec, Extent::largest, kBody, kAt, 0.0));
    EXPECT_GE(largest, outer);
    EXPECT_LE(largest, outer + 2.0 * kPi * 6.0 * 1.01 * kChord_m);
  }
}

/// 0 to 15 m long, widening to 1.2 m: a triangle; cut at 3 m, a trapezium of 0.24 m and 1.2 m.
TEST(Pattern, ACurtainWidensToItsFarEnd) {
  site::PatternSpec spec = pattern(PatternShape::curtain, 15.0, 0, 1.2);
  EXPECT_NEAR(area_of(pattern_outlines(spec, Extent::largest, kBody, kAt, 200.0)), 15.0 * 1.2 / 2.0, 1e-9);
  spec.near_m = exactly(3.0);
  const Outlines cut = pattern_outlines(spec, Extent::guaranteed, kBody, kAt, 200.0);
  EXPECT_NEAR(area_of(cut), 12.0 * (0.24 + 1.2) / 2.0, 1e-9);
  for (const Point p : cut.at(0)) EXPECT_LT(std::abs(std::remainder(bearing_of(p) - 200.0, 360.0)), 2.3);
}

TEST(Pattern, TheCarefulEndOfARangeCounts) {
  site::PatternSpec spec = pattern(PatternShape::fan, 12.0, 90.0, 0);
  for (site::Reach* reach : {&spec.guaranteed, &spec.largest})
    reach->range_m = Value::between(10.0, 12.0, 13.0, Origin::data_sheet);
  EXPECT_LE(area_of(pattern_outlines(spec, Extent::guaranteed, kBody, kAt, 0)), kPi * 100.0 / 4.0);
  EXPECT_GE(area_of(pattern_outlines(spec, Extent::largest, kBody, kAt, 0)), kPi * 169.0 / 4.0);
}

std::vector<std::pair<double, double>> covered(const site::PatternSpec& spec, Extent extent, const Body& body,
                                               double range) {
  std::vector<std::pair<double, double>> found;
  for (const Distances& one : distances_covered(spec, extent, body, range)) found.emplace_back(one.from_m, one.to_m);
  return found;
}

/// Falls from 2.2 m at its foot to the floor at 10 m: it is at 1.4 m at 8 / 2.2 and at 0.8 m at 14 / 2.2 m. Between its
/// edges, 0.2 m apart in height, it covers some of a body at 0.8 to 1.4 m until its upper one is at 0.8 m.
TEST(Profile, RowsAreJoinedByStraightLines) {
  site::PatternSpec spec = pattern(PatternShape::fan, 12, 90, 0);
  spec.profile = {{exactly(0), exactly(2.2), exactly(2.4)}, {exactly(10), exactly(0), exactly(0.2)}};
  const auto found = covered(spec, Extent::guaranteed, kBody, 12.0);
  ASSERT_EQ(found.size(), 1U);
  EXPECT_NEAR(found[0].first, 8.0 / 2.2, 1e-12);
  EXPECT_NEAR(found[0].second, 16.0 / 2.2, 1e-12);
  // For the largest area nothing is said beyond 10 m: it may cover somebody there. (Not before its first row either.)
  const auto largest = covered(spec, Extent::largest, kBody, 12.0);
  ASSERT_EQ(largest.size(), 2U);
  EXPECT_EQ(largest[1], std::pair(10.0, 12.0));
  // Its near limit and its range cut.
  spec.near_m = exactly(5.0);
  EXPECT_NEAR(covered(spec, Extent::guaranteed, kBody, 6.0).at(0).first, 5.0, 1e-12);
  EXPECT_NEAR(covered(spec, Extent::guaranteed, kBody, 6.0).at(0).second, 6.0, 1e-12);
  EXPECT_NEAR(covered(spec, Extent::largest, kBody, 6.0).at(0).first, 8.0 / 2.2, 1e-12);
}

TEST(Profile, ADetectorThatLooksUnderAndOverBodiesHasGaps) {
  site::PatternSpec spec = pattern(PatternShape::fan, 12, 90, 0);
  spec.profile = {{exactly(0), exactly(1), exactly(1.2)},
                  {exactly(2), exactly(2), exactly(2.2)},  // over: leaves the body at 0.8 m of the way
                  {exactly(6), exactly(2), exactly(2.2)},
                  {exactly(8), exactly(1), exactly(1.2)}};
  const auto found = covered(spec, Extent::guaranteed, kBody, 12.0);
  ASSERT_EQ(found.size(), 2U);
  EXPECT_NEAR(found[0].second, 0.8, 1e-12);
  EXPECT_NEAR(found[1].first, 7.2, 1e-12);
  EXPECT_NEAR(found[1].second, 8.0, 1e-12);
}

TEST(Profile, WithoutRowsNothingIsGuaranteedAndEverythingPlausible) {
  site::PatternSpec spec = pattern(PatternShape::fan, 12, 90, 0);
  spec.profile.clear();
  EXPECT_TRUE(covered(spec, Extent::guaranteed, kBody, 12.0).empty());
  EXPECT_THAT(covered(spec, Extent::largest, kBody, 12.0), testing::ElementsAre(std::pair(0.0, 12.0)));
}

/// A row of which a height is missing tells nothing: a line past it would be a guess.
TEST(Profile, AroundARowThatIsNotKnownNothingIsGuaranteedAndEverythingPlausible) {
  site::PatternSpec spec = pattern(PatternShape::fan, 12, 90, 0);
  spec.profile = {{exactly(0), exactly(0), exactly(2)},
                  {exactly(2), exactly(0), exactly(2)},
                  {exactly(4), Value{}, exactly(2)},
                  {exactly(6), exactly(0), exactly(2)},
                  {exactly(8), exactly(0), exactly(2)}};
  EXPECT_THAT(covered(spec, Extent::guaranteed, kBody, 12.0),
              testing::ElementsAre(std::pair(0.0, 2.0), std::pair(6.0, 8.0)));
  for (site::PatternRow& row : spec.profile)
    if (row.lowest_m.known()) row.lowest_m = exactly(1.9);
  EXPECT_THAT(covered(spec, Extent::largest, kBody, 12.0),
              testing::ElementsAre(std::pair(2.0, 6.0), std::pair(8.0, 12.0)));
}

TEST(Profile, TheCarefulEndOfAHeightCounts) {
  site::PatternSpec spec = pattern(PatternShape::fan, 12, 90, 0);
  const Value upper = Value::between(0.7, 0.9, 1.0, Origin::data_sheet);  // over or under hips at 0.8 m
  spec.profile = {{exactly(0), exactly(0), upper}, {exactly(10), exactly(0), upper}};
  EXPECT_TRUE(covered(spec, Extent::guaranteed, kBody, 10.0).empty());
  EXPECT_THAT(covered(spec, Extent::largest, Body{0.95, 1.7}, 10.0), testing::ElementsAre(std::pair(0.0, 10.0)));
}

TEST(Strip, HasABodysWidthAlongABeam) {
  const std::vector<Point> along_beam = strip({1, 1}, {4, 5}, 0.5);
  EXPECT_NEAR(area_of({along_beam}), 5.0 * 0.5, 1e-12);
  EXPECT_NEAR(area_of({strip({1, 1}, {1, 1}, 0.5)}), 0.25, 1e-12) << "of no length";
}

/// Everything of a body from its foot to 12 m, 90 degrees wide, in both extents.
Json wide_fan() {
  const Json reach = {{"range_m", 12}, {"angle_deg", 90}};
  return {{"shape", "fan"},
          {"mount_min_m", 2.1},
          {"mount_max_m", 2.4},
          {"near_m", "none"},
          {"guaranteed", reach},
          {"largest", reach},
          {"profile", Json::array({{{"distance_m", 0}, {"lowest_m", 0}, {"highest_m", 2.3}},
                                   {{"distance_m", 12}, {"lowest_m", 0}, {"highest_m", 2.3}}})}};
}

struct Read {
  site::Site site;
  Building building;
  ZoneArea area;
  std::vector<std::string> gaps;

  explicit Read(const Json& file, Extent extent = Extent::largest) : site(site_of(file)), building(building_of(site)) {
    area = area_of_zone(site, building, people_of(site), "z1", extent);
    for (const chain::Gap& gap : area.gaps) gaps.push_back(gap.reason + " " + gap.pointer);
  }
  /// As the building cuts it, of the largest area.
  Coverage cut() const { return coverage(building, area.sources, {}, torso_and_head(), 0.0); }
  /// What of a wanted outline is reached for sure.
  double reached_m2(const std::vector<Point>& wanted) const {
    return reached(building, area.sources, {wanted}, "ground", {0.9, 1.7, 1.6, 50.0}, 0.0).witnessed_m2;
  }
};

constexpr double kSector_m2 = 144.0 * kPi / 4.0;
constexpr double kBand_m2 = 12.0 * kPi / 2.0 * 0.0052;

TEST(AreaOfZone, AFanInTheOpenIsItsSector) {
  const Read read(yard_with("passive_infrared", wide_fan()));
  EXPECT_THAT(read.gaps, testing::IsEmpty());
  EXPECT_NEAR(read.cut().area_m2, kSector_m2, kBand_m2);
}

/// Glass 5 m before it: heat ends there. Behind it nobody is detected; before it lies a right triangle of 5 m height.
TEST(AreaOfZone, APassiveInfraredDoesNotReachBehindGlass) {
  for (const char* surface : {"glass", "solid"}) {
    Json file = yard_with("passive_infrared", wide_fan());
    file["walls"]["w"] = wall(-20, 5, 20, 5, 4.0, surface);
    EXPECT_NEAR(Read(file).cut().area_m2, 25.0, 0.005) << surface;
    const Read sure(file, Extent::guaranteed);
    EXPECT_NEAR(sure.reached_m2(rectangle(-1, 2, 1, 4)), 4.0, 0.001) << surface;
    EXPECT_NEAR(sure.reached_m2(rectangle(-1, 6, 1, 8)), 0.0, 0.001) << surface;
  }
}

TEST(AreaOfZone, ADualDetectorNeedsHeatAsWell) {
  Json file = yard_with("dual", wide_fan());
  file["walls"]["w"] = wall(-20, 5, 20, 5, 4.0, "glass");
  EXPECT_NEAR(Read(file).cut().area_m2, 25.0, 0.005);
}

/// Waves may pass: they count for what must be shown and not for what is surely detected.
TEST(AreaOfZone, TheLargestAreaOfAMicrowaveReachesBehindGlassAndThinWalls) {
  for (const char* surface : {"glass", "solid"}) {
    Json file = yard_with("microwave", wide_fan());
    file["walls"]["w"] = wall(-20, 5, 20, 5, 4.0, surface);
    EXPECT_NEAR(Read(file).cut().area_m2, kSector_m2, kBand_m2) << surface;
    EXPECT_NEAR(Read(file, Extent::guaranteed).reached_m2(rectangle(-1, 6, 1, 8)), 0.0, 0.001) << surface;
  }
}

/// Over a counter of 1.1 m at 2 m from 2.3 m: at 8 m one looks at 2.3 - 1.2 * 4 < 0, so all of a trunk is seen near and
/// somebody's head everywhere. A line from 2.3 m to 0.8 m passes 2 m at 2.3 - 3 / D: above 1.1 for D > 2.5.
TEST(AreaOfZone, WhatHidesATrunkIsNotGuaranteedAndAHeadIsPlausible) {
  Json file = yard_with("passive_infrared", wide_fan());
  file["walls"]["w"] = wall(-20, 2, 20, 2, 1.1);
  EXPECT_NEAR(Read(file).cut().area_m2, kSector_m2, kBand_m2);
  const Read sure(file, Extent::guaranteed);
  EXPECT_NEAR(sure.reached_m2(rectangle(-0.5, 2, 0.5, 2.5)), 0.0, 0.002);
  EXPECT_NEAR(sure.reached_m2(rectangle(-0.5, 2.5, 0.5, 4)), 1.5, 0.002);
}

TEST(AreaOfZone, ABeamIsAStripAlongItsLine) {
  Json file = yard_with("beam", {{"shape", "beam"}});
  file["detectors"]["d1"]["beam_to"] = {{"level", "ground"}, {"x_m", 6}, {"y_m", 8}, {"z_m", 1}};
  const Read read(file);
  EXPECT_THAT(read.gaps, testing::IsEmpty());
  EXPECT_NEAR(read.cut().area_m2, 10.0 * 0.5, 0.003);
}

/// A wall from west to east with a door of 1.2 m: the approach is 1 m deep on either side, and either will do.
Json yard_with_door() {
  Json file = yard_with("magnetic_contact", {{"shape", "opening"}});
  file["walls"]["w"] = wall(-4, 5, 4, 5, 3.0);
  file["openings"]["o"] = {{"wall", "w"},   {"stretch", 1},   {"along_m", 3},      {"width_m", 1.2}, {"sill_m", 0},
                           {"head_m", 2.1}, {"kind", "door"}, {"state", "closed"}, {"leaf", "solid"}};
  file["detectors"]["d1"]["opening"] = "o";
  return file;
}

TEST(AreaOfZone, AContactIsTheApproachToItsOpeningOnEitherSide) {
  const Read read(yard_with_door());
  EXPECT_THAT(read.gaps, testing::IsEmpty());
  ASSERT_EQ(read.area.sources.size(), 2U);
  EXPECT_EQ(read.area.sources[0].side, 1);
  EXPECT_EQ(read.area.sources[1].side, 2);
  for (const AreaSource& source : read.area.sources) {
    EXPECT_EQ(source.id, "d1");
    EXPECT_EQ(source.opening, "o");
    EXPECT_EQ(source.opens, std::vector<std::string>{"o"});
    EXPECT_NEAR(area_of(source.outlines), 1.2, 1e-9) << "counter-clockwise";
    for (const Point p : source.outlines[0]) {
      EXPECT_TRUE(std::abs(p.x + 1.0) < 1e-9 || std::abs(p.x - 0.2) < 1e-9);
      EXPECT_TRUE(source.side == 1 ? p.y >= 5.0 : p.y <= 5.0) << "left of a wall that goes east is north";
    }
  }
  EXPECT_NEAR(read.cut().area_m2, 1.2, 0.002) << "one of them counts";
  const auto ends = ends_of_opening(read.site, "o");
  ASSERT_TRUE(ends);
  EXPECT_NEAR(ends->first.x, -1.0, 1e-12);
  EXPECT_NEAR(ends->second.x, 0.2, 1e-12);
}

TEST(AreaOfZone, WhatSomebodyDrewOverridesThePattern) {
  Json file = yard_with("passive_infrared", wide_fan());
  file["walls"]["w"] = wall(-20, 5, 20, 5, 4.0, "glass");
  Json drawn_area = box(-2, 4, 2, 7);
  std::reverse(drawn_area.begin(), drawn_area.end());  // clockwise
  file["detectors"]["d1"]["watched"] = drawn_area;
  const Read read(file);
  EXPECT_NEAR(read.cut().area_m2, 12.0, 0.001) << "as drawn: no wall cuts it";
  ASSERT_EQ(read.area.sources.size(), 1U);
  EXPECT_EQ(read.area.sources[0].pointer, "/detectors/d1/watched");
  EXPECT_NEAR(area_of(read.area.sources[0].outlines), 12.0, 1e-9) << "counter-clockwise";
}

struct Missing {
  const char* name;
  const char* gone;
  const char* gap;
};
class AreaLacks : public testing::TestWithParam<Missing> {};

TEST_P(AreaLacks, ANumberAndItIsNamed) {
  Json file = yard_with("passive_infrared", wide_fan());
  const Json::json_pointer at(GetParam().gone);
  file.at(at.parent_pointer()).erase(at.back());
  const Read read(file);
  EXPECT_THAT(read.gaps, testing::Contains(GetParam().gap));
  EXPECT_TRUE(read.area.sources.empty());
}
INSTANTIATE_TEST_SUITE_P(
    Of, AreaLacks,
    testing::Values(Missing{"place", "/detectors/d1/mount/x_m", "unknown /detectors/d1/mount/x_m"},
                    Missing{"height", "/detectors/d1/mount/z_m", "unknown /detectors/d1/mount/z_m"},
                    Missing{"bearing", "/detectors/d1/mount/bearing_deg", "unknown /detectors/d1/mount/bearing_deg"},
                    Missing{"tilt", "/detectors/d1/mount/tilt_deg", "unknown /detectors/d1/mount/tilt_deg"},
                    Missing{"level", "/detectors/d1/mount/level", "unknown /detectors/d1/mount/level"},
                    Missing{"part", "/detectors/d1/part", "unknown /detectors/d1/part"},
                    Missing{"shape", "/parts/mat/detector/pattern/shape", "unknown /parts/mat/detector/pattern"},
                    Missing{"range", "/parts/mat/detector/pattern/largest/range_m",
                            "unknown /parts/mat/detector/pattern/largest/range_m"},
                    Missing{"angle", "/parts/mat/detector/pattern/largest/angle_deg",
                            "unknown /parts/mat/detector/pattern/largest/angle_deg"},
                    Missing{"technology", "/parts/mat/detector/technology", "unknown /parts/mat/detector/technology"},
                    Missing{"contacts", "/zones/z1/loop/contacts", "unknown /zones/z1/loop/contacts"}),
    [](const auto& one) { return std::string(one.param.name); });

/// Where a pattern begins and what its rows say is asked for: without it more or less would be reached for sure.
TEST(GuaranteedArea, AsksWhereItBeginsAndForItsRows) {
  for (const char* gone : {"/parts/mat/detector/pattern/near_m", "/parts/mat/detector/pattern/profile/1/lowest_m"}) {
    Json file = yard_with("passive_infrared", wide_fan());
    EXPECT_THAT(Read(file, Extent::guaranteed).gaps, testing::IsEmpty());
    const Json::json_pointer at(gone);
    file.at(at.parent_pointer()).erase(at.back());
    EXPECT_THAT(Read(file, Extent::guaranteed).gaps, testing::Contains(std::string("unknown ") + gone));
  }
}

/// What a detector covers is computed with nominal numbers: of one that may be another, or that nobody measured,
/// nothing is proven, neither what it reaches nor that all of it is shown.
class DetectorHangs : public testing::TestWithParam<const char*> {
 protected:
  /// The verdicts of what is reached and of what is witnessed with another number, and whether both ask for it.
  static void expect_open(const Json& number, const std::string& gap) {
    Json file = yard_with("passive_infrared", wide_fan());
    file["protected_places"]["p"] = {{"zone", "z1"}, {"level", "ground"}, {"outline", box(-1, 4, 1, 6)}};
    // All of the fan before a camera that hangs behind it.
    file["cameras"]["c1"]["mount"]["y_m"] = -14;
    const auto told = [&](const char* id) {
      for (const chain::Evidence& one : sight_answers(site_of(file), "z1"))
        if (one.id == id) return one;
      ADD_FAILURE() << "nothing is told of " << id;
      return chain::Evidence{};
    };
    for (const char* id : {"coverage", "witnessed"}) EXPECT_EQ(told(id).verdict, chain::Verdict::proven) << id;
    file["detectors"]["d1"]["mount"][GetParam()] = number;
    for (const char* id : {"coverage", "witnessed"}) {
      const chain::Evidence now = told(id);
      EXPECT_EQ(now.verdict, chain::Verdict::unanswered) << id;
      std::vector<std::string> gaps;
      for (const chain::Gap& one : now.gaps) gaps.push_back(one.reason + " " + one.pointer);
      EXPECT_THAT(gaps, testing::Contains(gap + " /detectors/d1/mount/" + GetParam())) << id;
    }
  }
  static double nominal() { return std::string(GetParam()) == "z_m" ? 2.3 : 0.0; }
};

TEST_P(DetectorHangs, WhereIsNotKnown) { expect_open(nullptr, "unknown"); }
TEST_P(DetectorHangs, WhereIsAssumed) { expect_open({{"value", nominal()}, {"origin", "assumed"}}, "assumed"); }
TEST_P(DetectorHangs, WhereHasARange) {
  expect_open({{"value", nominal()}, {"plus", 0.02}, {"minus", 0.02}}, "has_range");
}
INSTANTIATE_TEST_SUITE_P(By, DetectorHangs, testing::Values("x_m", "y_m", "z_m", "bearing_deg", "tilt_deg"),
                         [](const auto& one) { return std::string(one.param); });

/// Its sheet gives the pattern of one that hangs level.
TEST(DetectorTilt, ThatIsNotLevelLeavesItOpen) {
  Json file = yard_with("passive_infrared", wide_fan());
  file["detectors"]["d1"]["mount"]["tilt_deg"] = -3;
  EXPECT_THAT(Read(file).gaps, testing::ElementsAre("undecided /detectors/d1/mount/tilt_deg"));
}

TEST(DetectorRange, ThatIsAssumedIsToldAndOneWithARangeCountsByItsCarefulEnd) {
  Json file = yard_with("passive_infrared", wide_fan());
  Json& pattern = file["parts"]["mat"]["detector"]["pattern"];
  for (const char* extent : {"guaranteed", "largest"})
    pattern[extent]["range_m"] = {{"value", 12}, {"origin", "assumed"}};
  EXPECT_THAT(Read(file).gaps, testing::ElementsAre("assumed /parts/mat/detector/pattern/largest/range_m"));
  EXPECT_THAT(Read(file, Extent::guaranteed).gaps,
              testing::ElementsAre("assumed /parts/mat/detector/pattern/guaranteed/range_m"));
  pattern["guaranteed"]["range_m"] = {{"value", 10}, {"min", 5}, {"max", 11}};
  pattern["largest"]["range_m"] = 12;
  const Read sure(file, Extent::guaranteed);
  EXPECT_THAT(sure.gaps, testing::IsEmpty());
  EXPECT_NEAR(sure.reached_m2(rectangle(-0.5, 5.1, 0.5, 6)), 0.0, 0.001);
}

TEST(Watched, AnOutlineThatHasARangeIsTold) {
  Json file = two_yards();
  file["detectors"]["d1"]["watched"][0]["x_m"] = {{"value", -1}, {"plus", 0.2}, {"minus", 0.2}};
  EXPECT_THAT(Read(file).gaps, testing::ElementsAre("has_range /detectors/d1/watched/0/x_m"));
}

/// It is there, and reaches nothing: nothing more is asked for, least of all contacts.
TEST(AreaOfZone, ADetectorThatReachesNothingIsNoGap) {
  const Json reach = {{"range_m", 1}};
  Json file = yard_with_door();
  file["parts"]["mat"]["detector"] = {{"technology", "glass_break"},
                                      {"contacts", {{"alarm", {{"reports", "alarm"}}}}},
                                      {"pattern", {{"shape", "panes"}, {"guaranteed", reach}, {"largest", reach}}}};
  file["detectors"]["d1"].erase("opening");
  file["detectors"]["d1"]["panes"] = Json::array({"o"});
  const Read far(file, Extent::guaranteed);
  EXPECT_THAT(far.gaps, testing::IsEmpty());
  EXPECT_TRUE(far.area.sources.empty());
}

}  // namespace
}  // namespace zoneproof::sight
