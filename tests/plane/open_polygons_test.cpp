// Views inside of the open art-gallery polygons (AGPLIB, as published with the CAGP-Solver repository of JanSiemsen)
// against those of CGAL 5.5 with exact constructions. Skipped where the machine does not have the polygons
// (ZONEPROOF_OPEN_DATA).
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "cgal_view.hpp"
#include "open_polygon.hpp"
#include "plane/predicates.hpp"
#include "plane/visibility.hpp"

namespace zoneproof::plane {
namespace {

constexpr double of_the_whole = 1e-9;  // of the area, and of the polygon's size for a corner

double ring_area(const std::vector<Point>& ring, Point about) {
  double twice = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point a = ring[i], b = ring[(i + 1) % ring.size()];
    twice += (a.x - about.x) * (b.y - about.y) - (a.y - about.y) * (b.x - about.x);
  }
  return 0.5 * twice;
}

/// A polygon whose corners are multiples of the arrangement's step, so that both sides see the same one; the outer ring
/// is counter-clockwise and no ring has two equal corners in a row.
open_data::Polygon on_steps(open_data::Polygon polygon) {
  const double step = finest_step(polygon.bound());
  for (auto& ring : polygon.rings) {
    for (Point& p : ring) p = {std::floor(p.x / step + 0.5) * step, std::floor(p.y / step + 0.5) * step};
    ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
  }
  if (ring_area(polygon.rings[0], {0, 0}) < 0.0) std::reverse(polygon.rings[0].begin(), polygon.rings[0].end());
  return polygon;
}

struct Both {
  open_data::Polygon polygon;
  Triangulation triangulation;
  Visibility visibility;
  cgal::Views cgal;
  View view;

  explicit Both(const std::filesystem::path& file)
      : polygon(on_steps(open_data::read_polygon(file))),
        triangulation(arrange(polygon.walls(), polygon.bound())),
        visibility(triangulation),
        cgal(polygon.rings, cgal::Kernel::exact) {}

  double size() const { return polygon.box().high.x - polygon.box().low.x; }

  void expect_same(const std::vector<Point>& reference, Point eye) {
    const double area = ring_area(reference, eye);
    ASSERT_NEAR(view.area(), area, of_the_whole * area) << polygon.name << " from " << eye.x << ", " << eye.y;
    expect_same_corners(corners(), reference, eye);
  }

  std::vector<Point> corners() const {
    std::vector<Point> result;
    for (const Corner& corner : view.corners()) result.push_back(corner.at);
    return result;
  }

  void expect_same_corners(const std::vector<Point>& a, const std::vector<Point>& b, Point eye) const {
    ASSERT_EQ(a.size(), b.size()) << polygon.name << " from " << eye.x << ", " << eye.y;
    std::size_t shift = 0;
    while (shift < a.size() && !same(a, b, shift)) ++shift;
    ASSERT_LT(shift, a.size()) << polygon.name << ": other corners from " << eye.x << ", " << eye.y;
  }

  /// From an eye that may be in line with walls.
  void expect_same_turns(const std::vector<Point>& reference, Point eye) {
    const double area = ring_area(reference, eye);
    ASSERT_NEAR(view.area(), area, of_the_whole * area) << polygon.name << " from " << eye.x << ", " << eye.y;
    expect_same_corners(with_turns(corners(), eye), with_turns(reference, eye), eye);
  }

  /// Vertices that are seen are the same doubles; constructed corners lie within `of_the_whole` of the polygon's size.
  bool same(const std::vector<Point>& a, const std::vector<Point>& b, std::size_t shift) const {
    for (std::size_t i = 0; i < a.size(); ++i) {
      const Point p = a[i], q = b[(i + shift) % b.size()];
      if (p != q && (is_vertex(p) || std::hypot(p.x - q.x, p.y - q.y) > of_the_whole * size())) return false;
    }
    return true;
  }

  bool is_vertex(Point p) const {
    const auto seen = view.corners();
    return std::any_of(seen.begin(), seen.end(), [&](const Corner& c) { return c.at == p && c.vertex != none; });
  }

  /// Without corners between their neighbours in line with the eye. An eye that is in line with a wall makes some: CGAL
  /// counts vertices within a window, but not the eye within a side.
  std::vector<Point> with_turns(const std::vector<Point>& ring, Point eye) const {
    std::vector<Point> result;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Point before = ring[(i + ring.size() - 1) % ring.size()], here = ring[i],
                  after = ring[(i + 1) % ring.size()];
      const double most = of_the_whole * size();
      const bool in_line =
          std::abs(twice_area(before, here, after)) < most * std::hypot(after.x - before.x, after.y - before.y) &&
          std::abs(twice_area(eye, before, here)) < most && std::abs(twice_area(eye, here, after)) < most;
      if (!in_line || !between(before, after, here)) result.push_back(here);
    }
    return result;
  }
};

class OpenPolygons : public testing::Test {
 protected:
  void SetUp() override {
    if (open_data::polygon_files().empty())
      GTEST_SKIP() << "the open polygons are not on this machine (ZONEPROOF_OPEN_DATA)";
  }
};

TEST_F(OpenPolygons, AreSeenFromAThousandPointsInsideAsByCgal) {
  for (const auto& file : open_data::polygon_files()) {
    Both both(file);
    for (const Point eye : open_data::points_inside(both.polygon, 1000, 7)) {
      ASSERT_TRUE(both.visibility.from(eye, both.view));
      both.expect_same(both.cgal.from(eye), eye);
      if (HasFatalFailure()) break;
    }
  }
}

TEST_F(OpenPolygons, AreSeenFromTheirCornersAndSidesAsByCgal) {
  std::size_t from_sides = 0;
  for (const auto& file : open_data::polygon_files()) {
    Both both(file);
    const auto& ring = both.polygon.rings[0];
    const std::size_t stride = std::max<std::size_t>(1, ring.size() / 150);
    for (std::size_t i = 0; i < ring.size(); i += stride) {
      const Point a = ring[i], b = ring[(i + 1) % ring.size()], c = ring[(i + 2) % ring.size()];
      ASSERT_TRUE(both.visibility.from(b, c, both.view));
      both.expect_same_turns(both.cgal.from_side(b, i), b);
      const Point middle{a.x + 0.5 * (b.x - a.x), a.y + 0.5 * (b.y - a.y)};
      if (HasFatalFailure()) return;
      if (orientation(a, b, middle) != 0) continue;
      ++from_sides;
      ASSERT_TRUE(both.visibility.from(middle, b, both.view));
      both.expect_same_turns(both.cgal.from_side(middle, i), middle);
      if (HasFatalFailure()) return;
    }
  }
  EXPECT_GT(from_sides, 500U);
}

}  // namespace
}  // namespace zoneproof::plane
