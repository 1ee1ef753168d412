// A site's building becomes upright prisms; what is not known is left out and named. Every size below is worked out by
// hand from the file's own numbers.
#include "sight/building.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <limits>
#include <map>

#include "sight/small_site.hpp"

namespace zoneproof::sight {
namespace {

using plane::Point;

constexpr double kOpenEnd = std::numeric_limits<double>::infinity();

/// A room's wall of 10 m with a door and a window, on an upper floor 3.2 m above the datum with a ceiling of 2.8 m.
constexpr const char* kHouse = R"json({
  "format": "zoneproof-site", "version": 3, "name": "House", "origin": "measured",
  "levels": {"upper": {"elevation_m": 3.2, "ceiling_m": 2.8, "lit": true}},
  "walls": {"w": {"level": "upper", "path": [{"x_m": 0, "y_m": 0}, {"x_m": 10, "y_m": 0}, {"x_m": 10, "y_m": 5}],
    "bottom_m": 0, "top_m": "none", "surface": "solid"}},
  "openings": {
    "door": {"wall": "w", "stretch": 1, "along_m": 2, "width_m": 1, "sill_m": 0, "head_m": 2.1, "kind": "door",
             "state": "closed", "leaf": "solid"},
    "window": {"wall": "w", "stretch": 1, "along_m": 5, "width_m": 2, "sill_m": 0.9, "head_m": 2.2, "kind": "window",
               "state": "closed", "leaf": "glass"}}
})json";

Building built(const char* patch = "[]") { return building_of(site_of(Json::parse(kHouse), patch)); }

/// Prisms of one thing.
std::vector<Prism> of(const Building& building, ThingKind kind, const std::string& id) {
  std::vector<Prism> found;
  for (const Prism& prism : building.prisms)
    if (building.things[prism.thing] == Thing{kind, id}) found.push_back(prism);
  return found;
}

std::vector<std::string> gaps(const Building& building) {
  std::vector<std::string> all;
  for (const chain::Gap& gap : building.gaps) all.push_back(gap.reason + " " + gap.pointer);
  return all;
}

/// Everything that a wall and its openings stand for at a place along the first stretch, from the floor up:
/// "solid 3.2-4.1".
std::vector<std::string> column(const Building& building, double x) {
  std::map<double, std::string> at;
  for (const Prism& prism : building.prisms) {
    if (prism.body || prism.outline[0].y != 0.0 || prism.outline[1].y != 0.0) continue;
    if (prism.outline[0].x > x || prism.outline[1].x < x) continue;
    const char* surface = prism.surface == site::Surface::glass ? "glass" : "solid";
    char words[64];
    std::snprintf(words, sizeof(words), "%s %.4g-%.4g", surface, prism.bottom_m, prism.top_m);
    at.emplace(prism.bottom_m, words);
  }
  std::vector<std::string> words;
  for (const auto& [bottom, word] : at) words.push_back(word);
  return words;
}

TEST(Building, OpeningsCutAWallIntoSillLeafAndLintel) {
  const Building building = built();
  EXPECT_THAT(gaps(building), testing::IsEmpty());
  EXPECT_THAT(column(building, 1.0), testing::ElementsAre("solid 3.2-6")) << "a wall to the ceiling";
  EXPECT_THAT(column(building, 2.5), testing::ElementsAre("solid 3.2-5.3", "solid 5.3-6")) << "leaf and lintel";
  EXPECT_THAT(column(building, 6.0), testing::ElementsAre("solid 3.2-4.1", "glass 4.1-5.4", "solid 5.4-6"));
  const std::vector<Prism> leaf = of(building, ThingKind::opening, "window");
  ASSERT_EQ(leaf.size(), 1U);
  EXPECT_EQ(leaf[0].clear, 1.0);
  EXPECT_FALSE(leaf[0].either);
  EXPECT_NEAR(leaf[0].outline[0].x, 5.0, 1e-12);
  EXPECT_NEAR(leaf[0].outline[1].x, 7.0, 1e-12);
}

/// What is cut out of a stretch and what is left add up to it, and the other stretch is whole.
TEST(Building, TheRestOfTheWallStandsAsItIs) {
  double full_height = 0.0;
  for (const Prism& prism : of(built(), ThingKind::wall, "w")) {
    const Point a = prism.outline[0], b = prism.outline[1];
    if (a.y == 0.0 && b.y == 0.0 && prism.bottom_m == 3.2 && prism.top_m == 6.0) full_height += b.x - a.x;
    if (a.x == 10.0 && b.x == 10.0) {
      EXPECT_EQ(b.y - a.y, 5.0);
    }
  }
  EXPECT_NEAR(full_height, 10.0 - 1.0 - 2.0, 1e-12);
}

