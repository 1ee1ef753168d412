#include "drawing/clipped.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numbers>

#include "drawing/shapes.hpp"
#include "drawing/specimen.hpp"

namespace zoneproof::drawing {
namespace {

constexpr Box kWindow{10, 10, 30, 20};

Group of(Item item) {
  Group group;
  group.items.push_back(std::move(item));
  return group;
}

std::vector<Shape> shapes_of(const Group& group) {
  std::vector<Shape> shapes;
  each(
      group, [&](const Shape& shape) { shapes.push_back(shape); }, [](const TextLine&) {});
  return shapes;
}

double area_of(const Shape& shape) {
  double twice = 0.0;
  for (const Subpath& path : shape.path) {
    const Points points = flattened(path, 1e-3);
    for (std::size_t i = 0; i < points.size(); ++i) {
      const Point a = points[i], b = points[(i + 1) % points.size()];
      twice += a.x * b.y - b.x * a.y;
    }
  }
  return std::abs(twice) / 2;
}

TEST(Clipped, ALineEndsAtTheEdges) {
  const auto left = shapes_of(clipped(of({stroked("l", {line_through({{0, 15}, {40, 15}})}, {})}), kWindow));
  ASSERT_EQ(left.size(), 1U);
  EXPECT_EQ(left[0].name.id, "l");
  const Box box = bounds(left[0].path);
  EXPECT_DOUBLE_EQ(box.left, 10);
  EXPECT_DOUBLE_EQ(box.right, 30);
  EXPECT_TRUE(clipped(of({stroked("l", {line_through({{0, 5}, {40, 5}})}, {})}), kWindow).items.empty());
}

TEST(Clipped, ARingThatLeavesTwiceBecomesItsTwoParts) {
  const auto left = shapes_of(clipped(of({stroked("r", {ring(Box{20, 0, 24, 40})}, {})}), kWindow));
  ASSERT_EQ(left.size(), 1U);
  EXPECT_EQ(left[0].path.size(), 2U);
}

// A circle of radius 5 about a corner of the window: a quarter of it is left.
TEST(Clipped, AnAreaIsCutAlongTheEdges) {
  const auto left = shapes_of(clipped(of({filled("c", {circle({10, 10}, 5)}, Ink::wash)}), kWindow));
  ASSERT_EQ(left.size(), 1U);
  EXPECT_NEAR(area_of(left[0]), std::numbers::pi * 25 / 4, 0.1);
}

TEST(Clipped, HalfAWordIsLeftOut) {
  const auto word = [](double x) {
    return Item{text_line(test_ruler(), "t", "Store", {Role::label, false}, 3.0, Ink::text, {x, 15})};
  };
  EXPECT_FALSE(clipped(of(word(15)), kWindow).items.empty());
  EXPECT_TRUE(clipped(of(word(28)), kWindow).items.empty());
}

RC_GTEST_PROP(ClippedProperty, NothingLeavesTheBoxAndWhatLiesInItStays, ()) {
  const auto place = [] {
    return Point{static_cast<double>(*rc::gen::inRange(0, 400)) / 10,
                 static_cast<double>(*rc::gen::inRange(0, 300)) / 10};
  };
  Points points;
  for (int i = *rc::gen::inRange(3, 9); i > 0; --i) points.push_back(place());
  Shape shape = stroked("s", {ring(points)}, {});
  if (*rc::gen::arbitrary<bool>()) shape.fill = Ink::wash;
  const Group left = clipped(of({shape}), kWindow);
  for (const Shape& one : shapes_of(left)) RC_ASSERT(inside(bounds(one.path), grown(kWindow, 1e-9)));
  const Group all = clipped(of({shape}), {-1, -1, 50, 50});
  RC_ASSERT(shapes_of(all).size() == 1U);
  RC_ASSERT(shapes_of(all)[0].path[0].pieces.size() == shape.path[0].pieces.size());
}

}  // namespace
}  // namespace zoneproof::drawing
