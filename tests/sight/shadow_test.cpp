// What prisms and cones hide, place by place, against methods that decide for one place alone.
#include "sight/shadow.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "sight/cone.hpp"
#include "sight/random_camera.hpp"
#include "sight/scene.hpp"

namespace zoneproof::sight {
namespace {

using plane::Point;

const plane::Box field{{-15, -15}, {15, 15}};
/// Nearer to a border than this, both methods may differ by rounding.
constexpr double kNear_m = 1e-6;

/// A star-shaped outline, a rectangle, or a screen; heights at, above and below eye and band, often the same as theirs.
Prism random_prism(std::mt19937_64& random) {
  Prism prism;
  prism.body = random() % 3 != 0;
  const double x = within(random, -8, 8), y = within(random, -8, 8);
  if (prism.body) {
    const int corners = 3 + static_cast<int>(random() % 5);
    for (int i = 0; i < corners; ++i) {
      const double angle = 2.0 * M_PI * (i + within(random, 0, 0.6)) / corners, far = within(random, 0.3, 4);
      prism.outline.push_back({x + far * std::cos(angle), y + far * std::sin(angle)});
    }
  } else {
    prism.outline = {{x, y}, {x + within(random, -5, 5), y + within(random, -5, 5)}};
  }
  constexpr double heights[] = {0.0, 0.4, 0.9, 1.0, 1.05, 1.3, 1.7, 2.1, 2.6, 3.0};
  do {
    prism.bottom_m = heights[random() % 10];
    prism.top_m = heights[random() % 10];
  } while (prism.bottom_m >= prism.top_m);
  if (random() % 5 == 0) prism.top_m = std::numeric_limits<double>::infinity();
  return prism;
}

Eye random_eye(std::mt19937_64& random) {
  constexpr double heights[] = {0.0, 0.5, 0.9, 1.2, 1.7, 2.3, 2.6, 3.5};
  return {{within(random, -8, 8), within(random, -8, 8)}, heights[random() % 8]};
}

Band random_band(std::mt19937_64& random) {
  constexpr Band bands[] = {{0.0, 1.7}, {0.9, 1.7}, {1.2, 1.2}, {0.4, 2.1}, {0.0, 0.9}};
  return bands[random() % 5];
}

bool near_border(const Outlines& pieces, Point p) {
  for (const auto& piece : pieces)
    if (distance_to(piece, p) < kNear_m) return true;
  return false;
}

bool in_any(const Outlines& pieces, Point p) {
  for (const auto& piece : pieces)
    if (holds({piece}, p)) return true;
  return false;
}

TEST(Shadow, HoldsExactlyThePlacesOfWhichSomeHeightIsHidden) {
  std::mt19937_64 random(11);
  int hidden = 0, seen = 0;
  for (int i = 0; i < 3000; ++i) {
    const Prism prism = random_prism(random);
    const Eye eye = random_eye(random);
    const Band band = random_band(random);
    const auto stretch = hidden_stretch(eye.height_m, band, prism.bottom_m, prism.top_m, Hides::some);
    const Outlines pieces = stretch ? shadow(eye.at, prism.outline, prism.body, *stretch, field) : Outlines{};
    for (int k = 0; k < 60; ++k) {
      const Point place = {within(random, -15, 15), within(random, -15, 15)};
      const double gap = gap_to(prism, eye, band, place);
      if (std::abs(gap) < kNear_m || near_border(pieces, place)) continue;
      ASSERT_EQ(in_any(pieces, place), gap < 0.0)
          << "prism " << i << ", place " << place.x << ", " << place.y << ", gap " << gap << " body " << prism.body
          << " from " << prism.bottom_m << " to " << prism.top_m << ", eye " << eye.height_m << ", band " << band.low_m
          << " to " << band.high_m;
      ++(gap < 0.0 ? hidden : seen);
    }
  }
  EXPECT_GT(hidden, 10000);
  EXPECT_GT(seen, 10000);
}

TEST(Shadow, OfAScreenThatHidesAllHoldsExactlyThePlacesOfWhichBothEndsAreHidden) {
  std::mt19937_64 random(12);
  int hidden = 0;
  for (int i = 0; i < 6000; ++i) {
    const Prism prism = random_prism(random);
    const Eye eye = random_eye(random);
    const Band band = random_band(random);
    const auto stretch = hidden_stretch(eye.height_m, band, prism.bottom_m, prism.top_m, Hides::all);
    const Outlines pieces = stretch ? shadow(eye.at, prism.outline, prism.body, *stretch, field) : Outlines{};
    for (int k = 0; k < 60; ++k) {
      const Point place = {within(random, -15, 15), within(random, -15, 15)};
      const double low = gap_to(prism, eye, {band.low_m, band.low_m}, place);
      const double high = gap_to(prism, eye, {band.high_m, band.high_m}, place);
      if (std::abs(low) < kNear_m || std::abs(high) < kNear_m || near_border(pieces, place)) continue;
      const bool all = low < 0.0 && high < 0.0;
      // A body may hide each height by another part of it; that such a place counts as reached is on the safe side.
      if (prism.body && all && !in_any(pieces, place)) continue;
      ASSERT_EQ(in_any(pieces, place), all) << "prism " << i << ", body " << prism.body << ", place " << place.x << ", "
                                            << place.y << ", gaps " << low << ", " << high;
      hidden += all ? 1 : 0;
    }
  }
  EXPECT_GT(hidden, 5000);
}

TEST(HiddenStretch, OfALintelBeginsAtNineFifthsOfItsDistanceAndDoesNotEnd) {
  const auto stretch = hidden_stretch(2.6, {0.9, 1.7}, 2.1, 3.0, Hides::some);
  ASSERT_TRUE(stretch);
  EXPECT_DOUBLE_EQ(1.0 / stretch->to, 1.8);
  EXPECT_EQ(stretch->from, 0.0);
}

/// Whether some height of a band at a place is in a cone: of every side the height that it allows, in line.
double depth_in_cone(const std::vector<Vector3>& rays, const Eye& eye, const Band& band, Point place) {
  Vector3 middle;
  for (const Vector3& ray : rays) middle = middle + unit(ray);
  double from = band.low_m, to = band.high_m;
  for (std::size_t i = 0; i < rays.size(); ++i) {
    Vector3 inward = unit(cross(rays[i], rays[(i + 1) % rays.size()]));
    if (dot(inward, middle) < 0.0) inward = -1.0 * inward;
    // inward . (place - eye) >= 0, linear in the height.
    const double flat = inward.x * (place.x - eye.at.x) + inward.y * (place.y - eye.at.y) - inward.z * eye.height_m;
    if (std::abs(inward.z) < 1e-12) {
      if (flat < 0.0) return -std::numeric_limits<double>::infinity();
      continue;
    }
    const double border = -flat / inward.z;
    if (inward.z > 0.0)
      from = std::max(from, border);
    else
      to = std::min(to, border);
  }
  return to - from;
}

void hold_cone(const std::vector<Vector3>& rays, const Eye& eye, const Band& band, std::mt19937_64& random,
               const std::string& which) {
  const std::vector<Point> piece = places_in_cone(eye, rays, band, field);
  for (int k = 0; k < 60; ++k) {
    const Point place = {within(random, -15, 15), within(random, -15, 15)};
    const double depth = depth_in_cone(rays, eye, band, place);
    const bool inside = holds({piece}, place);
    // The hull is laid through points that may be 1e9 times as far.
    if (std::abs(depth) < kNear_m || (!piece.empty() && distance_to(piece, place) < 1e-5)) continue;
    ASSERT_EQ(inside, depth >= 0.0) << which << ", place " << place.x << ", " << place.y << ", depth " << depth;
  }
}

TEST(Cone, HoldsExactlyThePlacesOfWhichSomeHeightIsInIt) {
  std::mt19937_64 random(13);
  for (int i = 0; i < 4000; ++i) {
    const Vector3 axis = unit({within(random, -1, 1), within(random, -1, 1), within(random, -1, 1)});
    const Vector3 side = unit(cross(axis, std::abs(axis.z) < 0.9 ? Vector3{0, 0, 1} : Vector3{1, 0, 0}));
    const Vector3 other = cross(axis, side);
    const int count = 3 + static_cast<int>(random() % 4);
    const double open = within(random, 0.05, 1.4), first = within(random, 0, 6);
    std::vector<Vector3> rays;
    for (int k = 0; k < count; ++k) {
      const double turn = first + 2.0 * M_PI * k / count;
      rays.push_back(unit(std::cos(open) * axis + std::sin(open) * (std::cos(turn) * side + std::sin(turn) * other)));
    }
    if (i % 2 == 0) std::reverse(rays.begin(), rays.end());
    hold_cone(rays, random_eye(random), random_band(random), random, "cone " + std::to_string(i));
    if (HasFatalFailure()) return;
  }
}

/// Sides along the horizon, as of a mask that begins in the middle row of a level camera: exactly level, or beside it
/// by rounding, upward or downward.
TEST(Cone, WithALevelSideReachesToTheHorizon) {
  std::mt19937_64 random(14);
  for (const double first : {0.0, 1e-17, -1e-17, 1e-13, -1e-13}) {
    for (const double second : {0.0, 1e-17, -1e-17, 1e-13, -1e-13}) {
      for (const double steep : {-0.3, 0.3}) {
        const std::vector<Vector3> rays = {
            {-0.5, 1.0, first}, {0.5, 1.0, second}, {0.4, 1.0, steep}, {-0.4, 1.0, steep}};
        hold_cone(rays, {{0.0, 0.0}, 1.3}, {0.9, 1.7}, random,
                  "level by " + std::to_string(first * 1e17) + " and " + std::to_string(second * 1e17));
        hold_cone(rays, {{0.0, 0.0}, 2.6}, {0.9, 1.7}, random, "from above");
        hold_cone({rays[0], rays[1], rays[2]}, {{0.0, 0.0}, 2.6}, {0.9, 1.7}, random, "triangle, from above");
        hold_cone({rays[0], rays[1], rays[2]}, {{0.0, 0.0}, 0.5}, {0.9, 1.7}, random, "triangle, from below");
        if (HasFatalFailure()) return;
      }
    }
  }
}

TEST(HalfSpace, HoldsExactlyThePlacesOfWhichAnEndOfTheBandIsInIt) {
  std::mt19937_64 random(15);
  for (int i = 0; i < 2000; ++i) {
    const Vector3 normal = {within(random, -1, 1), within(random, -1, 1), within(random, -1, 1)};
    const double offset = within(random, -6, 6);
    const Eye eye = random_eye(random);
    const Band band = random_band(random);
    const std::vector<Point> piece = places_in_half_space(eye, normal, offset, band, field);
    for (int k = 0; k < 30; ++k) {
      const Point place = {within(random, -15, 15), within(random, -15, 15)};
      const auto at = [&](double height) {
        return dot(normal, {place.x - eye.at.x, place.y - eye.at.y, height - eye.height_m}) - offset;
      };
      const double most = std::max(at(band.low_m), at(band.high_m));
      if (std::abs(most) < kNear_m) continue;
      ASSERT_EQ(holds({piece}, place), most > 0.0) << i;
    }
  }
}

}  // namespace
}  // namespace zoneproof::sight
