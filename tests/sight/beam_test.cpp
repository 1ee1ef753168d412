// A beam reaches along its line where its sheet, its height and what stands on the line let it, and nothing is proven
// of one of which any of that is not known. The demo is a yard with a beam of 10 m, 1 m high, from south to north; what
// it is there for is a strip of 0.4 m about the middle of its line. People are 1.7 m tall in its rulebook.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sight/answers.hpp"
#include "sight/clear_line.hpp"
#include "sight/scene.hpp"
#include "sight/small_site.hpp"

namespace zoneproof::sight {
namespace {

using chain::Verdict;
using testing::Contains;

Json yard_with_beam() {
  const Json reach = {{"range_m", 20}};
  Json file = yard_with("beam", {{"shape", "beam"}, {"guaranteed", reach}, {"largest", reach}});
  Json& detector = file["detectors"]["d1"];
  detector["mount"]["z_m"] = 1;
  detector["beam_to"] = {{"level", "ground"}, {"x_m", 0}, {"y_m", 10}, {"z_m", 1}};
  file["protected_places"]["p"] = {
      {"name", "Line"}, {"zone", "z1"}, {"level", "ground"}, {"outline", box(-0.2, 3, 0.2, 7)}};
  return file;
}

/// What is told of the place; its gaps as words.
struct Told {
  chain::Evidence evidence;
  std::vector<std::string> gaps;

