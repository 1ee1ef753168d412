// Regions laid over each other, held against exact rational slabs and against the Boolean operations of CGAL.
#include "plane/overlay.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "plane/exact_regions.hpp"

namespace zoneproof::plane {
namespace {

constexpr double step = 0x1p-13;
const Box sheet{{-1, -1}, {17, 17}};

bool has(std::span<const Label> labels, Label label) {
  return std::find(labels.begin(), labels.end(), label) != labels.end();
}

/// Whole coordinates: sides are shared, repeated and collinear, corners lie on sides. Rings cross themselves.
Ring random_ring(std::mt19937_64& random, Label label, int corners) {
  Ring ring;
  ring.label = label;
  for (int i = 0; i < corners; ++i)
    ring.corners.push_back({static_cast<double>(random() % 17), static_cast<double>(random() % 17)});
  return ring;
}

std::vector<Ring> random_rings(std::mt19937_64& random) {
  std::vector<Ring> rings;
  const int count = 1 + static_cast<int>(random() % 5);
  for (int i = 0; i < count; ++i)
    rings.push_back(random_ring(random, static_cast<Label>(random() % 3), 1 + static_cast<int>(random() % 7)));
  if (random() % 3 == 0) rings.push_back(rings.front());
  if (random() % 3 == 0) {  // a hole of just that shape
    rings.push_back(rings.back());
    std::reverse(rings.back().corners.begin(), rings.back().corners.end());
  }
  return rings;
}

/// Of every side no more than 1.5 steps on either side changes hands.
double rounding(const std::vector<Ring>& rings) { return 3.0 * step * perimeter(rings) + 1e-9; }

TEST(Overlay, AgreesWithExactSlabsForRingsThatCrossThemselvesInAnyWay) {
  std::mt19937_64 random(1);
  for (int i = 0; i < 400; ++i) {
    const std::vector<Ring> rings = random_rings(random);
    const Overlay overlay(rings, sheet, step);
    SCOPED_TRACE(i);
    for (unsigned wanted = 1; wanted < 8; ++wanted) {
      const double ours = overlay.area_where([&](auto labels) {
        unsigned here = 0;
        for (const Label label : labels) here |= 1U << label;
        return here == wanted;
      });
      const double exact = exact_area(rings, [&](const auto& windings) {
        unsigned here = 0;
        for (const auto& [label, turn] : windings) here |= 1U << label;
        return here == wanted;
      });
      EXPECT_NEAR(ours, exact, rounding(rings)) << "set " << wanted;
    }
  }
}

TEST(Overlay, WithCrossingsOnTheGridIsExactToTheLastDigits) {
  std::mt19937_64 random(2);
  for (int i = 0; i < 200; ++i) {
    std::vector<Ring> rings;
    for (int k = 0; k < 6; ++k) {  // upright: they cross in whole places
      const auto x = static_cast<double>(random() % 16), y = static_cast<double>(random() % 16);
      const double wide = 1.0 + static_cast<double>(random() % 6), high = 1.0 + static_cast<double>(random() % 6);
      const double east = std::min(16.0, x + wide), north = std::min(16.0, y + high);
      rings.push_back({{{x, y}, {east, y}, {east, north}, {x, north}}, static_cast<Label>(k % 2)});
      if (random() % 4 == 0) std::reverse(rings.back().corners.begin(), rings.back().corners.end());
    }
    const Overlay overlay(rings, sheet, step);
    const auto both = [](auto labels) { return has(labels, 0) && has(labels, 1); };
    EXPECT_NEAR(overlay.area_where(both), exact_area(rings, [](const auto& w) { return w.size() == 2; }), 1e-9);
  }
}

/// A simple polygon on the grid that bulges around a middle; counter-clockwise.
std::vector<Point> random_star(std::mt19937_64& random) {
  const double x = 4.0 + static_cast<double>(random() % 9), y = 4.0 + static_cast<double>(random() % 9);
  std::vector<Point> star;
  const int corners = 3 + static_cast<int>(random() % 6);
  for (int i = 0; i < corners; ++i) {
    const double angle = 2.0 * 3.14159265358979 * i / corners, far = 1.0 + static_cast<double>(random() % 12) / 4.0;
    star.push_back(
        {x + std::round(4.0 * far * std::cos(angle)) / 4.0, y + std::round(4.0 * far * std::sin(angle)) / 4.0});
  }
  return star;
}

TEST(Overlay, UnitesIntersectsAndSubtractsAsCgalDoes) {
  std::mt19937_64 random(3);
  for (int i = 0; i < 150; ++i) {
    std::vector<std::vector<Point>> a, b;
    std::vector<Ring> rings;
    for (int k = 0; k < 6; ++k) {
      (k % 2 == 0 ? a : b).push_back(random_star(random));
      rings.push_back({(k % 2 == 0 ? a : b).back(), k % 2});
    }
    if (i % 3 == 0) {  // one of them twice, and in both
      b.push_back(a.front());
      rings.push_back({a.front(), 1});
      rings.push_back({a.front(), 0});
    }
    const Overlay overlay(rings, sheet, step);
    SCOPED_TRACE(i);
    EXPECT_NEAR(overlay.area_where([](auto labels) { return !labels.empty(); }), cgal_area(a, b, Operation::unite),
                rounding(rings));
    EXPECT_NEAR(overlay.area_where([](auto labels) { return has(labels, 0) && has(labels, 1); }),
                cgal_area(a, b, Operation::intersect), rounding(rings));
    EXPECT_NEAR(overlay.area_where([](auto labels) { return has(labels, 0) && !has(labels, 1); }),
                cgal_area(a, b, Operation::subtract), rounding(rings));
  }
}

TEST(Overlay, PartsCoverTheirClassOnceAndTheirOutlinesHoldTheirArea) {
  std::mt19937_64 random(4);
  for (int i = 0; i < 200; ++i) {
    const std::vector<Ring> rings = random_rings(random);
    const Overlay overlay(rings, sheet, step);
    SCOPED_TRACE(i);
    const auto parts = overlay.parts([](auto labels) { return labels.empty() ? none : labels.front(); });
    double sum = 0.0;
    std::vector<int> taken(static_cast<std::size_t>(overlay.triangle_count()), 0);
    for (const Part& part : parts) {
      sum += part.area;
      for (const std::int32_t triangle : part.triangles) ++taken[static_cast<std::size_t>(triangle)];
      const auto outlines = overlay.outlines(part);
      ASSERT_FALSE(outlines.empty());
      EXPECT_GT(ring_area(outlines.front()), 0.0);
      double of_outlines = 0.0;
      for (std::size_t k = 0; k < outlines.size(); ++k) {
        of_outlines += ring_area(outlines[k]);
        EXPECT_EQ(k == 0, ring_area(outlines[k]) > 0.0) << "one outer ring, then holes";
      }
      EXPECT_NEAR(of_outlines, part.area, 1e-9);
    }
    EXPECT_NEAR(sum, overlay.area_where([](auto labels) { return !labels.empty(); }), 1e-9);
    EXPECT_LE(*std::max_element(taken.begin(), taken.end()), 1);
  }
}

TEST(Overlay, OutlinesOfAFrameAreItsOuterSideAndItsHole) {
  const std::vector<Ring> rings = {{{{0, 0}, {8, 0}, {8, 4}, {8, 8}, {0, 8}}, 0},
                                   {{{2, 2}, {2, 6}, {6, 6}, {6, 2}}, 0}};  // clockwise: a hole
  const Overlay overlay(rings, sheet, step);
  const auto parts = overlay.parts([](auto labels) { return labels.empty() ? none : 0; });
  ASSERT_EQ(parts.size(), 1U);
  EXPECT_EQ(parts[0].area, 48.0);
  const auto outlines = overlay.outlines(parts[0]);
  ASSERT_EQ(outlines.size(), 2U);
  EXPECT_EQ(outlines[0].size(), 4U) << "the corner within a side is left out";
  EXPECT_EQ(ring_area(outlines[0]), 64.0);
  EXPECT_EQ(ring_area(outlines[1]), -16.0);
}

TEST(Overlay, PartsThatTouchInACornerOnlyAreTwo) {
  const std::vector<Ring> rings = {{{{0, 0}, {4, 0}, {4, 4}, {0, 4}}, 0}, {{{4, 4}, {8, 4}, {8, 8}, {4, 8}}, 0}};
  const Overlay overlay(rings, sheet, step);
  EXPECT_EQ(overlay.parts([](auto labels) { return labels.empty() ? none : 0; }).size(), 2U);
}

TEST(Overlay, TheOrderOfRingsDoesNotCount) {
  std::mt19937_64 random(5);
  for (int i = 0; i < 100; ++i) {
    std::vector<Ring> rings = random_rings(random);
    const auto measure = [&] {
      const Overlay overlay(rings, sheet, step);
      std::vector<double> areas;
      for (unsigned wanted = 1; wanted < 8; ++wanted)
        areas.push_back(overlay.area_where([&](auto labels) {
          unsigned here = 0;
          for (const Label label : labels) here |= 1U << label;
          return here == wanted;
        }));
      return areas;
    };
    const std::vector<double> before = measure();
    std::shuffle(rings.begin(), rings.end(), random);
    for (Ring& ring : rings)  // nor does the corner that a ring begins with
      std::rotate(ring.corners.begin(), ring.corners.begin() + 1, ring.corners.end());
    EXPECT_EQ(measure(), before) << i;
  }
}

TEST(Overlay, ATriangleLiesWhollyInOrOutOfEveryRing) {
  std::mt19937_64 random(6);
  for (int i = 0; i < 100; ++i) {
    const std::vector<Ring> rings = random_rings(random);
    const Overlay overlay(rings, sheet, step);
    for (std::int32_t triangle = 0; triangle < overlay.triangle_count(); ++triangle) {
      if (overlay.area(triangle) < 0.01) continue;  // its middle is clear of what was rounded, mostly
      const Point p = overlay.middle(triangle);
      std::map<Label, double> angles;
      double nearest = 1.0;
      for (const Ring& ring : rings) {
        for (std::size_t k = 0; k < ring.corners.size(); ++k) {
          const Point a = ring.corners[k], b = ring.corners[(k + 1) % ring.corners.size()];
          const double ux = a.x - p.x, uy = a.y - p.y, vx = b.x - p.x, vy = b.y - p.y;
          angles[ring.label] += std::atan2(ux * vy - uy * vx, ux * vx + uy * vy);
          const double size = std::hypot(b.x - a.x, b.y - a.y);
          if (size > 0.0) nearest = std::min(nearest, std::abs((b.x - a.x) * uy - (b.y - a.y) * ux) / size);
        }
      }
      if (nearest < 4.0 * step) continue;
      for (const auto& [label, angle] : angles)
        EXPECT_EQ(std::abs(angle) > 1.0, has(overlay.labels(overlay.set_of(triangle)), label)) << "floor " << i;
    }
  }
}

TEST(Overlay, RefusesWhatItsArrangementRefuses) {
  const std::vector<Ring> outside = {{{{0, 0}, {40, 0}, {40, 1}}, 0}};
  EXPECT_THROW(Overlay(outside, sheet, step), std::invalid_argument);
  EXPECT_THROW(Overlay({}, sheet, 0.3), std::invalid_argument);
  EXPECT_EQ(Overlay({}, sheet, step).area_where([](auto labels) { return labels.empty(); }), 18.0 * 18.0);
}

/// Convex polygons with corners at infinity: hulls, wedges and strips.
ProjectivePolygon random_convex(std::mt19937_64& random) {
  std::uniform_real_distribution<double> number(-20.0, 20.0);
  std::vector<Point> points;
  for (int i = 0; i < 6; ++i) points.push_back({number(random), number(random)});
  ProjectivePolygon polygon;
  const std::vector<Point> hull = convex_hull(points);
  const double w = std::exp(number(random) / 4.0);
  for (const Point p : hull) polygon.push_back({p.x * w, p.y * w, w});
  if (random() % 2 == 0) return polygon;
  // From two neighbouring corners on to infinity, away from the others: what a side's shadow is.
  const Point a = hull[0], b = hull[1];
  const Point eye = {a.x + b.x - hull[2].x + 0.25 * (hull[2].x - a.x),
                     a.y + b.y - hull[2].y + 0.25 * (hull[2].y - a.y)};
  const double turn = (a.x - eye.x) * (b.y - eye.y) - (a.y - eye.y) * (b.x - eye.x);
  const Point &first = turn > 0.0 ? a : b, &second = turn > 0.0 ? b : a;
  return {{first.x, first.y, 1.0},
          {first.x - eye.x, first.y - eye.y, 0.0},
          {second.x - eye.x, second.y - eye.y, 0.0},
          {second.x, second.y, 1.0}};
}

TEST(ProjectivePolygons, CutToABoxHoldTheExactArea) {
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> number(-10.0, 10.0);
  int empty = 0, not_empty = 0;
  for (int i = 0; i < 2000; ++i) {
    const ProjectivePolygon polygon = random_convex(random);
    const Point origin = {number(random), number(random)};
    const Box box = {{number(random) - 12.0, number(random) - 12.0}, {number(random) + 12.0, number(random) + 12.0}};
    const std::vector<Point> kept = cut_to_box(polygon, origin, box);
    for (const Point p : kept) EXPECT_TRUE(box.holds(p));
    const double exact = exact_area_in_box(polygon, origin, box);
    EXPECT_NEAR(ring_area(kept), exact, 1e-10) << i;
    ++(exact > 0.0 ? not_empty : empty);
  }
  EXPECT_GT(empty, 20);
  EXPECT_GT(not_empty, 500);
}

TEST(ProjectivePolygons, CutByAHalfPlaneAreWhatCgalLeaves) {
  std::mt19937_64 random(8);
  for (int i = 0; i < 200; ++i) {
    const std::vector<Point> star = random_star(random);
    ProjectivePolygon polygon;
    for (const Point p : star) polygon.push_back({p.x, p.y, 1.0});
    const auto whole = [&] { return static_cast<double>(random() % 9) - 4.0; };
    const HalfPlane half = {whole(), whole(), 8.0 * whole()};
    std::vector<Point> kept;
    for (const ProjectivePoint& p : cut(polygon, half)) kept.push_back({p.x / p.w, p.y / p.w});
    // The half-plane as far as a box reaches, by the same exact lines.
    ProjectivePolygon border = cut({{-1, -1, 1}, {17, -1, 1}, {17, 17, 1}, {-1, 17, 1}}, half);
    std::vector<Point> side;
    for (const ProjectivePoint& p : border) side.push_back({p.x, p.y});
    side = convex_hull(side);
    const double exact = side.size() < 3 ? 0.0 : cgal_area({star}, {side}, Operation::intersect);
    EXPECT_NEAR(ring_area(kept), exact, 1e-9) << i;  // also of stars that are not convex: sides cancel
  }
}

TEST(ConvexHull, IsThatOfCgal) {
  std::mt19937_64 random(9);
  for (int i = 0; i < 500; ++i) {
    std::vector<Point> points;
    const int count = 1 + static_cast<int>(random() % 40);
    const std::uint64_t size = i % 2 == 0 ? 6 : 100000;  // a coarse grid: repeated and collinear ones
    for (int k = 0; k < count; ++k)
      points.push_back({static_cast<double>(random() % size), static_cast<double>(random() % size)});
    std::vector<Point> ours = convex_hull(points), theirs = cgal_hull(points);
    const auto from_least = [](std::vector<Point>& ring) {
      const auto before = [](Point a, Point b) { return a.x != b.x ? a.x < b.x : a.y < b.y; };
      std::rotate(ring.begin(), std::min_element(ring.begin(), ring.end(), before), ring.end());
    };
    if (theirs.size() < 3) {
      EXPECT_LT(ours.size(), 3U) << i;
      continue;
    }
    from_least(ours), from_least(theirs);
    EXPECT_EQ(ours, theirs) << i;
  }
}

}  // namespace
}  // namespace zoneproof::plane
