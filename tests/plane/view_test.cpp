// What is seen from a point, on floors small enough to see through.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "plane/visibility.hpp"

namespace zoneproof::plane {
namespace {

const Box room{{0, 0}, {8, 8}};

/// A floor, and views from it.
struct Plan {
  std::vector<Segment> walls;
  Triangulation triangulation;
  Visibility visibility;
  View view;

  explicit Plan(std::vector<Segment> all = {})
      : walls(std::move(all)), triangulation(arrange(walls, room)), visibility(triangulation) {}
  Plan(const Plan&) = delete;  // the visibility refers to the triangulation

  const View& from(Point eye) {
    EXPECT_TRUE(visibility.from(eye, view));
    return view;
  }
  const View& from(Point eye, Point towards) {
    EXPECT_TRUE(visibility.from(eye, towards, view));
    return view;
  }
  std::int32_t input(const Corner& corner) const {
    return corner.wall == none ? -2 : triangulation.arrangement().inputs_of(corner.wall).back();
  }
};

std::vector<Point> points(const View& view) {
  std::vector<Point> result;
  for (const Corner& corner : view.corners()) result.push_back(corner.at);
  return result;
}

/// The corner at a point; a test fails without it.
Corner corner_at(const View& view, Point p) {
  for (const Corner& corner : view.corners()) {
    if (corner.at == p) return corner;
  }
  ADD_FAILURE() << "no corner at " << p.x << ", " << p.y;
  return {};
}

TEST(View, OfAnEmptyRoomIsTheRoom) {
  Plan plan;
  EXPECT_EQ(plan.from({3, 5}).area(), 64.0);
  EXPECT_EQ(plan.view.corners().size(), 4U);
}

//   8 +---------------+
//     |  . shadow .   |
//   4 |   2===4       |     wall 0 from (2, 4) to (4, 4), eye at (3, 2)
//   2 |     e         |
//   0 +---------------+
TEST(View, BehindAFreeStandingWallIsHidden) {
  Plan plan(std::vector<Segment>{{{2, 4}, {4, 4}}});
  const View& view = plan.from({3, 2});
  EXPECT_EQ(view.area(), 64.0 - (2.0 + 6.0) / 2.0 * 4.0);
  const Corner right = corner_at(view, {4, 4}), left = corner_at(view, {2, 4});
  EXPECT_EQ(plan.input(right), 0) << "from the wall's right end to its left the view ends on it";
  EXPECT_EQ(left.wall, none);
  EXPECT_EQ(left.behind, left.vertex) << "then it opens, past the vertex itself";
  const Corner far = corner_at(view, {6, 8});
  EXPECT_EQ(far.vertex, none);
  EXPECT_EQ(far.wall, none);
  EXPECT_EQ(far.behind, right.vertex);
  EXPECT_EQ(plan.input(corner_at(view, {0, 8})), Arrangement::of_bound);
}

TEST(View, OfAWallSeenEdgeOnIsAsIfItWereNotThere) {
  Plan plan(std::vector<Segment>{{{3, 4}, {3, 6}}});
  EXPECT_EQ(plan.from({3, 2}).area(), 64.0);
  EXPECT_EQ(plan.view.corners().size(), 4U) << "no corner where nothing begins or ends";
}

TEST(View, GoesThroughAWallThatDoesNotObstruct) {
  Plan plan(std::vector<Segment>{{{2, 4}, {4, 4}, false}, {{0, 3}, {8, 3}, false}});
  EXPECT_EQ(plan.from({3, 2}).area(), 64.0);
  EXPECT_EQ(plan.from({3, 3}).area(), 64.0);
  EXPECT_EQ(plan.from({3, 3}, {3, 4}).area(), 64.0);
}

TEST(View, PastTwoWallsThatEndOnOneRayHasNoNeedle) {
  Plan plan(std::vector<Segment>{{{1, 4}, {4, 4}}, {{4, 6}, {7, 6}}});  // from (4, 2) the ray upward touches both ends
  const View& view = plan.from({4, 2});
  for (const Point p : points(view)) EXPECT_NE(p, (Point{4, 8}));
  const Corner far = corner_at(view, {4, 6});
  EXPECT_EQ(far.wall, none);
  EXPECT_EQ(far.behind, corner_at(view, {4, 4}).vertex) << "the nearer end is what one looks past";
}

TEST(View, FromAWallSeesTheSideAskedForOrBoth) {
  Plan plan(std::vector<Segment>{{{2, 4}, {6, 4}}});
  EXPECT_EQ(plan.from({4, 4}).area(), 64.0) << "both half planes: the wall is edge-on";
  EXPECT_EQ(plan.from({4, 4}, {5, 9}).area(), 32.0);
  EXPECT_EQ(plan.view.corners()[0].at, (Point{4, 4}));
  EXPECT_EQ(plan.view.corners()[0].vertex, none);
  EXPECT_EQ(plan.input(plan.view.corners()[0]), 0);
  EXPECT_EQ(points(plan.view), std::vector<Point>({{4, 4}, {6, 4}, {8, 4}, {8, 8}, {0, 8}, {0, 4}, {2, 4}}));
  EXPECT_EQ(plan.input(plan.view.corners()[6]), 0);
  EXPECT_EQ(plan.view.corners()[5].behind, plan.view.corners()[6].vertex);
  EXPECT_EQ(plan.from({4, 4}, {4, 3}).area(), 32.0);
  EXPECT_EQ(points(plan.from({4, 4}, {6, 4})), points(plan.from({4, 4}, {4, 7})))
      << "along the wall: to the left of it";
}

TEST(View, FromTheEndOfAWallIsAllAround) {
  Plan plan(std::vector<Segment>{{{2, 4}, {6, 4}}});
  EXPECT_EQ(plan.from({2, 4}).area(), 64.0);
  EXPECT_EQ(plan.from({2, 4}, {3, 5}).area(), 64.0);
}

TEST(View, FromACornerOfTwoWallsIsTheSideAskedFor) {
  Plan plan(std::vector<Segment>{{{4, 4}, {8, 4}}, {{4, 4}, {4, 8}}});
  EXPECT_EQ(plan.from({4, 4}).area(), 64.0);
  EXPECT_EQ(plan.from({4, 4}, {5, 5}).area(), 16.0);
  EXPECT_EQ(plan.view.corners()[0].at, (Point{4, 4}));
  EXPECT_EQ(plan.triangulation.point(plan.view.corners()[0].vertex), (Point{4, 4}));
  EXPECT_EQ(plan.from({4, 4}, {3, 5}).area(), 48.0);
  EXPECT_EQ(plan.from({4, 4}, {8, 4}).area(), 16.0) << "along the wall: to the left of it";
  EXPECT_EQ(plan.from({4, 4}, {4, 8}).area(), 48.0);
}

TEST(View, FromACrossingSeesTheQuarterAskedFor) {
  Plan plan(std::vector<Segment>{{{0, 4}, {8, 4}}, {{4, 0}, {4, 8}}});
  for (const Point towards : {Point{5, 5}, {3, 5}, {3, 3}, {5, 3}}) {
    EXPECT_EQ(plan.from({4, 4}, towards).area(), 16.0);
    EXPECT_EQ(plan.view.corners().size(), 4U);
  }
}

TEST(View, FromTheBoundIsInward) {
  Plan plan(std::vector<Segment>{{{4, 0}, {4, 4}}});
  EXPECT_EQ(plan.from({2, 0}).area(), 36.0);
  EXPECT_EQ(plan.from({0, 0}).area(), 40.0);
  EXPECT_EQ(plan.from({4, 0}).area(), 64.0);
  EXPECT_EQ(plan.from({4, 0}, {3, 1}).area(), 32.0);
  EXPECT_EQ(plan.from({4, 0}, {5, 1}).area(), 32.0);
  EXPECT_TRUE(plan.from({2, 0}, {2, -1}).corners().empty()) << "out of the bound nothing is seen";
}

TEST(View, FromOutsideOfTheBoundIsRefused) {
  Plan plan;
  for (const Point eye : {Point{-1, 2}, {9, 9}, {std::nan(""), 2}}) {
    EXPECT_FALSE(plan.visibility.from(eye, plan.view));
    EXPECT_FALSE(plan.visibility.from(eye, {1, 1}, plan.view));
    EXPECT_TRUE(plan.view.corners().empty());
    EXPECT_EQ(plan.view.area(), 0.0);
  }
  EXPECT_THROW(plan.visibility.from({1, 1}, {1, 1}, plan.view), std::invalid_argument);
}

}  // namespace
}  // namespace zoneproof::plane
