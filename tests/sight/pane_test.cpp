// A pane is covered where its glass-break detector hears it: within the range of its sheet to the farther end, on the
// same storey, and with a clear line to its middle. The detector hangs at (0, 1), 2.3 m high; the pane, 1.2 m wide, is
// in a wall 4 m before it, its middle at (-0.4, 5) and 1.5 m high: 4.1 m away, its ends 4.2 m (4, 1 and 0.8) and 4.084
// m.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "sight/answers.hpp"
#include "sight/small_site.hpp"

namespace zoneproof::sight {
namespace {

using chain::Verdict;
using testing::Contains;

Json room_with_pane() {
  const Json reach = {{"range_m", 7.5}};
  Json file = yard_with("glass_break", {{"shape", "panes"}, {"guaranteed", reach}, {"largest", reach}});
  file["levels"]["ground"]["ceiling_m"] = 3;
  file["walls"]["w"] = wall(-4, 5, 4, 5, 3.0);
  file["openings"]["o"] = {{"wall", "w"},   {"stretch", 1},     {"along_m", 3},      {"width_m", 1.2}, {"sill_m", 0.9},
                           {"head_m", 2.1}, {"kind", "window"}, {"state", "closed"}, {"leaf", "glass"}};
  file["detectors"]["d1"]["mount"]["y_m"] = 1;
  file["detectors"]["d1"]["panes"] = Json::array({"o"});
  file["protected_places"]["p"] = {{"zone", "z1"}, {"opening", "o"}};
  return file;
}

struct Told {
  chain::Evidence evidence;
  bool heard = false;
  std::vector<std::string> gaps;

