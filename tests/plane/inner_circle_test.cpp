#include "plane/inner_circle.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/squared_distance_2.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace zoneproof::plane {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Corners = std::vector<Point>;

constexpr double kPrecision = 1e-3;

double distance_of_border(Point p, const std::vector<Corners>& rings) {
  double nearest = std::numeric_limits<double>::infinity();
  for (const Corners& ring : rings)
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Point a = ring[i], b = ring[(i + 1) % ring.size()];
      const Kernel::Segment_2 side({a.x, a.y}, {b.x, b.y});
      nearest = std::min(nearest, std::sqrt(CGAL::squared_distance(Kernel::Point_2(p.x, p.y), side)));
    }
  return nearest;
}

Corners regular(int corners, double radius) {
  Corners ring;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2.0 * M_PI * i / corners;
    ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
  }
  return ring;
}

}  // namespace

// Elementary geometry: the circle in a square, in a right triangle of sides 3, 4, 5 (radius 1), in a long strip.
TEST(InnerCircle, HasTheRadiusOfClosedForms) {
  EXPECT_NEAR(inner_circle({{{0, 0}, {2, 0}, {2, 2}, {0, 2}}}, kPrecision).radius, 1.0, kPrecision);
  EXPECT_NEAR(inner_circle({{{0, 0}, {4, 0}, {0, 3}}}, kPrecision).radius, 1.0, kPrecision);
  EXPECT_NEAR(inner_circle({{{0, 0}, {500, 0}, {500, 1}, {0, 1}}}, kPrecision).radius, 0.5, kPrecision);
  EXPECT_NEAR(inner_circle({regular(6, 2.0)}, kPrecision).radius, std::sqrt(3.0), kPrecision);
}

TEST(InnerCircle, StaysOutOfHoles) {
  Corners hole = regular(64, 1.0);
  std::reverse(hole.begin(), hole.end());
  // Between a circle of 3 and one of 1 about the same middle fits one of radius 1.
  EXPECT_NEAR(inner_circle({regular(64, 3.0), hole}, kPrecision).radius, 1.0, 0.01);
}

TEST(InnerCircle, OfNothingIsNothing) {
  EXPECT_EQ(inner_circle({}, kPrecision).radius, 0.0);
  EXPECT_EQ(inner_circle({{{0, 0}, {5, 0}, {9, 0}}}, kPrecision).radius, 0.0);
}

TEST(InnerCircle, TouchesTheBorderAsCgalMeasuresIt) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> radius(1.0, 4.0);
  for (int round = 0; round < 200; ++round) {
    Corners star;
    for (int i = 0; i < 12; ++i) {
      const double r = radius(random), angle = 2.0 * M_PI * i / 12;
      star.push_back({r * std::cos(angle), r * std::sin(angle)});
    }
    const InnerCircle found = inner_circle({star}, kPrecision);
    EXPECT_NEAR(distance_of_border(found.centre, {star}), found.radius, 1e-9);
    for (int k = 0; k < 200; ++k) {  // no place is deeper
      const double r = radius(random) * 0.9, angle = 0.031 * k;
      const Point p = {r * std::cos(angle), r * std::sin(angle)};
      const Kernel::Point_2 q(p.x, p.y);
      bool inside = false;
      for (std::size_t i = 0, last = star.size() - 1; i < star.size(); last = i++)
        if ((star[last].y > p.y) != (star[i].y > p.y) &&
            p.x < star[last].x + (p.y - star[last].y) / (star[i].y - star[last].y) * (star[i].x - star[last].x))
          inside = !inside;
      if (!inside) continue;
      EXPECT_LE(distance_of_border(p, {star}), found.radius + kPrecision);
    }
  }
}

}  // namespace zoneproof::plane
