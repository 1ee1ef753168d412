// Views between random walls against exact rational numbers, and what holds for any of them.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "plane/exact_view.hpp"
#include "plane/predicates.hpp"
#include "plane/random_floor.hpp"
#include "plane/visibility.hpp"

namespace zoneproof::plane {
namespace {

constexpr double relative = 1e-9;

struct Views {
  Triangulation triangulation;
  Visibility visibility;
  View view;
  explicit Views(const Floor& floor) : triangulation(arrange(floor.walls, floor.bound)), visibility(triangulation) {}
  double area(Point eye) {
    EXPECT_TRUE(visibility.from(eye, view));
    return view.area();
  }
};

TEST(Floors, ShowTheAreaThatExactNumbersGive) {
  int on_walls = 0;
  for (std::uint64_t seed = 0; seed < 500; ++seed) {
    const Floor floor = random_floor(seed, 2 + static_cast<int>(seed % 14), seed % 2 == 0 ? 5 : 12);
    Views views(floor);
    for (const Point eye : random_eyes(seed, floor, 6)) {
      const double exact = exact_seen_area(floor.walls, floor.bound, eye);
      ASSERT_NEAR(views.area(eye), exact, relative * exact) << "seed " << seed << " eye " << eye.x << ", " << eye.y;
      on_walls += views.triangulation.locate(eye, 0)->kind == Place::Kind::inside ? 0 : 1;
    }
  }
  EXPECT_GT(on_walls, 600) << "else the hard cases are missing";
}

/// Every side lies on the wall that it names, or on a ray past the vertex that it names; corners follow each other
/// around.
void expect_sides_as_told(const Views& views, Point eye) {
  const auto corners = views.view.corners();
  const Triangulation& t = views.triangulation;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Corner &a = corners[i], &b = corners[(i + 1) % corners.size()];
    ASSERT_GE(twice_area(eye, a.at, b.at), -1e-9);
    if (a.vertex != none) {
      ASSERT_EQ(t.point(a.vertex), a.at);
    }
    if (a.wall == none) {
      ASSERT_TRUE(a.behind == a.vertex || a.behind == b.vertex);
      ASSERT_NE(a.behind, none);
      ASSERT_NEAR(twice_area(eye, a.at, b.at), 0.0, 1e-9);
      const Corner &near = a.behind == a.vertex ? a : b, &far = a.behind == a.vertex ? b : a;
      ASSERT_LT(std::hypot(near.at.x - eye.x, near.at.y - eye.y), std::hypot(far.at.x - eye.x, far.at.y - eye.y));
      continue;
    }
    const Edge& edge = t.arrangement().edges[static_cast<std::size_t>(a.wall)];
    ASSERT_TRUE(edge.obstructs);
    ASSERT_EQ(a.behind, none);
    for (const Point p : {a.at, b.at}) ASSERT_NEAR(twice_area(t.point(edge.from), t.point(edge.to), p), 0.0, 1e-9);
  }
}

TEST(Floors, AreSeenWithSidesAsTold) {
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    const Floor floor = random_floor(seed, 16, 10);
    Views views(floor);
    for (const Point eye : random_eyes(seed, floor, 10)) {
      views.area(eye);
      expect_sides_as_told(views, eye);
    }
  }
}

/// The parts between walls that meet at the eye make the whole.
TEST(Floors, AreSeenFromAWallSideBySide) {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    const Floor floor = random_floor(seed, 12, 6);
    Views views(floor);
    for (const Segment& wall : floor.walls) {
      const Point middle{(wall.from.x + wall.to.x) / 2, (wall.from.y + wall.to.y) / 2};
      const auto place = views.triangulation.locate(middle, 0);
      if (place->kind != Place::Kind::on_edge || wall.from == wall.to || !wall.obstructs) continue;
      const double all = views.area(middle);
      double sides = 0.0;
      for (const Point towards : {wall.from, wall.to}) {
        ASSERT_TRUE(views.visibility.from(middle, towards, views.view));
        sides += views.view.area();
        if (!views.view.corners().empty()) {
          ASSERT_EQ(views.view.corners()[0].at, middle);
        }
      }
      ASSERT_NEAR(sides, all, relative * all);
    }
  }
}

