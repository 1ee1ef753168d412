// What has to hold for every building, area and camera.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "sight/height_share.hpp"
#include "sight/random_camera.hpp"
#include "sight/random_scene.hpp"

namespace zoneproof::sight {
namespace {

using plane::Point;

constexpr int kScenes = 100;
constexpr double kGrid_m = 1.0 / 8192.0;

Drawn cover(const RandomScene& made) {
  return {coverage(made.scene.building, made.sources, made.cameras, made.demand, 0.0)};
}

/// Sides of regions are rounded to the grid, each by 1.5 steps at most on either side; those that end within an area
/// are borders of something.
double rounding(const Drawn& a, const Drawn& b) {
  return 3.0 * kGrid_m * (a.length_of_borders() + b.length_of_borders()) + 1e-6;
}

/// A storey whose area stays, whatever stands in it.
RandomScene with_drawn_area(std::uint64_t seed) {
  RandomScene made = random_scene(seed);
  made.sources = {drawn(rectangle(0.5, 0.5, 15.5, 11.5))};
  return made;
}

TEST(CoverageProperty, ABlockerMoreNeverAddsWitnessedArea) {
  for (std::uint64_t seed = 1; seed <= kScenes; ++seed) {
    RandomScene made = with_drawn_area(seed);
    const Drawn before = cover(made);
    const RandomScene other = random_scene(seed + 5000);
    for (const Prism& prism : other.scene.building.prisms) {
      if (prism.surface != site::Surface::solid) continue;
      made.scene.add(ThingKind::block, prism.body, prism.outline, prism.bottom_m, prism.top_m);
    }
    // One of them may stand at the camera, which then stands off it: left out.
    const bool clear_of_cameras = std::all_of(made.cameras.begin(), made.cameras.end(), [&](const Watching& camera) {
      return std::all_of(made.scene.building.prisms.begin() + 4, made.scene.building.prisms.end(), [&](const Prism& p) {
        return distance_to(p.outline, {camera.model.eye().x, camera.model.eye().y}) > 0.01;
      });
    });
    if (!clear_of_cameras) continue;
    const Drawn after = cover(made);
    EXPECT_LE(after.found.witnessed_m2, before.found.witnessed_m2 + rounding(before, after)) << seed;
  }
}

TEST(CoverageProperty, ATallerBandNeverSeesMore) {
  for (std::uint64_t seed = 1; seed <= kScenes; ++seed) {
    RandomScene made = with_drawn_area(seed);
    const Drawn before = cover(made);
    made.demand.from_m = std::max(0.0, made.demand.from_m - 0.3);
    made.demand.to_m += 0.2;
    const Drawn after = cover(made);
    EXPECT_LE(after.found.witnessed_m2, before.found.witnessed_m2 + rounding(before, after)) << seed;
  }
}

TEST(CoverageProperty, AHigherDemandNeverSeesMore) {
  for (std::uint64_t seed = 1; seed <= kScenes; ++seed) {
    RandomScene made = with_drawn_area(seed);
    for (Watching& camera : made.cameras) camera.px_per_m = 0.0;
    Drawn before = cover(made);
    for (const double asked : {30.0, 60.0, 120.0, 250.0}) {
      for (Watching& camera : made.cameras) camera.px_per_m = asked;
      Drawn after = cover(made);
      EXPECT_LE(after.found.witnessed_m2, before.found.witnessed_m2 + rounding(before, after)) << seed;
      before = std::move(after);
    }
  }
}

TEST(CoverageProperty, TwoCamerasSeeAtLeastWhatTheBetterOneDoes) {
  for (std::uint64_t seed = 1; seed <= kScenes; ++seed) {
    const RandomScene made = with_drawn_area(seed);
    if (made.cameras.size() < 2) continue;
    const Drawn both = cover(made);
    double sum = 0.0;
    for (const Watching& camera : made.cameras) {
      RandomScene alone = made;
      alone.cameras = {camera};
      const Drawn one = cover(alone);
      EXPECT_GE(both.found.witnessed_m2, one.found.witnessed_m2 - rounding(both, one)) << seed;
      EXPECT_NEAR(both.found.by_camera_m2.at(camera.camera), one.found.witnessed_m2, rounding(both, one)) << seed;
      sum += one.found.witnessed_m2;
    }
    EXPECT_LE(both.found.witnessed_m2, sum + rounding(both, both)) << seed;
    EXPECT_LE(both.found.witnessed_m2, both.found.area_m2 + 1e-9) << seed;
  }
}

/// A map of the plan that keeps lengths: turned, mirrored (x becomes -x first), moved.
struct Motion {
  double turn_deg = 0.0, x = 0.0, y = 0.0;
  bool mirrored = false;

