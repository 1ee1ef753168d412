// What a triangulation promises: it is one, it keeps every wall, it is Delaunay elsewhere, and points are found in it.
#include "plane/triangulation.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "plane/locator.hpp"
#include "plane/predicates.hpp"
#include "plane/random_floor.hpp"

namespace zoneproof::plane {
namespace {

void expect_triangles_fit(const Triangulation& t) {
  double twice = 0.0;
  for (Half h = 0; h < t.half_count(); ++h) {
    const Half twin = t.twin(h);
    if (twin != none) {
      ASSERT_EQ(t.twin(twin), h);
      ASSERT_EQ(t.origin(twin), t.target(h));
      ASSERT_EQ(t.target(twin), t.origin(h));
      ASSERT_EQ(t.edge(twin), t.edge(h));
    } else {
      ASSERT_NE(t.edge(h), none) << "the bound is an edge";
    }
    const Point a = t.point(t.origin(h)), b = t.point(t.target(h)), c = t.point(t.origin(previous(h)));
    ASSERT_EQ(orientation(a, b, c), 1);
    if (h % 3 == 0) twice += twice_area(a, b, c);
  }
  const Box& bound = t.arrangement().bound;
  const double whole = 2.0 * (bound.high.x - bound.low.x) * (bound.high.y - bound.low.y);
  ASSERT_NEAR(twice, whole, 1e-12 * whole);
}

void expect_constrained_delaunay(const Triangulation& t) {
  for (Half h = 0; h < t.half_count(); ++h) {
    if (t.edge(h) != none) continue;
    const Point a = t.point(t.origin(h)), b = t.point(t.target(h)), c = t.point(t.origin(previous(h)));
    ASSERT_LE(in_circle(a, b, c, t.point(t.origin(previous(t.twin(h))))), 0);
  }
}

void expect_all_edges(const Triangulation& t) {
  const auto& edges = t.arrangement().edges;
  for (std::size_t e = 0; e < edges.size(); ++e) {
    const Half h = t.between(edges[e].from, edges[e].to);
    ASSERT_NE(h, none);
    ASSERT_EQ(t.edge(h), static_cast<std::int32_t>(e));
  }
  std::size_t marked = 0;
  for (Half h = 0; h < t.half_count(); ++h) marked += t.edge(h) != none && (t.twin(h) == none || t.twin(h) > h) ? 1 : 0;
  ASSERT_EQ(marked, edges.size());
}

void expect_found(const Triangulation& t, Point p) {
  const Locator locator(t);
  const auto place = locator.locate(p);
  ASSERT_TRUE(place.has_value());
  const Half h = place->half;
  int turns[3];
  for (int i = 0; i < 3; ++i) {
    const Half side = h - h % 3 + i;
    turns[i] = orientation(t.point(t.origin(side)), t.point(t.target(side)), p);
    ASSERT_GE(turns[i], 0);
  }
  const auto zeros = std::count(turns, turns + 3, 0);
  ASSERT_EQ(zeros, place->kind == Place::Kind::inside ? 0 : place->kind == Place::Kind::on_edge ? 1 : 2);
  if (place->kind == Place::Kind::on_edge) {
    ASSERT_EQ(turns[h % 3], 0);
  }
  if (place->kind == Place::Kind::at_vertex) {
    ASSERT_EQ(t.point(t.origin(h)), p);
  }
  for (const Half near : {0, t.half_count() / 2, t.half_count() - 1}) ASSERT_EQ(t.locate(p, near)->half, h);
}

TEST(Triangulation, OfAnyFloorIsConstrainedDelaunay) {
  for (std::uint64_t seed = 0; seed < 80; ++seed) {
    const Floor floor = random_floor(seed, seed % 4 == 0 ? 3 : 30, seed % 2 == 0 ? 6 : 50);
    const Triangulation t(arrange(floor.walls, floor.bound, seed % 3 == 0 ? 0.125 : 0.0));
    expect_triangles_fit(t);
    expect_constrained_delaunay(t);
    expect_all_edges(t);
    for (const Point p : random_eyes(seed, floor, 20)) expect_found(t, p);
  }
}

/// Long walls through many triangles, some of which turn back behind others: the forced edges' hardest case.
TEST(Triangulation, TakesLongWallsThroughCombsOfShortOnes) {
  for (int teeth = 1; teeth < 40; teeth += 3) {
    std::vector<Segment> walls = {{{1, 50}, {99, 50.5}}, {{1, 49}, {99, 49.5}}};
    for (int i = 0; i < teeth; ++i) {
      const double x = 5.0 + 90.0 * i / teeth, depth = 0.01 * ((i * 7) % 11);
      walls.push_back({{x, 90}, {x + 0.3, 51 + depth}});
      walls.push_back({{x, 10}, {x - 0.2, 48.5 - depth}});
    }
    const Triangulation t(arrange(walls, {{0, 0}, {100, 100}}));
    expect_triangles_fit(t);
    expect_constrained_delaunay(t);
    expect_all_edges(t);
  }
}

TEST(Triangulation, FindsNothingOutsideOfTheBound) {
  const Triangulation t(arrange({}, {{0, 0}, {4, 4}}));
  for (const Point p : {Point{-1, 2}, {5, 2}, {2, 4.0000001}, {std::nan(""), 1}}) {
    EXPECT_FALSE(t.locate(p, 0).has_value());
    EXPECT_FALSE(Locator(t).locate(p).has_value());
  }
  EXPECT_TRUE(t.locate({0, 0}, 0).has_value());
  EXPECT_TRUE(t.locate({4, 2}, 0).has_value());
}

}  // namespace
}  // namespace zoneproof::plane
