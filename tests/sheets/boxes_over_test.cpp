// Boxes that stand for an area.
#include "sheets/boxes_over.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace zoneproof::sheets {
namespace {

/// Of areas with up to eight corners anywhere: every place of one is in a box.
TEST(BoxesOver, HoldAllOfAnArea) {
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> place(0.0, 40.0);
  int held = 0;
  for (int i = 0; i < 200; ++i) {
    Rings area = {{}};
    for (int k = 0; k < 3 + i % 6; ++k) area[0].push_back({place(random), place(random)});
    const auto boxes = boxes_over(area);
    for (int k = 0; k < 100; ++k) {
      const drawing::Point p = {place(random), place(random)};
      if (!holds(area, p)) continue;
      ++held;
      EXPECT_TRUE(std::any_of(boxes.begin(), boxes.end(), [&](const auto& box) { return inside(p, box); }));
    }
  }
  EXPECT_GT(held, 2000);
}

/// A diamond is half of the box about it.
TEST(BoxesOver, HoldLittleMoreThanIt) {
  double covered = 0.0;
  for (const drawing::Box& box : boxes_over({{{20, 0}, {40, 20}, {20, 40}, {0, 20}}}))
    covered += box.width() * box.height();
  EXPECT_GE(covered, 800.0);
  EXPECT_LT(covered, 880.0);
}

/// A level line and a place have no height, and are somewhere all the same.
TEST(BoxesOver, HoldWhatHasNoHeight) {
  const auto line = boxes_over({{{3, 5}, {9, 5}}});
  ASSERT_EQ(line.size(), 1U);
  EXPECT_EQ(line[0].left, 3.0);
  EXPECT_EQ(line[0].right, 9.0);
  EXPECT_TRUE(boxes_over({}).empty());
}

}  // namespace
}  // namespace zoneproof::sheets
