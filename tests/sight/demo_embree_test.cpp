// Coverage of the demo sites against rays of Embree, place by place through the whole building: of every zone by every
// camera that is to witness it, and by all others of its level, that see some of it or nothing.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "chain/channels.hpp"
#include "sight/random_camera.hpp"
#include "sight/ray_witness.hpp"
#include "sight/small_site.hpp"
#include "sight/zone_view.hpp"
#include "site/relations.hpp"

namespace zoneproof::sight {
namespace {

using plane::Point;

constexpr int kPlaces = 4000, kPlacesOfOther = 250, kPlacesOfStep = 50, kHeights = 12, kManyHeights = 800;
/// Nearer to a border both may differ, as for random storeys (embree_test.cpp).
constexpr double kNear_m = 0.003, kNear_px = 1.5;
/// Of the area of a zone: by how much what is witnessed may differ from what rays say, beside what sampling leaves
/// open.
constexpr double kShare = 0.001;
constexpr double kSigmas = 4.0;

/// A surface that people stand on, as the building has it.
struct Standing {
  Floor floor;
  std::vector<Point> step;  ///< empty: the floor of a level
};

std::vector<Standing> surfaces_of(const Building& building, const std::string& level) {
  const Floor floor = *building.floor(level);
  std::vector<Standing> surfaces = {{floor, {}}};
  for (const Prism& prism : building.prisms) {
    const bool on_it =
        prism.bottom_m >= floor.height_m && prism.top_m > floor.height_m && prism.top_m <= floor.ceiling_m;
    if (building.things[prism.thing].kind == ThingKind::stair && on_it)
      surfaces.push_back({{level, prism.top_m, floor.ceiling_m}, prism.outline});
  }
  return surfaces;
}

/// What of a coverage lies on one surface. (Steps of one height of two stairs lie apart: the one's places are beside
/// the outlines of the other.)
Drawn on(const Coverage& found, const Floor& floor) {
  Drawn drawn;
  for (std::size_t i = 0; i < found.areas.size(); ++i)
    if (found.area_levels[i] == floor.level && found.area_floors_m[i] == floor.height_m)
      drawn.found.areas.push_back(found.areas[i]);
  for (const Patch& patch : found.patches)
    if (patch.level == floor.level && patch.floor_m == floor.height_m) drawn.found.patches.push_back(patch);
  return drawn;
}

std::pair<Point, Point> box_of(const std::vector<AreaSource>& sources, const std::vector<Point>& step) {
  std::pair<Point, Point> box = {{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};
  const auto add = [&](const std::vector<Point>& ring) {
    for (const Point p : ring) {
      box.first = {std::min(box.first.x, p.x), std::min(box.first.y, p.y)};
      box.second = {std::max(box.second.x, p.x), std::max(box.second.y, p.y)};
    }
  };
  if (!step.empty()) return add(step), box;
  for (const AreaSource& source : sources)
    for (const auto& ring : source.outlines) add(ring);
  return box;
}

/// Sums over all surfaces; each place stands for its part of the box that it was taken from.
struct Sums {
  double area_m2 = 0.0, witnessed_m2 = 0.0, differ_m2 = 0.0;
  double spread_area = 0.0, spread_witnessed = 0.0, spread_differ = 0.0;  ///< variances
  int places = 0, blind = 0, differ = 0;
};

/// One zone's sources that count together, by one camera.
class Pair {
 public:
  Pair(const Scene& scene, std::string name, std::vector<AreaSource> sources, const Watching& camera)
      : scene_(scene),
        name_(std::move(name)),
        sources_(std::move(sources)),
        cameras_{camera},
        found_(coverage(scene.building(), sources_, cameras_, scene.rules().demand, 0.0)),
        rays_(scene.building(), sources_, cameras_, scene.rules().demand) {}

  Sums hold_against_rays(int places, std::mt19937_64& random) {
    places_ = places;
    for (const Standing& surface : surfaces_of(scene_.building(), sources_.front().level)) look_at(surface, random);
    const double allowed = kShare * found_.area_m2 + 1e-6;
    EXPECT_NEAR(sums_.area_m2, found_.area_m2, allowed + kSigmas * std::sqrt(sums_.spread_area)) << name_;
    EXPECT_NEAR(sums_.witnessed_m2, found_.witnessed_m2, allowed + kSigmas * std::sqrt(sums_.spread_witnessed))
        << name_;
    EXPECT_NEAR(sums_.differ_m2, 0.0, allowed + kSigmas * std::sqrt(sums_.spread_differ)) << name_;
    return sums_;
  }

 private:
  void look_at(const Standing& surface, std::mt19937_64& random) {
    const auto [low, high] = box_of(sources_, surface.step);
    const Drawn ours = on(found_, surface.floor);
    const int places = surface.step.empty() ? places_ : kPlacesOfStep;
    int area = 0, blind = 0, witnessed = 0, differ = 0;
    for (int i = 0; i < places; ++i) {
      const Point p = {within(random, low.x, high.x), within(random, low.y, high.y)};
      const bool in_box = surface.step.empty() || holds({surface.step}, p);
      const RayWitness::Said said = {in_box && ours.in_area(p), in_box && ours.seen(p)};
      RayWitness::Said by_rays = rays_.of(p, surface.floor, surface.step, kHeights);
      if (!(said == by_rays)) by_rays = rays_.of(p, surface.floor, surface.step, kManyHeights);
      area += said.area ? 1 : 0;
      blind += said.area && !said.witnessed ? 1 : 0;
      witnessed += by_rays.witnessed ? 1 : 0;
      differ += said.witnessed != by_rays.witnessed ? 1 : 0;
      if (!(said == by_rays)) explain(p, surface.floor, said, by_rays, ours.to_border(p));
    }
    const double box_m2 = (high.x - low.x) * (high.y - low.y);
    // How far a count may be off follows from what is expected, where that is more than was met.
    const auto add = [&](int count, double expected_m2, double& sum, double& spread) {
      const double share = std::max(count, 1) / static_cast<double>(places);
      const double wider = std::min(0.5, std::max(share, expected_m2 / box_m2));
      sum += box_m2 * count / places;
      spread += box_m2 * box_m2 * wider * (1.0 - wider) / places;
    };
    add(area, found_.area_m2, sums_.area_m2, sums_.spread_area);
    add(witnessed, found_.witnessed_m2, sums_.witnessed_m2, sums_.spread_witnessed);
    add(differ, 0.0, sums_.differ_m2, sums_.spread_differ);
    sums_.places += area;
    sums_.blind += blind;
  }

  void explain(Point p, const Floor& floor, RayWitness::Said said, RayWitness::Said by_rays, double to_border) {
    ++sums_.differ;
    if (to_border < kNear_m) return;
    if (said.area == by_rays.area && rays_.near_border_of_picture(p, floor, kNear_px)) return;
    if (said.area && !by_rays.area && rays_.hidden_by_several(p, floor, kManyHeights)) return;
    ADD_FAILURE() << name_ << " at " << p.x << ", " << p.y << ", " << floor.height_m << " m up: area " << said.area
                  << ", by rays " << by_rays.area << "; seen " << said.witnessed << ", by rays " << by_rays.witnessed
                  << "; " << to_border << " m from the nearest border";
  }

  const Scene& scene_;
  std::string name_;
  std::vector<AreaSource> sources_;
  std::vector<Watching> cameras_;
  Coverage found_;
  RayWitness rays_;
  int places_ = 0;
  Sums sums_;
};

/// Sources that count together: those of a level, and each approach to an opening by itself.
std::vector<std::vector<AreaSource>> groups_of(const ZoneArea& area) {
  std::map<std::tuple<std::string, std::string, int>, std::vector<AreaSource>> groups;
  for (const AreaSource& source : area.sources) groups[{source.level, source.opening, source.side}].push_back(source);
  std::vector<std::vector<AreaSource>> found;
  for (auto& [key, sources] : groups) found.push_back(std::move(sources));
  return found;
}

struct Counts {
  int pairs = 0, places = 0, blind = 0, differ = 0;

  void add(const Sums& of_pair) {
    ++pairs;
    places += of_pair.places, blind += of_pair.blind, differ += of_pair.differ;
  }
};

class DemoSite : public testing::TestWithParam<const char*> {};

TEST_P(DemoSite, IsSeenAsRaysSayByEveryCameraOfEveryZone) {
  const site::Site site = site_of(demo_json(std::string(GetParam()) + ".site.json"));
  const Scene scene(site);
  std::mt19937_64 random(7);
  Counts own, others;
  for (const auto& [zone, entry] : site.zones) {
    if (!site::has_chain(site, zone)) continue;
    std::vector<chain::Gap> gaps;
    const std::vector<std::string> witnesses = chain::cameras_of_zone(site, zone, gaps);
    const ZoneArea area = area_of_zone(site, scene.building(), scene.people(), zone, Extent::largest);
    for (const std::vector<AreaSource>& sources : groups_of(area)) {
      for (const auto& [camera, found] : scene.cameras()) {
        const bool is_own = std::find(witnesses.begin(), witnesses.end(), camera) != witnesses.end();
        ASSERT_TRUE(found.watching) << camera;
        if (!is_own && found.watching->level != sources.front().level) continue;
        Pair pair(scene, zone + " by " + camera, sources, *found.watching);
        (is_own ? own : others).add(pair.hold_against_rays(is_own ? kPlaces : kPlacesOfOther, random));
        if (HasFailure()) return;
      }
    }
  }
  RecordProperty("pairs", own.pairs);
  RecordProperty("places_in_areas", own.places);
  RecordProperty("places_blind", own.blind);
  RecordProperty("other_pairs", others.pairs);
  RecordProperty("other_places_in_areas", others.places);
  RecordProperty("other_places_blind", others.blind);
  RecordProperty("places_that_differ", own.differ + others.differ);
  EXPECT_GE(own.pairs, static_cast<int>(site.cameras.size()));
  EXPECT_GT(own.places, 500 * own.pairs);
  EXPECT_GT(others.blind, others.places / 10);
  EXPECT_GT(own.places, own.blind);
  EXPECT_LT(own.differ + others.differ, (own.places + others.places) / 1000);
}

INSTANTIATE_TEST_SUITE_P(Demo, DemoSite, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"), [](const auto& one) {
  std::string name = one.param;
  std::replace(name.begin(), name.end(), '-', '_');
  return name;
});

}  // namespace
}  // namespace zoneproof::sight
