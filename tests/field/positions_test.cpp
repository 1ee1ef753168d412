#include "field/positions.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "field/demo_site.hpp"

namespace zoneproof::field {
namespace {

site::Value metres(double value) { return site::Value::exactly(value, site::Origin::measured); }

site::Mount mount(const std::string& level, double x, double y) {
  site::Mount made;
  made.level.id = level;
  made.x_m = metres(x);
  made.y_m = metres(y);
  return made;
}

///   first   .   .   .  head(8,0)     b(8,5)      3 m above
///   ground  a(0,0)    foot(4,0)
site::Site two_floors() {
  site::Site site;
  site.levels["ground"].elevation_m = metres(0.0);
  site.levels["first"].elevation_m = metres(3.0);
  site.levels["yard"].elevation_m = metres(0.0);
  site::Stair stair;
  stair.level.id = "ground";
  stair.foot = {metres(4.0), metres(0.0)};
  stair.head = {metres(8.0), metres(0.0)};
  stair.rise_m = metres(3.0);
  site.stairs["s"] = stair;
  site.detectors["a"].mount = mount("ground", 0.0, 0.0);
  site.detectors["b"].mount = mount("first", 8.0, 5.0);
  site.detectors["c"].mount = mount("yard", 0.0, 7.0);
  return site;
}

TEST(AWayOnFoot, LeadsOverTheStairs) {
  const Positions positions(two_floors());
  const double way = *positions.between(*positions.of("a", ""), *positions.of("b", ""));
  EXPECT_DOUBLE_EQ(way, 4.0 + std::hypot(4.0, 3.0) + 5.0);  // to the foot, up the flight, on to b
}

TEST(AWayOnFoot, IsStraightBetweenLevelsOfOneHeight) {
  const Positions positions(two_floors());
  EXPECT_DOUBLE_EQ(*positions.between(*positions.of("a", ""), *positions.of("c", "")), 7.0);
}

TEST(AWayOnFoot, IsNoneWhereNoStairsJoinTheLevels) {
  site::Site site = two_floors();
  site.stairs.clear();
  const Positions positions(site);
  EXPECT_FALSE(positions.between(*positions.of("a", ""), *positions.of("b", "")).has_value());
}

TEST(AThingWithoutAMount, StandsInTheMiddleOfWhatIsMountedInItsArea) {
  site::Site site = two_floors();
  site.detectors["a"].area.id = "hall";
  site.detectors["c"].area.id = "hall";
  const Positions positions(site);
  const auto at = positions.of("panel", "hall");
  ASSERT_TRUE(at.has_value());
  EXPECT_TRUE(at->of_area);
  EXPECT_DOUBLE_EQ(at->y_m, 3.5);
  EXPECT_FALSE(positions.of("panel", "cellar").has_value());
}

TEST(TheDemoSites, HaveEveryLevelWithinReachOfEveryOther) {
  const site::Site site = demo_site("tern-hollow");
  const Positions positions(site);
  for (const auto& [a, one] : site.detectors) {
    for (const auto& [b, other] : site.detectors) {
      if (!one.mount.level.known() || !other.mount.level.known()) continue;
      EXPECT_TRUE(positions.between(*positions.of(a, ""), *positions.of(b, "")).has_value()) << a << " " << b;
    }
  }
}

}  // namespace
}  // namespace zoneproof::field
