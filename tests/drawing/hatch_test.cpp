#include "drawing/hatch.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <stdexcept>

#include "drawing/shapes.hpp"

namespace zoneproof::drawing {
namespace {

double length_of_lines(const Shape& shape) {
  double sum = 0;
  for (const Subpath& line : shape.path) sum += length(line.pieces.front().to - line.start);
  return sum;
}

// Lines at distance d over an area A have the length A / d, the more exactly the finer they are (Cavalieri).
TEST(Hatch, LengthOfLinesTimesSpacingIsTheArea) {
  const double spacing = 0.05;
  for (const double angle : {0.0, 30.0, 45.0, 90.0, 137.0}) {
    const Hatch hatch{angle, spacing, false, {}};
    EXPECT_NEAR(length_of_lines(hatched("", {ring(Box{10, 10, 40, 30})}, hatch)) * spacing, 600.0, 2.0);
    const std::vector<Subpath> washer{circle({20, 20}, 10), circle({22, 20}, 4)};
    EXPECT_NEAR(length_of_lines(hatched("", washer, hatch)) * spacing, std::acos(-1.0) * 84.0, 1.0);
    const Hatch crossed{angle, spacing, true, {}};
    EXPECT_NEAR(length_of_lines(hatched("", {ring(Box{10, 10, 40, 30})}, crossed)) * spacing, 1200.0, 4.0);
  }
}

TEST(Hatch, HolesStayClean) {
  const Shape lines = hatched("", {ring(Box{0, 0, 30, 30}), ring(Box{10, 10, 20, 20})}, {45, 1.0, false, {}});
  const Box hole = grown(Box{10, 10, 20, 20}, -1e-9);
  for (const Subpath& line : lines.path) EXPECT_FALSE(cross(Line{line.start, line.pieces.front().to}, hole));
}

TEST(Hatch, AreasThatTouchLookLikeOne) {
  const Hatch hatch{45.0, 1.5, false, {}};
  const double apart = length_of_lines(hatched("", {ring(Box{0, 0, 17, 23})}, hatch)) +
                       length_of_lines(hatched("", {ring(Box{17, 0, 31, 23})}, hatch));
  EXPECT_NEAR(apart, length_of_lines(hatched("", {ring(Box{0, 0, 31, 23})}, hatch)), 1e-9);
}

TEST(Hatch, WhatIsNoAreaGetsNoLines) {
  EXPECT_TRUE(hatched("", {}, {}).path.empty());
  EXPECT_TRUE(hatched("", {ring(Points{{1, 1}, {1, 1}, {1, 1}})}, {}).path.empty());
}

TEST(Hatch, ASpacingThatWouldNeverEndIsRefused) {
  for (const double spacing : {0.0, -1.0, std::nan(""), 1e-9}) {
    EXPECT_THROW(hatched("", {ring(Box{0, 0, 10, 10})}, {45.0, spacing, false, {}}), std::logic_error);
  }
}

RC_GTEST_PROP(HatchProperty, LinesStayWithinAConvexArea, ()) {
  const double angle = *rc::gen::inRange(0, 360), spacing = *rc::gen::inRange(1, 50) / 10.0;
  const double radius = *rc::gen::inRange(1, 300) / 10.0;
  const Point centre{*rc::gen::inRange(0, 200) / 1.0, *rc::gen::inRange(0, 200) / 1.0};
  for (const Subpath& line : hatched("", {circle(centre, radius)}, {angle, spacing, true, {}}).path) {
    RC_ASSERT(length(line.start - centre) <= radius + 1e-9);
    RC_ASSERT(length(line.pieces.front().to - centre) <= radius + 1e-9);
  }
}

TEST(Shapes, BoundsOfArcsAreExact) {
  const Box box = bounds({arc({50, 50}, 10, 45, 90)});  // from lower right over the bottom to lower left
  EXPECT_NEAR(box.bottom, 60, 1e-12);
  EXPECT_NEAR(box.left, 50 - 10 * std::sqrt(0.5), 1e-9);
  EXPECT_NEAR(box.top, 50 + 10 * std::sqrt(0.5), 1e-9);
  const Box backward = bounds({arc({50, 50}, 10, 135, -90)});
  EXPECT_NEAR(backward.bottom, 60, 1e-12);
}

TEST(Shapes, FlattenedArcsKeepTheirTolerance) {
  const Points points = flattened(circle({0, 0}, 20), 0.01);
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    EXPECT_GE(length((points[i] + points[i + 1]) * 0.5), 20 - 0.0101);
  }
}

}  // namespace
}  // namespace zoneproof::drawing