  explicit Told(const Json& file) {
    const site::Site site = site_of(file);
    const Scene scene(site);
    evidence = sensed(scene, "z1").at(0);
    for (const chain::Gap& gap : evidence.gaps) gaps.push_back(gap.reason + " " + gap.pointer);
  }
  Verdict verdict() const { return evidence.verdict; }
};

Json beam_past(const char* collection, const Json& thing) {
  Json file = yard_with_beam();
  file[collection]["thing"] = thing;
  return file;
}

/// Across the line, off the place.
Json block(double bottom_m, double top_m) {
  return {{"level", "ground"},    {"kind", "other"}, {"outline", box(-1, 8, 1, 9)},
          {"bottom_m", bottom_m}, {"top_m", top_m},  {"fill", "solid"}};
}

TEST(Beam, ReachesAlongAClearLine) {
  const Told told(yard_with_beam());
  EXPECT_EQ(told.verdict(), Verdict::proven);
  EXPECT_THAT(told.gaps, testing::IsEmpty());
}

TEST(Beam, IsCutByWhatStandsAtItsHeightAndByNothingElse) {
  EXPECT_EQ(Told(beam_past("blocks", block(0, 1.2))).verdict(), Verdict::broken);
  EXPECT_EQ(Told(beam_past("blocks", block(0, 0.9))).verdict(), Verdict::proven) << "above a low block";
  EXPECT_EQ(Told(beam_past("blocks", block(1.1, 2.0))).verdict(), Verdict::proven) << "below a shelf";
  EXPECT_EQ(Told(beam_past("walls", wall(-1, 8, 1, 8, 2.0))).verdict(), Verdict::broken);
  EXPECT_EQ(Told(beam_past("walls", wall(-1, 8, 1, 8, 0.9))).verdict(), Verdict::proven);
  EXPECT_EQ(Told(beam_past("walls", wall(0.1, 8, 1, 8, 2.0))).verdict(), Verdict::proven) << "beside it";
  EXPECT_EQ(*Told(beam_past("blocks", block(0, 1.2))).evidence.value, 0.0);
  EXPECT_THAT(Told(beam_past("blocks", block(0, 1.2))).gaps, testing::IsEmpty()) << "all is known of it";
}

TEST(Beam, IsCutByGlassAndByMesh) {
  EXPECT_EQ(Told(beam_past("walls", wall(-1, 8, 1, 8, 2.0, "glass"))).verdict(), Verdict::broken);
  Json mesh = wall(-1, 8, 1, 8, 2.0, "mesh");
  mesh["transmission_pct"] = 90;
  EXPECT_EQ(Told(beam_past("walls", mesh)).verdict(), Verdict::broken);
}

TEST(Beam, IsCutByWhatMayStandThere) {
  Json rack = block(0, 2);
  rack["fill"] = "either";
  rack["transmission_pct"] = 95;
  EXPECT_EQ(Told(beam_past("blocks", rack)).verdict(), Verdict::broken);
  Json file = beam_past("walls", wall(-1, 8, 1, 8, 3.0));
  const auto door = [&](const char* state) {
    file["openings"]["o"] = {{"wall", "thing"}, {"stretch", 1},   {"along_m", 0.5}, {"width_m", 1},   {"sill_m", 0},
                             {"head_m", 2.1},   {"kind", "door"}, {"state", state}, {"leaf", "solid"}};
    return Told(file).verdict();
  };
  EXPECT_EQ(door("closed"), Verdict::broken);
  EXPECT_EQ(door("either"), Verdict::broken);
  EXPECT_EQ(door("open"), Verdict::proven);
}

TEST(Beam, OverOrUnderAPersonReachesNobody) {
  const auto at = [](double from_m, double to_m) {
    Json file = yard_with_beam();
    file["detectors"]["d1"]["mount"]["z_m"] = from_m;
    file["detectors"]["d1"]["beam_to"]["z_m"] = to_m;
    return Told(file).verdict();
  };
  EXPECT_EQ(at(1.6, 1.6), Verdict::proven);
  EXPECT_EQ(at(1.8, 1.8), Verdict::broken);
  EXPECT_EQ(at(1.0, 1.8), Verdict::broken) << "one end is above";
  EXPECT_EQ(at(0.0, 0.0), Verdict::broken) << "on the floor";
}

TEST(Beam, LongerThanItsRangeReachesNothing) {
  const auto with = [](const Json& range) {
    Json file = yard_with_beam();
    file["parts"]["mat"]["detector"]["pattern"]["guaranteed"]["range_m"] = range;
    file["parts"]["mat"]["detector"]["pattern"]["largest"]["range_m"] = 20;
    return Told(file).verdict();
  };
  EXPECT_EQ(with(10), Verdict::proven) << "as long as that";
  EXPECT_EQ(with(9.9), Verdict::broken);
  EXPECT_EQ(with({{"value", 12}, {"min", 9}, {"max", 13}}), Verdict::broken) << "its lower end counts";
  EXPECT_EQ(with({{"value", 12}, {"min", 10}, {"max", 13}}), Verdict::proven);
}

TEST(Beam, WithoutAnotherEndLeavesItOpen) {
  Json file = yard_with_beam();
  file["detectors"]["d1"].erase("beam_to");
  EXPECT_EQ(Told(file).verdict(), Verdict::unanswered);
  EXPECT_THAT(Told(file).gaps, Contains("unknown /detectors/d1/beam_to/level"));
}

std::string name_of(const testing::TestParamInfo<const char*>& datum) {
  std::string name = datum.param;
  std::replace(name.begin(), name.end(), '/', '_');
  return name;
}

/// Data of the yard, by their places: all of them, those with an origin, and the places on the plan.
class BeamDatum : public testing::TestWithParam<const char*> {};
class BeamNumber : public BeamDatum {};
class BeamPlace : public BeamDatum {};

TEST_P(BeamDatum, ThatIsMissingLeavesItOpenAndIsAskedFor) {
  Json file = yard_with_beam();
  const Json::json_pointer at(GetParam());
  file.at(at.parent_pointer()).erase(at.back());
  const Told told(file);
  EXPECT_EQ(told.verdict(), Verdict::unanswered);
  EXPECT_FALSE(told.evidence.value);
  EXPECT_THAT(told.gaps, Contains(std::string("unknown ") + GetParam()));
}

TEST_P(BeamNumber, ThatIsAssumedProvesNothing) {
  Json file = yard_with_beam();
  Json& datum = file.at(Json::json_pointer(GetParam()));
  datum = {{"value", datum}, {"origin", "assumed"}};
  const Told told(file);
  EXPECT_EQ(told.verdict(), Verdict::unanswered);
  EXPECT_THAT(told.gaps, Contains(std::string("assumed ") + GetParam()));
}

TEST_P(BeamPlace, ThatHasARangeProvesNothing) {
  Json file = yard_with_beam();
  Json& datum = file.at(Json::json_pointer(GetParam()));
  datum = {{"value", datum}, {"plus", 0.05}, {"minus", 0.05}};
  const Told told(file);
  EXPECT_EQ(told.verdict(), Verdict::unanswered);
  EXPECT_THAT(told.gaps, Contains(std::string("has_range ") + GetParam()));
}

#define PLACES                                                                                                  \
  "/detectors/d1/mount/x_m", "/detectors/d1/mount/y_m", "/detectors/d1/mount/z_m", "/detectors/d1/beam_to/x_m", \
      "/detectors/d1/beam_to/y_m", "/detectors/d1/beam_to/z_m"
#define RANGE "/parts/mat/detector/pattern/guaranteed/range_m"
INSTANTIATE_TEST_SUITE_P(Of, BeamDatum,
                         testing::Values(RANGE, PLACES, "/detectors/d1/mount/level", "/detectors/d1/beam_to/level"),
                         name_of);
INSTANTIATE_TEST_SUITE_P(Of, BeamNumber, testing::Values(RANGE, PLACES), name_of);
INSTANTIATE_TEST_SUITE_P(Of, BeamPlace, testing::Values(PLACES), name_of);
#undef PLACES
#undef RANGE

constexpr Medium kNothing = {false, false, false};

TEST(ClearLine, PassesWhereNothingStandsAtItsHeight) {
  MadeScene scene;
  scene.wall({-1, 2}, {1, 2}, 0.0, 1.0);
  EXPECT_TRUE(clear_line(scene.building, {0, 0, 1.2}, {0, 4, 1.2}, kNothing));
  EXPECT_FALSE(clear_line(scene.building, {0, 0, 0.8}, {0, 4, 0.8}, kNothing));
  EXPECT_FALSE(clear_line(scene.building, {0, 0, 1.6}, {0, 4, 0.0}, kNothing)) << "0.8 m above the floor there";
}

/// A wall of any direction, whose rounding puts the device a hair before or behind it.
TEST(ClearLine, WhatADeviceIsFixedToIsBehindIt) {
  for (double degrees = 0.0; degrees < 360.0; degrees += 7.3) {
    const double c = std::cos(degrees * std::numbers::pi / 180.0), s = std::sin(degrees * std::numbers::pi / 180.0);
    MadeScene scene;
    scene.wall({-3.1 * c, -3.1 * s}, {1.7 * c, 1.7 * s}, 0.0, 3.0);
    const Vector3 on_it = {0.9 * c, 0.9 * s, 1.0}, before = {0.9 * c - 4.0 * s, 0.9 * s + 4.0 * c, 1.0};
    EXPECT_TRUE(clear_line(scene.building, on_it, before, kNothing)) << degrees;
    EXPECT_TRUE(clear_line(scene.building, before, on_it, kNothing)) << degrees;
    const Vector3 behind = {0.9 * c + 0.1 * s, 0.9 * s - 0.1 * c, 1.0};
    EXPECT_FALSE(clear_line(scene.building, behind, before, kNothing)) << degrees;
  }
}

/// In from above, out below: at x 0.5 and 1.5 the line is at 2.5 and 1.5 m.
TEST(ClearLine, AShelfIsMetThoughNoneOfItsSidesIs) {
  MadeScene scene;
  scene.body(rectangle(0.5, -1, 1.5, 1), 1.9, 2.1);
  EXPECT_FALSE(clear_line(scene.building, {0, 0, 3}, {2, 0, 1}, kNothing));
  EXPECT_TRUE(clear_line(scene.building, {0, 0, 3.8}, {2, 0, 2.2}, kNothing)) << "over it";
  EXPECT_TRUE(clear_line(scene.building, {0, 0, 1.8}, {2, 0, 1.8}, kNothing)) << "under it";
  EXPECT_TRUE(clear_line(scene.building, {1, 0, 2.1}, {1, 3, 2.1}, kNothing)) << "from on top of it";
  EXPECT_FALSE(clear_line(scene.building, {1, 0, 1.2}, {1, 0.1, 2.8}, kNothing)) << "almost upright";
}

TEST(ClearLine, PassesTheNotchOfABody) {
  MadeScene scene;
  scene.body({{0, 0}, {3, 0}, {3, 2}, {2, 2}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}, 0.0, 2.0);
  EXPECT_TRUE(clear_line(scene.building, {1.5, 1.5, 1}, {1.5, 4, 1}, kNothing)) << "out of the notch";
  EXPECT_FALSE(clear_line(scene.building, {1.5, 1.5, 1}, {4, 1.5, 1}, kNothing)) << "through one of its arms";
  EXPECT_TRUE(clear_line(scene.building, {0, 2.001, 1}, {3, 2.001, 1}, kNothing)) << "along its ends";
}

}  // namespace
}  // namespace zoneproof::sight