  Point of(Point p) const {
    const double c = std::cos(turn_deg * M_PI / 180.0), s = std::sin(turn_deg * M_PI / 180.0);
    const double from_x = mirrored ? -p.x : p.x;
    return {c * from_x - s * p.y + x, s * from_x + c * p.y + y};
  }
  std::vector<Point> of(const std::vector<Point>& ring) const {
    std::vector<Point> moved;
    for (const Point p : ring) moved.push_back(of(p));
    if (mirrored) std::reverse(moved.begin(), moved.end());
    return moved;
  }
  CameraSetup of(CameraSetup setup) const {
    const Point eye = of(Point{setup.eye.x, setup.eye.y});
    setup.eye = {eye.x, eye.y, setup.eye.z};
    setup.bearing_deg = (mirrored ? -setup.bearing_deg : setup.bearing_deg) - turn_deg;
    if (mirrored) setup.roll_deg = -setup.roll_deg;
    if (mirrored)
      for (CameraSetup::Mask& mask : setup.masks)
        for (PicturePlace& corner : mask.corners)
          corner.across_px = static_cast<double>(setup.encoded_width_px) - corner.across_px;
    return setup;
  }
  RandomScene of(RandomScene made) const {
    for (Prism& prism : made.scene.building.prisms) prism.outline = of(prism.outline);
    for (AreaSource& source : made.sources) {
      for (auto& ring : source.outlines) ring = of(ring);
      if (!source.looks) continue;
      const Point here = source.looks->eye.at, ahead = source.looks->heading;
      const Point next = of(Point{here.x + ahead.x, here.y + ahead.y});
      source.looks->eye.at = of(here);
      source.looks->heading = {next.x - source.looks->eye.at.x, next.y - source.looks->eye.at.y};
    }
    for (Watching& camera : made.cameras) camera.model = CameraModel(of(camera.model.setup()));
    return made;
  }
};

TEST(CoverageProperty, AMoveOrAMirrorOfTheSiteChangesNoShare) {
  std::mt19937_64 random(21);
  for (std::uint64_t seed = 1; seed <= kScenes; ++seed) {
    const RandomScene made = random_scene(seed);
    const Motion motion = {within(random, -180, 180), within(random, -300, 300), within(random, -300, 300),
                           seed % 2 == 0};
    const Drawn before = cover(made), after = cover(motion.of(made));
    EXPECT_NEAR(after.found.area_m2, before.found.area_m2, rounding(before, after)) << seed;
    EXPECT_NEAR(after.found.witnessed_m2, before.found.witnessed_m2, rounding(before, after)) << seed;
  }
}

/// Cameras of the size that is built, looking down at a hall.
CameraModel camera_over_a_hall(std::mt19937_64& random, double roll_deg) {
  CameraSetup setup = wide_camera({0, 0, within(random, 1.0, 8.0)}, within(random, 0, 360), within(random, -85, 5));
  setup.focal_mm = within(random, 2.5, 12.0);
  setup.roll_deg = roll_deg;
  return CameraModel(setup);
}

const plane::Box hall{{-20, -20}, {20, 20}};

bool in_any(const Outlines& pieces, Point p) {
  return std::any_of(pieces.begin(), pieces.end(), [&](const auto& piece) { return holds({piece}, p); });
}

TEST(ShareOfHeight, WithoutARollIsThatOfEveryPlace) {
  std::mt19937_64 random(22);
  int enough = 0, too_small = 0;
  for (int i = 0; i < 1000; ++i) {
    const CameraModel camera = camera_over_a_hall(random, 0.0);
    const double asked = within(random, 2, 60);
    const Outlines below = places_below_height_share(camera, 0.0, 1.7, asked, hall);
    for (int k = 0; k < 50; ++k) {
      const Point p = {within(random, -20, 20), within(random, -20, 20)};
      const auto share = camera.height_share_pct({p.x, p.y, 0.0}, 1.7);
      if (!share || std::abs(*share - asked) < 1e-6) continue;
      ASSERT_EQ(in_any(below, p), *share < asked)
          << i << ": " << *share << " of " << asked << " at " << p.x << ", " << p.y;
      ++(*share < asked ? too_small : enough);
    }
  }
  EXPECT_GT(enough, 1000);
  EXPECT_GT(too_small, 1000);
}

/// Chords give something away: never more than there is, and never much.
TEST(ShareOfHeight, WithARollIsNeverClaimedToBeMoreThanItIs) {
  std::mt19937_64 random(23);
  int enough = 0, given_away = 0;
  for (const double most : {0.01, 0.3, 5.0, 45.0}) {
    for (int i = 0; i < 300; ++i) {
      const CameraModel camera = camera_over_a_hall(random, within(random, -most, most));
      const double asked = within(random, 2, 60);
      const Outlines below = places_below_height_share(camera, 0.0, 1.7, asked, hall);
      for (int k = 0; k < 50; ++k) {
        const Point p = {within(random, -20, 20), within(random, -20, 20)};
        const auto share = camera.height_share_pct({p.x, p.y, 0.0}, 1.7);
        if (!share || std::abs(*share - asked) < 1e-6) continue;
        if (*share < asked) {
          ASSERT_TRUE(in_any(below, p)) << i << ": " << *share << " of " << asked << " at " << p.x << ", " << p.y;
          continue;
        }
        ++enough;
        if (!in_any(below, p)) continue;
        ++given_away;
        // Only what is nearly too small is given away.
        EXPECT_LT(*share, 1.05 * asked) << i << ", roll up to " << most << ", at " << p.x << ", " << p.y;
      }
    }
  }
  EXPECT_GT(enough, 1000);
  EXPECT_LT(given_away, enough / 100);
}

TEST(Density, IsNeverClaimedToBeMoreThanItIsAndOfAFlatCameraIsExact) {
  std::mt19937_64 random(24);
  int seen = 0, flat_dense = 0;
  for (int i = 0; i < 400; ++i) {
    const Bend bend = i % 4 == 0   ? Bend::none
                      : i % 4 == 1 ? Bend::radial
                      : i % 4 == 2 ? Bend::tangential
                                   : Bend::fisheye;
    CameraSetup setup = random_camera(random, bend).setup();
    setup.eye = {0, 0, within(random, 1, 6)};
    setup.tilt_deg = within(random, -80, 10);
    if (bend == Bend::none) {  // equal scales across and down
      setup.turn = site::PictureTurn::upright;
      setup.encoded_width_px = 1280;
      setup.encoded_height_px = 720;
    }
    Watching camera = watching(setup);
    camera.px_per_m = within(random, 5, 120);
    const Drawn found{
        coverage(MadeScene().building, {drawn(rectangle(-20, -20, 20, 20))}, {camera}, torso_and_head(), 0.0)};
    for (int k = 0; k < 200; ++k) {
      const Point p = {within(random, -20, 20), within(random, -20, 20)};
      const bool shown = found.seen(p);
      if (found.to_border(p) < 0.001) continue;
      double least = std::numeric_limits<double>::infinity();
      bool in_picture = true;
      for (const double height : {0.9, 1.1, 1.3, 1.5, 1.7}) {
        in_picture = in_picture && camera.model.in_picture({p.x, p.y, height});
        least = std::min(least, camera.model.pixels_per_metre({p.x, p.y, height}));
      }
      if (shown) {
        ++seen;
        EXPECT_GE(least, camera.px_per_m * (1.0 - 1e-9))
            << i << ", bend " << static_cast<int>(bend) << " at " << p.x << ", " << p.y;
      } else if (bend == Bend::none && in_picture) {
        EXPECT_LT(least, camera.px_per_m) << i << " at " << p.x << ", " << p.y;
        ++flat_dense;
      }
    }
  }
  EXPECT_GT(seen, 1000);
  EXPECT_GT(flat_dense, 80);
}

/// Borders of bent pictures are followed with a tolerance: to the safe side.
TEST(BentPicture, NothingIsSeenBeyondItsFrameOrUnderItsMask) {
  std::mt19937_64 random(25);
  int seen = 0;
  for (int i = 0; i < 200; ++i) {
    CameraSetup setup = random_camera(random, i % 2 == 0 ? Bend::fisheye : Bend::radial).setup();
    setup.eye = {8, 6, within(random, 1, 4)};
    setup.tilt_deg = within(random, -90, 0);
    const auto width = static_cast<double>(setup.encoded_width_px), tall = static_cast<double>(setup.encoded_height_px);
    const double x = within(random, 0, 0.7 * width), y = within(random, 0, 0.7 * tall);
    const std::vector<Point> mask = rectangle(x, y, x + 0.3 * width, y + 0.3 * tall);
    setup.masks = {{"mask", {}}};
    for (const Point p : mask) setup.masks[0].corners.push_back({p.x, p.y});
    const Watching camera = watching(setup);
    const Drawn found{
        coverage(MadeScene().building, {drawn(rectangle(0.5, 0.5, 15.5, 11.5))}, {camera}, torso_and_head(), 0.0)};
    for (int k = 0; k < 500; ++k) {
      const Point p = {within(random, 0.5, 15.5), within(random, 0.5, 11.5)};
      if (!found.seen(p) || found.to_border(p) < 0.0005) continue;
      ++seen;
      for (const double height : {0.9, 1.0, 1.1, 1.2, 1.3, 1.4, 1.5, 1.6, 1.7}) {
        const auto place = camera.model.place_of({p.x, p.y, height});
        ASSERT_TRUE(place && camera.model.in_picture(*place)) << i << " at " << p.x << ", " << p.y << ", " << height;
        ASSERT_FALSE(holds({mask}, {place->across_px, place->down_px})) << i << " at " << p.x << ", " << p.y;
      }
    }
  }
  EXPECT_GT(seen, 3000);
}

}  // namespace
}  // namespace zoneproof::sight