Floor moved(const Floor& floor, Point (*move)(Point)) {
  Floor result = floor;
  for (Segment& wall : result.walls) wall = {move(wall.from), move(wall.to), wall.obstructs};
  const Point a = move(floor.bound.low), b = move(floor.bound.high);
  result.bound = {{std::min(a.x, b.x), std::min(a.y, b.y)}, {std::max(a.x, b.x), std::max(a.y, b.y)}};
  return result;
}

TEST(Floors, MirroredTurnedAndMovedShowTheSame) {
  Point (*const moves[])(Point) = {[](Point p) {
                                     return Point{-p.x, p.y};
                                   },
                                   [](Point p) {
                                     return Point{p.y, p.x};
                                   },
                                   [](Point p) {
                                     return Point{-p.y, p.x};
                                   },
                                   [](Point p) {
                                     return Point{p.x + 1024.25, p.y - 77.5};
                                   },
                                   [](Point p) {
                                     return Point{p.x * 0x1p-30, p.y * 0x1p-30};
                                   }};
  const double scales[] = {1.0, 1.0, 1.0, 1.0, 0x1p-60};
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    const Floor floor = random_floor(seed, 16, 10);
    Views here(floor);
    for (std::size_t m = 0; m < std::size(moves); ++m) {
      Views there(moved(floor, moves[m]));
      for (const Point eye : random_eyes(seed, floor, 5)) {
        const double area = here.area(eye) * scales[m];
        ASSERT_NEAR(there.area(moves[m](eye)), area, relative * area);
        ASSERT_EQ(there.view.corners().size(), here.view.corners().size());
      }
    }
  }
}

TEST(Floors, WithOneWallMoreNeverShowMore) {
  for (std::uint64_t seed = 0; seed < 60; ++seed) {
    Floor floor = random_floor(seed, 14, 9);
    const std::vector<Segment> all = floor.walls;
    const std::vector<Point> eyes = random_eyes(seed, floor, 5);
    std::vector<double> before(eyes.size(), floor.bound.high.x * floor.bound.high.y);
    for (std::size_t walls = 0; walls <= all.size(); ++walls) {
      floor.walls.assign(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(walls));
      Views views(floor);
      for (std::size_t i = 0; i < eyes.size(); ++i) {
        const double area = views.area(eyes[i]);
        ASSERT_LE(area, before[i] * (1.0 + relative));
        before[i] = area;
      }
    }
  }
}

/// What is seen sees back: from a point within the view the eye lies within the view.
TEST(Floors, SeeBack) {
  for (std::uint64_t seed = 0; seed < 100; ++seed) {
    const Floor floor = random_floor(seed, 16, 10);
    Views views(floor), back(floor);
    for (Point eye : random_eyes(seed, floor, 4)) {
      eye = {0.9 * eye.x + 0.4321, 0.9 * eye.y + 0.1234};  // off the grid: in no line with walls
      views.area(eye);
      const auto corners = views.view.corners();
      for (std::size_t i = 0; i < corners.size(); ++i) {
        const Point a = corners[i].at, b = corners[(i + 1) % corners.size()].at;
        if (twice_area(eye, a, b) < 1e-3) continue;
        const Point seen{eye.x + 0.45 * (a.x - eye.x) + 0.45 * (b.x - eye.x),
                         eye.y + 0.45 * (a.y - eye.y) + 0.45 * (b.y - eye.y)};
        back.area(seen);
        const auto around = back.view.corners();
        bool inside = false;
        for (std::size_t k = 0; k < around.size(); ++k) {
          const Point c = around[k].at, d = around[(k + 1) % around.size()].at;
          inside = inside || (orientation(seen, c, eye) >= 0 && orientation(seen, d, eye) <= 0 &&
                              orientation(c, d, eye) >= 0 && orientation(seen, c, d) > 0);
        }
        ASSERT_TRUE(inside) << "seed " << seed;
      }
    }
  }
}

}  // namespace
}  // namespace zoneproof::plane
