// What is smaller than a person is left out beside what is shown or reached around it, and never where nothing is.
#include <gtest/gtest.h>

#include "sight/answers.hpp"
#include "sight/scene.hpp"
#include "sight/small_site.hpp"

namespace zoneproof::sight {
namespace {

using plane::Point;

constexpr double kPlaceSlack_m2 = 0.002;

/// A place of 4 m2 that is shown, and bits of less than a patch (0.05 m2) behind the camera.
constexpr double kPatch_m2 = 0.05;
std::vector<Point> bit(double west) { return rectangle(west, -5, west + 0.15, -4.8); }  // 0.03 m2

Coverage with_bits(std::vector<AreaSource> sources) {
  const MadeScene scene;
  return coverage(scene.building, sources, {watching(wide_camera({0, 0, 1.3}, 0, 0))}, torso_and_head(), kPatch_m2);
}

TEST(SmallPlace, ASourceThatIsSmallAndNotShown) {
  const Coverage found = with_bits({drawn(rectangle(-1, 4, 1, 6), "shop"), drawn(bit(0), "button")});
  EXPECT_NEAR(found.area_m2, 4.03, kPlaceSlack_m2);
  EXPECT_NEAR(found.witnessed_m2, 4.0, kPlaceSlack_m2);
  ASSERT_EQ(found.patches.size(), 1U);
  EXPECT_NEAR(found.patches[0].area_m2, 0.03, kPlaceSlack_m2);
  EXPECT_LT(found.patches[0].inside.y, -4.8);
}

TEST(SmallPlace, ASourceInSmallBitsOfWhichNoneIsShown) {
  AreaSource bits = drawn(bit(0), "strip");
  bits.outlines.push_back(bit(1));
  const Coverage alone = with_bits({bits});
  EXPECT_NEAR(alone.area_m2, 0.06, kPlaceSlack_m2);
  EXPECT_EQ(alone.witnessed_m2, 0.0);
  EXPECT_EQ(alone.patches.size(), 2U);
  const Coverage beside = with_bits({drawn(rectangle(-1, 4, 1, 6), "shop"), bits});
  EXPECT_NEAR(beside.area_m2, 4.06, kPlaceSlack_m2);
  EXPECT_NEAR(beside.witnessed_m2, 4.0, kPlaceSlack_m2) << "what is shown of another source is nothing to it";
  EXPECT_EQ(beside.patches.size(), 2U);
}

/// What the tolerance is for: a corner of a source that is shown, apart from it or along its border.
TEST(SmallPlace, ButASmallBitOfASourceThatIsShownCounts) {
  AreaSource shop = drawn(rectangle(-1, 4, 1, 6), "shop");
  shop.outlines.push_back(bit(0));
  const Coverage found = with_bits({shop});
  EXPECT_NEAR(found.area_m2, 4.03, kPlaceSlack_m2);
  EXPECT_EQ(found.witnessed_m2, found.area_m2);
  EXPECT_TRUE(found.patches.empty());
}

TEST(SmallPlace, ASmallPlaceThatNoDetectorReaches) {
  const MadeScene scene;
  const auto reached_of = [&](const std::vector<Point>& wanted) {
    return reached(scene.building, {drawn(rectangle(-1, 4, 1, 6))}, {wanted}, "ground", torso_and_head(), kPatch_m2);
  };
  const Coverage missed = reached_of(bit(0));
  EXPECT_EQ(missed.share_pct(), 0.0);
  EXPECT_EQ(missed.patches.size(), 1U);
  EXPECT_EQ(reached_of(rectangle(0, 4.5, 0.15, 4.7)).share_pct(), 100.0);
  EXPECT_EQ(reached_of(rectangle(-1.01, 4, 1, 6)).share_pct(), 100.0) << "but a strip of 0.02 m2 along its border";
}

/// A keypad of 0.04 m2 before the first camera of two yards.
TEST(SmallPlace, ASmallPrivacyAreaThatIsFilmed) {
  Json file = two_yards();
  const auto verdict_of = [&](double north) {
    file["privacy_areas"]["v"] = {{"level", "ground"}, {"outline", box(-0.1, north, 0.1, north + 0.2)}};
    for (const chain::Evidence& one : sight_answers(site_of(file)))
      if (one.id == "privacy" && one.subject == "c1") return one.verdict;
    ADD_FAILURE() << "nothing is told of it";
    return chain::Verdict::unanswered;
  };
  EXPECT_EQ(verdict_of(4), chain::Verdict::broken);
  EXPECT_EQ(verdict_of(-4), chain::Verdict::proven) << "behind the camera";
}

}  // namespace
}  // namespace zoneproof::sight