TEST(Building, ADoorIsThereGoneOrEitherByItsState) {
  const Building open = built(R"([{"op": "replace", "path": "/openings/door/state", "value": "open"}])");
  EXPECT_THAT(column(open, 2.5), testing::ElementsAre("solid 5.3-6")) << "the lintel is left";
  EXPECT_TRUE(of(open, ThingKind::opening, "door").empty());
  const Building either = built(R"([{"op": "replace", "path": "/openings/door/state", "value": "either"}])");
  const std::vector<Prism> leaf = of(either, ThingKind::opening, "door");
  ASSERT_EQ(leaf.size(), 1U);
  EXPECT_TRUE(leaf[0].either);
  EXPECT_EQ(leaf[0].clear, 0.0);
  EXPECT_EQ(leaf[0].clear_otherwise, 1.0);
}

TEST(Building, AMeshLeafLetsItsShareThrough) {
  const Building building = built(R"([{"op": "replace", "path": "/openings/door/leaf", "value": "mesh"},
    {"op": "add", "path": "/openings/door/transmission_pct", "value": 40}])");
  EXPECT_NEAR(of(building, ThingKind::opening, "door").at(0).clear, 0.4, 1e-12);
}

TEST(Building, TopNoneIsTheCeilingOrTheSky) {
  const Building sky = built(R"([{"op": "replace", "path": "/levels/upper/ceiling_m", "value": "none"}])");
  ASSERT_EQ(sky.floors.size(), 1U);
  EXPECT_EQ(sky.floors[0].ceiling_m, kOpenEnd);
  EXPECT_EQ(of(sky, ThingKind::wall, "w").at(0).top_m, kOpenEnd);
  EXPECT_EQ(built().floors[0].ceiling_m, 6.0);
  const Building low = built(R"([{"op": "replace", "path": "/walls/w/top_m", "value": 2.5}])");
  EXPECT_NEAR(of(low, ThingKind::wall, "w").at(0).top_m, 5.7, 1e-12);
}

TEST(Building, ABlockTurnsCounterClockwiseAndKeepsItsTwoStates) {
  const Building building = built(R"json([{"op": "add", "path": "/blocks", "value": {
    "rack": {"level": "upper", "kind": "racking", "bottom_m": 0, "top_m": 2, "fill": "either", "transmission_pct": 60,
             "outline": [{"x_m": 1, "y_m": 1}, {"x_m": 1, "y_m": 2}, {"x_m": 3, "y_m": 2}, {"x_m": 3, "y_m": 1}]},
    "cage": {"level": "upper", "kind": "racking", "bottom_m": 0, "top_m": "none", "fill": "open", "transmission_pct": 70,
             "outline": [{"x_m": 5, "y_m": 1}, {"x_m": 6, "y_m": 1}, {"x_m": 6, "y_m": 2}]}}}])json");
  const Prism rack = of(building, ThingKind::block, "rack").at(0), cage = of(building, ThingKind::block, "cage").at(0);
  EXPECT_EQ(rack.outline[1].x, 3.0) << "given clockwise";
  EXPECT_TRUE(rack.either);
  EXPECT_EQ(rack.clear, 0.0);
  EXPECT_NEAR(rack.clear_otherwise, 0.6, 1e-12);
  EXPECT_FALSE(cage.either);
  EXPECT_EQ(cage.surface, site::Surface::mesh);
  EXPECT_NEAR(cage.clear, 0.7, 1e-12);
  EXPECT_EQ(cage.top_m, 6.0);
}

constexpr const char* kStair = R"json([{"op": "add", "path": "/stairs", "value": {"s": {"level": "upper",
  "foot": {"x_m": 1, "y_m": 1}, "head": {"x_m": 1, "y_m": 4}, "width_m": 0.8, "rise_m": 1.5, "steps": 6,
  "below": "BELOW"}}}])json";

Building with_stair(const char* below) {
  std::string patch = kStair;
  patch.replace(patch.find("BELOW"), 5, below);
  return built(patch.c_str());
}