  explicit Told(const Json& file) {
    const site::Site site = site_of(file);
    const Scene scene(site);
    std::vector<chain::Gap> of_hearing;
    heard = hears(site, scene.building(), "d1", "o", of_hearing);
    evidence = sensed(scene, "z1").at(0);
    for (const chain::Gap& gap : evidence.gaps) gaps.push_back(gap.reason + " " + gap.pointer);
  }
};

/// It is heard and proven, or neither; nothing is left to ask for.
void expect_heard(const Json& file, bool heard, const char* why) {
  const Told told(file);
  EXPECT_EQ(told.heard, heard) << why;
  EXPECT_EQ(told.evidence.verdict, heard ? Verdict::proven : Verdict::broken) << why;
  EXPECT_THAT(told.gaps, testing::IsEmpty()) << why;
}

TEST(Pane, InRangeAndInSightIsHeard) { expect_heard(room_with_pane(), true, "as it stands"); }

TEST(Pane, OutOfRangeIsNotHeard) {
  Json file = room_with_pane();
  Json& range = file["parts"]["mat"]["detector"]["pattern"]["guaranteed"]["range_m"];
  range = 4.21;
  expect_heard(file, true, "all of it");
  range = 4.15;
  expect_heard(file, false, "its farther end is not within it");
  file["detectors"]["d1"]["mount"]["x_m"] = -0.8;
  expect_heard(file, false, "nor from beside the other end");
  range = {{"value", 5}, {"min", 4.15}, {"max", 7}};
  expect_heard(file, false, "the lower end of the range counts");
}

/// On its way to the pane the line is at 1.9 m where it passes y = 3.
TEST(Pane, BehindAWallIsNotHeard) {
  Json file = room_with_pane();
  const auto behind = [&](const Json& thing) {
    file["walls"]["inner"] = thing;
    return file;
  };
  expect_heard(behind(wall(-4, 3, 4, 3, 3.0)), false, "a wall");
  expect_heard(behind(wall(-4, 3, 4, 3, 1.8)), true, "over a low wall");
  expect_heard(behind(wall(-4, 3, 4, 3, 3.0, "glass")), false, "another pane: another room");
  Json grille = wall(-4, 3, 4, 3, 3.0, "mesh");
  grille["transmission_pct"] = 40;
  expect_heard(behind(grille), true, "a grille");
  file["walls"].erase("inner");
  file["blocks"]["shelf"] = {{"level", "ground"}, {"kind", "shelf"}, {"outline", box(-2, 2, 2, 4)},
                             {"bottom_m", 1.85},  {"top_m", 1.95},   {"fill", "solid"}};
  expect_heard(file, false, "a shelf between");
}

TEST(Pane, OnAnotherStoreyIsNotHeard) {
  Json file = room_with_pane();
  file["parts"]["mat"]["detector"]["pattern"]["guaranteed"]["range_m"] = 7;
  file["levels"]["upper"] = {{"name", "Upper"}, {"elevation_m", 3.2}, {"ceiling_m", 3}, {"lit", true}};
  file["walls"]["w"]["level"] = "upper";
  file["walls"]["w"]["top_m"] = 2.8;
  EXPECT_FALSE(Told(file).heard) << "4.8 m away through a ceiling";
  EXPECT_EQ(Told(file).evidence.verdict, Verdict::broken);
  // A yard beside the house is a level of its own, on the same height.
  file["levels"]["upper"]["elevation_m"] = 0;
  expect_heard(file, true, "in the wall of the yard");
}

std::string name_of(const testing::TestParamInfo<const char*>& datum) {
  std::string name = datum.param;
  std::replace(name.begin(), name.end(), '/', '_');
  return name;
}

class PaneDatum : public testing::TestWithParam<const char*> {};
class PanePlace : public PaneDatum {};

TEST_P(PaneDatum, ThatIsMissingLeavesItOpenAndIsAskedFor) {
  Json file = room_with_pane();
  const Json::json_pointer at(GetParam());
  file.at(at.parent_pointer()).erase(at.back());
  const Told told(file);
  EXPECT_FALSE(told.heard);
  EXPECT_EQ(told.evidence.verdict, Verdict::unanswered);
  EXPECT_THAT(told.gaps, Contains(std::string("unknown ") + GetParam()));
}

TEST_P(PaneDatum, ThatIsAssumedProvesNothing) {
  Json file = room_with_pane();
  Json& datum = file.at(Json::json_pointer(GetParam()));
  datum = {{"value", datum}, {"origin", "assumed"}};
  const Told told(file);
  EXPECT_EQ(told.evidence.verdict, Verdict::unanswered);
  EXPECT_THAT(told.gaps, Contains(std::string("assumed ") + GetParam()));
}

TEST_P(PanePlace, ThatHasARangeProvesNothing) {
  Json file = room_with_pane();
  Json& datum = file.at(Json::json_pointer(GetParam()));
  datum = {{"value", datum}, {"plus", 0.05}, {"minus", 0.05}};
  const Told told(file);
  EXPECT_EQ(told.evidence.verdict, Verdict::unanswered);
  EXPECT_THAT(told.gaps, Contains(std::string("has_range ") + GetParam()));
}

#define PLACES                                                                                           \
  "/detectors/d1/mount/x_m", "/detectors/d1/mount/y_m", "/detectors/d1/mount/z_m", "/openings/o/sill_m", \
      "/openings/o/head_m"
INSTANTIATE_TEST_SUITE_P(Of, PaneDatum, testing::Values(PLACES, "/parts/mat/detector/pattern/guaranteed/range_m"),
                         name_of);
INSTANTIATE_TEST_SUITE_P(Of, PanePlace, testing::Values(PLACES), name_of);
#undef PLACES

/// Whether it is in the way is not known where its height is not.
TEST(Pane, IsNotProvenPastAWallOfUnknownHeight) {
  Json file = room_with_pane();
  file["walls"]["inner"] = wall(-4, 3, 4, 3, 1.8);
  file["walls"]["inner"].erase("top_m");
  const Told told(file);
  EXPECT_EQ(told.evidence.verdict, Verdict::unanswered);
  EXPECT_THAT(told.gaps, Contains("unknown /walls/inner/top_m"));
}

}  // namespace
}  // namespace zoneproof::sight
