// The exact predicates against exact rational numbers, above all where plain arithmetic is wrong.
#include "plane/predicates.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <random>

#include "plane/exact_signs.hpp"

namespace zoneproof::plane {
namespace {

int naive_orientation(Point a, Point b, Point c) {
  const double area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
  return area > 0.0 ? 1 : area < 0.0 ? -1 : 0;
}

/// Kettner, Mehlhorn, Pion, Schirra, Yap, Classroom examples of robustness problems in geometric computations, 2008,
/// figure 2 (from memory): points a few ulps around (0.5, 0.5) against the line through (12, 12) and (24, 24).
TEST(Orientation, OfTheClassroomExampleIsExactWherePlainArithmeticIsNot) {
  int naive_faults = 0;
  for (int i = 0; i < 64; ++i) {
    for (int j = 0; j < 64; ++j) {
      const Point p{0.5 + i * 0x1p-53, 0.5 + j * 0x1p-53}, q{12.0, 12.0}, r{24.0, 24.0};
      const int truth = i == j ? 0 : i > j ? -1 : 1;
      ASSERT_EQ(-orientation(q, p, r), truth);
      ASSERT_EQ(rational_orientation(q, p, r), -truth);
      naive_faults += naive_orientation(p, q, r) == truth ? 0 : 1;
    }
  }
  EXPECT_GT(naive_faults, 500) << "else the example tests nothing";
}

/// Points that nearly or exactly lie on a line or a circle, of sizes over the whole range.
struct Nearly {
  std::mt19937_64 random;
  double unit() { return static_cast<double>(random() >> 11U) * 0x1p-52 - 1.0; }
  double small() { return static_cast<double>(random() % 5) - 2.0; }
  double scale() { return std::ldexp(1.0, static_cast<int>(random() % 240) - 120); }
  Point point(double s) { return {s * unit(), s * unit()}; }
  Point on_line(Point a, Point b) {
    const double t = unit();
    const Point p{a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
    return {p.x * (1.0 + small() * 0x1p-52), p.y * (1.0 + small() * 0x1p-52)};
  }
};

TEST(Orientation, EqualsThatOfRationalNumbersNearALine) {
  Nearly nearly{std::mt19937_64(1)};
  int zeros = 0;
  for (int i = 0; i < 20000; ++i) {
    const double s = nearly.scale();
    const Point a = nearly.point(s), b = nearly.point(i % 2 == 0 ? s : s * nearly.scale());
    const Point c = i % 7 == 0 ? b : nearly.on_line(a, b);
    const int truth = rational_orientation(a, b, c);
    zeros += truth == 0 ? 1 : 0;
    ASSERT_EQ(orientation(a, b, c), truth);
    ASSERT_EQ(orientation(c, b, a), -truth);
    ASSERT_LE(error_of_twice_area(twice_area(a, b, c), a, b, c), 0x1p-40);
  }
  EXPECT_GT(zeros, 100);
}

TEST(InCircle, EqualsThatOfRationalNumbersNearACircle) {
  Nearly nearly{std::mt19937_64(2)};
  const int triples[4][2] = {{3, 4}, {5, 12}, {8, 15}, {7, 24}};
  int zeros = 0;
  for (int i = 0; i < 5000; ++i) {
    const double s = std::ldexp(1.0, static_cast<int>(nearly.random() % 300) - 150);
    const Point middle =
        i % 3 == 0 ? Point{0.0, 0.0} : Point{s * std::floor(1e6 * nearly.unit()), s * std::floor(1e6 * nearly.unit())};
    Point p[4];
    for (auto& q : p) {  // scaled so that all lie on the circle of radius 5 x 13 x 17 x 25
      const auto& t = triples[nearly.random() % 4];
      const double r = 27625.0 / std::hypot(t[0], t[1]), x = nearly.random() % 2 == 0 ? r : -r,
                   y = nearly.random() % 2 == 0 ? r : -r;
      q = {middle.x + s * x * t[0], middle.y + s * y * t[1]};
    }
    if (i % 2 == 0) p[3].x = std::nextafter(p[3].x, p[0].x);
    const int truth = rational_in_circle(p[0], p[1], p[2], p[3]);
    zeros += truth == 0 ? 1 : 0;
    ASSERT_EQ(in_circle(p[0], p[1], p[2], p[3]), truth);
    ASSERT_EQ(in_circle(p[1], p[0], p[2], p[3]), -truth);
  }
  EXPECT_GT(zeros, 500);
}

TEST(Predicates, HoldAtBothEndsOfTheirRange) {
  for (const double s : {least_magnitude, greatest_magnitude}) {
    const Point a{s, s}, b{-s, s}, c{-s, -s}, d{s, -s};
    EXPECT_EQ(in_circle(a, b, c, d), 0);
    EXPECT_EQ(in_circle(a, b, c, {s * (1.0 - 0x1p-53), -s}), 1);
    EXPECT_EQ(in_circle(a, b, c, {s * (1.0 + 0x1p-52), -s}), -1);
    EXPECT_EQ(orientation(c, a, {s * (1.0 - 0x1p-53), s}), 1);
    EXPECT_EQ(orientation(c, a, {s, s * (1.0 - 0x1p-53)}), -1);
  }
}

TEST(Bearings, AreOrderedCounterClockwiseFromTheXAxis) {
  const Point around[] = {{1, 0}, {2, 1}, {1, 1}, {0, 3}, {-1, 1}, {-5, 0}, {-1, -1}, {0, -1}, {1, -1}};
  for (std::size_t i = 0; i < std::size(around); ++i) {
    for (std::size_t j = 0; j < std::size(around); ++j)
      EXPECT_EQ(compare_bearings({0, 0}, around[i], {3 * around[j].x, 3 * around[j].y}), i < j ? -1 : i == j ? 0 : 1);
  }
  EXPECT_EQ(compare_bearings({0, 0}, {0x1p52, 1}, {0x1p53, 2}), 0);
  EXPECT_EQ(compare_bearings({0, 0}, {0x1p52 + 1, 1}, {0x1p53, 2}), -1);
}

RC_GTEST_PROP(CrossingPixel, HoldsTheExactCrossing, ()) {
  std::mt19937_64 random(*rc::gen::arbitrary<std::uint64_t>());
  const int bits = *rc::gen::inRange(2, 49);
  const auto coordinate = [&] {
    return static_cast<double>(static_cast<std::int64_t>(random() >> (64 - bits)) - (std::int64_t{1} << (bits - 1)));
  };
  const auto point = [&] {
    const double x = coordinate();
    return Point{x, coordinate()};
  };
  Point a = point(), b = point(), c = point(), d = point();
  if (*rc::gen::arbitrary<bool>()) c.x = a.x + 1, c.y = a.y - 1, d.x = b.x - 1, d.y = b.y + 1;  // nearly parallel
  RC_PRE(orientation(a, b, c) * orientation(a, b, d) < 0 && orientation(c, d, a) * orientation(c, d, b) < 0);
  const Point middle = crossing_pixel(a, b, c, d, 1.0);
  RC_ASSERT(crosses_in_pixel(a, b, c, d, middle, 1.0));
  RC_ASSERT(crossing_pixel(d, c, a, b, 1.0) == middle);
}

}  // namespace
}  // namespace zoneproof::plane