/// Six steps of 0.5 m going and 0.25 m rise, 0.8 m wide, northward.
TEST(Building, StairsBecomeSteps) {
  const std::vector<Prism> solid = of(with_stair("solid"), ThingKind::stair, "s");
  const std::vector<Prism> open = of(with_stair("open"), ThingKind::stair, "s");
  ASSERT_EQ(solid.size(), 6U);
  ASSERT_EQ(open.size(), 6U);
  for (std::size_t i = 0; i < 6; ++i) {
    const auto step = static_cast<double>(i);
    EXPECT_NEAR(solid[i].bottom_m, 3.2, 1e-12);
    EXPECT_NEAR(open[i].bottom_m, 3.2 + 0.25 * step, 1e-12) << "one riser thick";
    for (const Prism& prism : {solid[i], open[i]}) {
      EXPECT_NEAR(prism.top_m, 3.2 + 0.25 * (step + 1), 1e-12);
      ASSERT_EQ(prism.outline.size(), 4U);
      double twice = 0.0;
      for (std::size_t k = 0; k < 4; ++k) {
        const Point a = prism.outline[k], b = prism.outline[(k + 1) % 4];
        twice += a.x * b.y - b.x * a.y;
        EXPECT_NEAR(std::abs(a.x - 1.0), 0.4, 1e-12);
        EXPECT_GE(a.y, 1.0 + 0.5 * step - 1e-12);
        EXPECT_LE(a.y, 1.0 + 0.5 * (step + 1) + 1e-12);
      }
      EXPECT_NEAR(twice / 2.0, 0.5 * 0.8, 1e-12) << "counter-clockwise";
    }
  }
}

struct Lacking {
  const char* name;
  const char* pointer;
};

class BuildingLacks : public testing::TestWithParam<Lacking> {};

/// Nothing is guessed in its place: the part that needs it is not there.
TEST_P(BuildingLacks, AFieldAndItIsNamed) {
  const std::string patch = std::string(R"([{"op": "remove", "path": ")") + GetParam().pointer + R"("}])";
  const Building building = built(patch.c_str());
  EXPECT_THAT(gaps(building), testing::Contains(std::string("unknown ") + GetParam().pointer));
  const std::string of_what = GetParam().pointer;
  const bool wall_itself = of_what.rfind("/walls", 0) == 0, leaf_itself = of_what.rfind("/openings/door", 0) == 0;
  EXPECT_TRUE(!wall_itself || building.prisms.empty());
  EXPECT_TRUE(!leaf_itself || of(building, ThingKind::opening, "door").empty());
}

INSTANTIATE_TEST_SUITE_P(
    Of, BuildingLacks,
    testing::Values(Lacking{"elevation", "/levels/upper/elevation_m"}, Lacking{"ceiling", "/levels/upper/ceiling_m"},
                    Lacking{"level", "/walls/w/level"}, Lacking{"corner", "/walls/w/path/1/x_m"},
                    Lacking{"bottom", "/walls/w/bottom_m"}, Lacking{"top", "/walls/w/top_m"},
                    Lacking{"surface", "/walls/w/surface"}, Lacking{"hole", "/openings/door/wall"},
                    Lacking{"stretch", "/openings/door/stretch"}, Lacking{"along", "/openings/door/along_m"},
                    Lacking{"width", "/openings/door/width_m"}, Lacking{"sill", "/openings/door/sill_m"},
                    Lacking{"head", "/openings/door/head_m"}, Lacking{"state", "/openings/door/state"},
                    Lacking{"leaf", "/openings/door/leaf"}),
    [](const auto& one) { return std::string(one.param.name); });

TEST(Building, AStairOrBlockOfUnknownSizeIsLeftOutAndNamed) {
  std::string patch = kStair;
  patch.replace(patch.find("\"rise_m\": 1.5, "), 15, "");
  patch.replace(patch.find("BELOW"), 5, "solid");
  const Building stair = built(patch.c_str());
  EXPECT_THAT(gaps(stair), testing::ElementsAre("unknown /stairs/s/rise_m"));
  EXPECT_TRUE(of(stair, ThingKind::stair, "s").empty());
  const Building block = built(R"json([{"op": "add", "path": "/blocks", "value": {
    "rack": {"level": "upper", "kind": "racking", "bottom_m": 0, "top_m": 2, "fill": "either",
             "outline": [{"x_m": 1, "y_m": 1}, {"x_m": 3, "y_m": 1}, {"x_m": 3, "y_m": 2}]}}}])json");
  EXPECT_THAT(gaps(block), testing::ElementsAre("unknown /blocks/rack/transmission_pct"));
  EXPECT_TRUE(of(block, ThingKind::block, "rack").empty());
}

/// A doorway has no leaf: what closes it is neither asked for nor there, whatever its state is said to be.
TEST(Building, ADoorwayIsAHole) {
  const Building building = built(R"([{"op": "replace", "path": "/openings/door/kind", "value": "doorway"},
    {"op": "replace", "path": "/openings/door/state", "value": "open"},
    {"op": "remove", "path": "/openings/door/leaf"}])");
  EXPECT_THAT(gaps(building), testing::IsEmpty());
  EXPECT_THAT(column(building, 2.5), testing::ElementsAre("solid 5.3-6"));
}

}  // namespace
}  // namespace zoneproof::sight
