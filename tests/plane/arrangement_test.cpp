// What an arrangement promises, on walls of every kind.
#include "plane/arrangement.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "plane/predicates.hpp"
#include "plane/random_floor.hpp"

namespace zoneproof::plane {
namespace {

const Box square{{0.0, 0.0}, {8.0, 8.0}};

std::vector<std::int32_t> inputs_between(const Arrangement& arrangement, Point a, Point b) {
  for (std::size_t e = 0; e < arrangement.edges.size(); ++e) {
    const Point from = arrangement.vertices[static_cast<std::size_t>(arrangement.edges[e].from)];
    const Point to = arrangement.vertices[static_cast<std::size_t>(arrangement.edges[e].to)];
    if ((from == a && to == b) || (from == b && to == a)) {
      const auto inputs = arrangement.inputs_of(static_cast<std::int32_t>(e));
      return {inputs.begin(), inputs.end()};
    }
  }
  return {};
}

using Inputs = std::vector<std::int32_t>;

TEST(Arrangement, SplitsWallsWhereTheyCross) {
  const Segment walls[] = {{{1, 1}, {5, 5}}, {{1, 5}, {5, 1}}};
  const Arrangement cross = arrange(walls, square);
  EXPECT_EQ(cross.vertices.size(), 4U + 5U);
  EXPECT_EQ(inputs_between(cross, {1, 1}, {3, 3}), Inputs({0}));
  EXPECT_EQ(inputs_between(cross, {3, 3}, {5, 1}), Inputs({1}));
  EXPECT_EQ(inputs_between(cross, {0, 0}, {8, 0}), Inputs({Arrangement::of_bound}));
}

TEST(Arrangement, SplitsAWallWhereAnotherTouchesIt) {
  const Segment walls[] = {{{1, 1}, {5, 3}}, {{3, 2}, {3, 7}}};
  const Arrangement tee = arrange(walls, square);
  EXPECT_EQ(tee.edges.size(), 4U + 3U);
  EXPECT_EQ(inputs_between(tee, {3, 2}, {5, 3}), Inputs({0}));
}

TEST(Arrangement, KeepsEveryInputOfWallsThatLieOnEachOther) {
  const Segment walls[] = {
      {{1, 1}, {5, 1}, false}, {{3, 1}, {7, 1}}, {{5, 1}, {3, 1}}, {{2, 2}, {2, 2}}, {{0, 3}, {0, 0}}};
  const Arrangement lying = arrange(walls, square);
  EXPECT_EQ(inputs_between(lying, {1, 1}, {3, 1}), Inputs({0}));
  EXPECT_EQ(inputs_between(lying, {3, 1}, {5, 1}), Inputs({0, 1, 2}));
  EXPECT_EQ(inputs_between(lying, {5, 1}, {7, 1}), Inputs({1}));
  EXPECT_EQ(inputs_between(lying, {0, 0}, {0, 3}), Inputs({Arrangement::of_bound, 4}));
  for (const Edge& edge : lying.edges) {
    const Point from = lying.vertices[static_cast<std::size_t>(edge.from)];
    EXPECT_EQ(edge.obstructs, from != (Point{1, 1}));
  }
}

TEST(Arrangement, ClosesTheSlitsOfASloppyDrawingAtACoarseStep) {
  const double step = 0x1p-10;
  const Segment walls[] = {{{1, 1}, {3, 1}}, {{3.0001, 1.0002}, {3, 5}}, {{2.0, 1.0003}, {2, 6}}};
  EXPECT_EQ(arrange(walls, square).vertices.size(), 4U + 6U);
  const Arrangement closed = arrange(walls, square, step);
  EXPECT_EQ(closed.vertices.size(), 4U + 5U);
  EXPECT_EQ(inputs_between(closed, {1, 1}, {2, 1}), Inputs({0}));
}

TEST(Arrangement, RefusesWhatIsNoFloor) {
  const auto walls_to = [](double x) { return std::vector<Segment>{{{1, 1}, {x, 1}}}; };
  EXPECT_THROW(arrange(walls_to(9.0), square), std::invalid_argument);
  EXPECT_THROW(arrange(walls_to(std::nan("")), square), std::invalid_argument);
  EXPECT_THROW(arrange(walls_to(2.0), square, 0.1), std::invalid_argument);
  EXPECT_THROW(arrange(walls_to(2.0), square, 0x1p-60), std::invalid_argument);
  EXPECT_THROW(arrange({}, {{0, 0}, {8, 0}}), std::invalid_argument);
  EXPECT_THROW(arrange({}, {{0, 0}, {std::numeric_limits<double>::infinity(), 1}}), std::invalid_argument);
}

/// Every pair of edges meets at common ends only, and no vertex lies on an edge.
void expect_sound(const Arrangement& arrangement) {
  const auto at = [&](Vertex v) { return arrangement.vertices[static_cast<std::size_t>(v)]; };
  for (std::size_t i = 0; i < arrangement.edges.size(); ++i) {
    const Point a = at(arrangement.edges[i].from), b = at(arrangement.edges[i].to);
    ASSERT_NE(a, b);
    for (const Point p : arrangement.vertices) ASSERT_FALSE(orientation(a, b, p) == 0 && between(a, b, p));
    for (std::size_t j = i + 1; j < arrangement.edges.size(); ++j) {
      const Point c = at(arrangement.edges[j].from), d = at(arrangement.edges[j].to);
      ASSERT_FALSE(a == c && b == d);
      ASSERT_FALSE(orientation(a, b, c) * orientation(a, b, d) < 0 && orientation(c, d, a) * orientation(c, d, b) < 0);
    }
  }
}

double distance(Point p, Point a, Point b) {
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  const double t =
      length == 0.0 ? 0.0
                    : std::clamp(((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / (length * length), 0.0, 1.0);
  return std::hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y));
}

void expect_close(const Arrangement& arrangement, const Floor& floor) {
  for (std::size_t e = 0; e < arrangement.edges.size(); ++e) {
    for (const std::int32_t input : arrangement.inputs_of(static_cast<std::int32_t>(e))) {
      if (input == Arrangement::of_bound) continue;
      const Segment& wall = floor.walls[static_cast<std::size_t>(input)];
      for (const Vertex v : {arrangement.edges[e].from, arrangement.edges[e].to})
        ASSERT_LE(distance(arrangement.vertices[static_cast<std::size_t>(v)], wall.from, wall.to),
                  1.5 * arrangement.step);
    }
  }
}

/// The chain of every wall leads from one end to the other.
void expect_whole(const Arrangement& arrangement, const Floor& floor) {
  std::vector<std::vector<Vertex>> odd_ends(floor.walls.size());
  for (std::size_t e = 0; e < arrangement.edges.size(); ++e) {
    for (const std::int32_t input : arrangement.inputs_of(static_cast<std::int32_t>(e))) {
      if (input == Arrangement::of_bound) continue;
      auto& ends = odd_ends[static_cast<std::size_t>(input)];
      for (const Vertex v : {arrangement.edges[e].from, arrangement.edges[e].to}) {
        const auto found = std::find(ends.begin(), ends.end(), v);
        if (found == ends.end())
          ends.push_back(v);
        else
          ends.erase(found);
      }
    }
  }
  for (std::size_t i = 0; i < odd_ends.size(); ++i) {
    if (odd_ends[i].empty()) continue;  // shrunk to a vertex
    ASSERT_EQ(odd_ends[i].size(), 2U);
    for (const Point end : {floor.walls[i].from, floor.walls[i].to})
      ASSERT_TRUE(std::any_of(odd_ends[i].begin(), odd_ends[i].end(), [&](Vertex v) {
        return distance(arrangement.vertices[static_cast<std::size_t>(v)], end, end) <= arrangement.step;
      }));
  }
}

TEST(Arrangement, OfAnyWallsIsSoundCloseAndWholeAtFineAndAtCoarseSteps) {
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    Floor floor = random_floor(seed, 24, seed % 2 == 0 ? 6 : 40);
    if (seed % 3 == 0) {  // bundles of nearly parallel walls
      for (std::size_t i = 1; i < floor.walls.size(); i += 2) {
        floor.walls[i] = floor.walls[i - 1];
        floor.walls[i].from.x = std::min(floor.bound.high.x, floor.walls[i].from.x + 0.01);
      }
    }
    for (const double step : {0.0, 0.25, 2.0}) {
      const Arrangement arrangement =
          arrange(floor.walls, floor.bound, floor.bound.high.x < 32.0 && step == 2.0 ? 0.125 : step);
      expect_sound(arrangement);
      expect_close(arrangement, floor);
      expect_whole(arrangement, floor);
    }
  }
}

TEST(Arrangement, DoesNotDependOnTheOrderOrDirectionOfWalls) {
  for (std::uint64_t seed = 0; seed < 20; ++seed) {
    Floor floor = random_floor(seed, 30, 40);
    const Arrangement one = arrange(floor.walls, floor.bound, 0.5);
    std::reverse(floor.walls.begin(), floor.walls.end());
    for (Segment& wall : floor.walls) std::swap(wall.from, wall.to);
    const Arrangement other = arrange(floor.walls, floor.bound, 0.5);
    ASSERT_EQ(one.vertices, other.vertices);
    ASSERT_EQ(one.edges.size(), other.edges.size());
    for (std::size_t e = 0; e < one.edges.size(); ++e) {
      ASSERT_EQ(one.edges[e].from, other.edges[e].from);
      ASSERT_EQ(one.edges[e].to, other.edges[e].to);
      ASSERT_EQ(one.edges[e].obstructs, other.edges[e].obstructs);
    }
  }
}

}  // namespace
}  // namespace zoneproof::plane
