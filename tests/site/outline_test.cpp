// Rings of corners: which enclose an area, and what is inside. Source of the reference: CGAL, Polygon_2::is_simple and
// bounded_side with exact predicates.
#include "site/outline.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_2.h>
#include <gtest/gtest.h>

#include <random>

namespace zoneproof::site {
namespace {

using plane::Point;
using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Kind = OutlineFault::Kind;

CGAL::Polygon_2<Kernel> polygon_of(const std::vector<Point>& ring) {
  CGAL::Polygon_2<Kernel> polygon;
  for (const Point& at : ring) polygon.push_back({at.x, at.y});
  return polygon;
}

std::vector<Point> random_ring(std::mt19937& random) {
  std::uniform_int_distribution<int> count(3, 7), place(0, 5);
  std::vector<Point> ring(static_cast<std::size_t>(count(random)));
  for (Point& at : ring) at = {static_cast<double>(place(random)), static_cast<double>(place(random))};
  return ring;
}

// A coarse grid: repeated corners, sides on one line, corners on sides.
TEST(Outline, IsSimpleWhereAnIndependentLibrarySaysSo) {
  std::mt19937 random(20261126);
  int simple = 0;
  for (int i = 0; i < 20'000; ++i) {
    const std::vector<Point> ring = random_ring(random);
    const bool ours = !outline_fault(ring);
    ASSERT_EQ(ours, polygon_of(ring).is_simple()) << i;
    simple += ours ? 1 : 0;
  }
  EXPECT_GT(simple, 1'000);
}

TEST(Outline, InsideIsWhereAnIndependentLibrarySaysSo) {
  std::mt19937 random(7);
  int tried = 0;
  while (tried < 2'000) {
    const std::vector<Point> ring = random_ring(random);
    if (outline_fault(ring)) continue;
    ++tried;
    const CGAL::Polygon_2<Kernel> polygon = polygon_of(ring);
    for (double x = -0.5; x <= 5.5; x += 0.5) {
      for (double y = -0.5; y <= 5.5; y += 0.5)
        ASSERT_EQ(inside_or_on(ring, {x, y}), polygon.bounded_side({x, y}) != CGAL::ON_UNBOUNDED_SIDE);
    }
  }
}

TEST(Outline, SaysWhatIsWrongAndWhere) {
  EXPECT_EQ(outline_fault({{0, 0}, {1, 0}})->kind, Kind::too_few);
  const auto twice = outline_fault({{0, 0}, {1, 0}, {1, 0}, {0, 1}});
  ASSERT_TRUE(twice);
  EXPECT_EQ(twice->kind, Kind::repeated);
  EXPECT_EQ(twice->corner, 2U);
  EXPECT_EQ(outline_fault({{0, 0}, {1, 1}, {2, 2}})->kind, Kind::no_area);
  const auto bow_tie = outline_fault({{0, 0}, {2, 2}, {2, 0}, {0, 2}});
  ASSERT_TRUE(bow_tie);
  EXPECT_EQ(bow_tie->kind, Kind::crossing);
  EXPECT_EQ(bow_tie->other, 0U);
  EXPECT_EQ(bow_tie->corner, 2U);
}

}  // namespace
}  // namespace zoneproof::site
