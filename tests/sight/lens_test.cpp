// What a lens promises: it leads back to where it came from, it knows where its terms end, and how its picture grows.
#include "sight/lens.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "random_camera.hpp"
#include "sight/polynomial.hpp"

namespace zoneproof::sight {
namespace {

using site::Projection;

TEST(Polynomial, FirstRootIsFoundAmongMany) {
  // (x - 1)(x - 2)(x - 3) times -1, positive at 0.
  const double three[] = {6, -11, 6, -1};
  EXPECT_NEAR(*first_root(three, 100), 1.0, 1e-14);
  const double none[] = {1, 0, 1};
  EXPECT_FALSE(first_root(none, 1e9).has_value());
  const double beyond[] = {5, -1};
  EXPECT_FALSE(first_root(beyond, 4).has_value());
  EXPECT_DOUBLE_EQ(*first_root(beyond, HUGE_VAL), 5.0);
}

/// Barrel terms turn back where 1 + 3 k1 r^2 = 0: with k1 = -1/3 at r = 1, whose place is at 2/3.
TEST(Lens, ABarrelEndsWhereItsTermsTurnBack) {
  const Lens lens({Projection::pinhole, -1.0 / 3.0, 0, 0, 0, 0});
  EXPECT_NEAR(lens.range(), 1.0, 1e-12);
  EXPECT_NEAR(lens.reach(), 2.0 / 3.0, 1e-12);
  EXPECT_TRUE(lens.place_of({0.999, 0, 1}).has_value());
  EXPECT_FALSE(lens.place_of({1.001, 0, 1}).has_value());
  EXPECT_TRUE(lens.direction_of({0, 0.6666}).has_value());
  EXPECT_FALSE(lens.direction_of({0, 0.6667}).has_value());
}

TEST(Lens, APincushionAndAPinholeNeverEnd) {
  EXPECT_TRUE(std::isinf(Lens({Projection::pinhole, 0.2, 0.1, 0, 0, 0}).range()));
  const Lens plain(LensTerms{});
  EXPECT_TRUE(plain.is_straight());
  EXPECT_TRUE(std::isinf(plain.reach()));
  EXPECT_FALSE(plain.place_of({0, 0, -1}).has_value());
  EXPECT_FALSE(plain.place_of({1, 0, 0}).has_value());
}

TEST(Lens, AFisheyeSeesBehindItself) {
  const Lens lens({Projection::equidistant, 0, 0, 0, 0, 0});
  EXPECT_DOUBLE_EQ(lens.range(), std::numbers::pi);
  const auto side = lens.place_of({1, 0, 0});
  EXPECT_DOUBLE_EQ(side->x, std::numbers::pi / 2);
  const auto behind = lens.place_of({0, 1, -1});
  EXPECT_DOUBLE_EQ(behind->y, 0.75 * std::numbers::pi);
  EXPECT_FALSE(lens.place_of({0, 0, -1}).has_value());
  const auto back = lens.direction_of({0, 0.75 * std::numbers::pi});
  EXPECT_NEAR(back->z, -std::sqrt(0.5), 1e-15);
}

/// Held against a walk outward in small steps: the radial place grows as far as the range goes, and no farther.
TEST(Lens, RangeIsWhereThePlaceStopsGrowing) {
  std::mt19937_64 random(5);
  int ended = 0;
  for (int i = 0; i < 300; ++i) {
    LensTerms terms;
    terms.projection = i % 2 == 0 ? Projection::pinhole : Projection::equidistant;
    terms.k1 = within(random, -0.5, 0.3);
    terms.k2 = within(random, -0.3, 0.3);
    terms.k3 = within(random, -0.2, 0.2);
    const Lens lens(terms);
    const auto place = [&](double r) { return r * (1 + r * r * (terms.k1 + r * r * (terms.k2 + r * r * terms.k3))); };
    constexpr double kStep = 1e-3, kFar = 3.1;
    double turned = kFar;
    for (double r = 0; r < kFar && turned == kFar; r += kStep) {
      if (place(r + kStep) <= place(r)) turned = r;
    }
    if (turned < kFar) {
      EXPECT_NEAR(lens.range(), turned, 2 * kStep);
      ++ended;
    } else {
      EXPECT_GE(lens.range(), kFar);
    }
  }
  EXPECT_GT(ended, 100);
}

/// Within the range, what a place shows falls on the place: no two directions share one.
TEST(Lens, LeadsBackToWhereItCameFrom) {
  std::mt19937_64 random(6);
  for (const Bend bend : {Bend::none, Bend::radial, Bend::tangential, Bend::fisheye}) {
    for (int i = 0; i < 300; ++i) {
      const Lens lens = random_camera(random, bend).lens();
      const double end = std::min(lens.range(), bend == Bend::fisheye ? 3.1 : 3.0);
      for (int k = 0; k < 20; ++k) {
        const double r = end * 0.999 * within(random, 0, 1), around = within(random, 0, 2 * std::numbers::pi);
        const Vector3 d = bend == Bend::fisheye
                              ? Vector3{std::sin(r) * std::cos(around), std::sin(r) * std::sin(around), std::cos(r)}
                              : unit({r * std::cos(around), r * std::sin(around), 1.0});
        const auto place = lens.place_of(d);
        ASSERT_TRUE(place.has_value());
        // The inverse is promised up to the reach; with tangential terms a rim of the range lies beyond it.
        if (!(std::hypot(place->x, place->y) < lens.reach())) continue;
        const auto back = lens.direction_of(*place);
        ASSERT_TRUE(back.has_value());
        const double steep = lens.growth(d)->least;
        EXPECT_LT(angle_between(*back, d), 1e-13 * (1 + std::hypot(place->x, place->y)) / std::min(1.0, steep));
      }
    }
  }
}

/// Growth against differences of places a millionth of a radian apart, in 64 ways to turn.
TEST(Lens, GrowsAsFastAsItsPlacesMove) {
  std::mt19937_64 random(7);
  constexpr double kTurn = 1e-6;
  for (const Bend bend : {Bend::none, Bend::radial, Bend::tangential, Bend::fisheye}) {
    for (int i = 0; i < 50; ++i) {
      const CameraModel camera = random_camera(random, bend);
      const Lens& lens = camera.lens();
      const double far = 0.9 * std::min(lens.reach(), 2.5) * within(random, 0, 1);
      const auto d = lens.direction_of({far * 0.6, far * 0.8});
      ASSERT_TRUE(d.has_value());
      const Vector3 one = unit(cross(*d, std::abs(d->x) < 0.7 ? Vector3{1, 0, 0} : Vector3{0, 1, 0}));
      const Vector3 two = cross(*d, one);
      double least = HUGE_VAL, most = 0;
      for (int k = 0; k < 64; ++k) {
        const double way = std::numbers::pi * k / 64;
        const Vector3 step = kTurn * (std::cos(way) * one + std::sin(way) * two);
        const auto a = lens.place_of(*d - step), b = lens.place_of(*d + step);
        ASSERT_TRUE(a && b);
        const double rate = std::hypot(b->x - a->x, b->y - a->y) / (2 * kTurn);
        least = std::min(least, rate);
        most = std::max(most, rate);
      }
      const Growth growth = *lens.growth(*d);
      EXPECT_LE(growth.least, least * (1 + 1e-6));
      EXPECT_GE(growth.most, most * (1 - 1e-6));
      // The ways are pi / 64 apart: the extremes lie within half of that of one of them.
      const double beside = std::numbers::pi / 128;
      EXPECT_LE(least, std::hypot(growth.least, growth.most * std::sin(beside)) * (1 + 1e-6));
      EXPECT_GE(most, growth.most * std::cos(beside) * (1 - 1e-6));
    }
  }
}

}  // namespace
}  // namespace zoneproof::sight
