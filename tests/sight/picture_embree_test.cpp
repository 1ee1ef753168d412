// What stands nearest at places of the picture against Embree 3.13 (Debian's package), which traces the same sight
// lines through triangles of the same scene.
#include <embree3/rtcore.h>
#include <gtest/gtest.h>

#include <cmath>
#include <memory>

#include "base/file.hpp"
#include "picture_query.hpp"
#include "random_building.hpp"
#include "random_camera.hpp"
#include "sight/camera_of_site.hpp"
#include "sight/picture.hpp"
#include "sight/reasons.hpp"
#include "site/file.hpp"

namespace zoneproof::sight {
namespace {

/// The hiding sides of a building's prisms as triangles; each geometry's number is its thing.
class Traced {
 public:
  explicit Traced(const Building& building) : device_(rtcNewDevice(nullptr)), scene_(rtcNewScene(device_)) {
    rtcSetSceneFlags(scene_, RTC_SCENE_FLAG_ROBUST);
    for (std::size_t thing = 0; thing < building.things.size(); ++thing) add(building, thing);
    rtcCommitScene(scene_);
  }
  ~Traced() {
    rtcReleaseScene(scene_);
    rtcReleaseDevice(device_);
  }
  Traced(const Traced&) = delete;

  struct Hit {
    std::size_t thing = kNothing;
    double distance = HUGE_VAL;
  };
  Hit hit(Vector3 from, Vector3 along) const {
    RTCIntersectContext context;
    rtcInitIntersectContext(&context);
    RTCRayHit ray = {};
    ray.ray.org_x = static_cast<float>(from.x), ray.ray.org_y = static_cast<float>(from.y);
    ray.ray.org_z = static_cast<float>(from.z), ray.ray.dir_x = static_cast<float>(along.x);
    ray.ray.dir_y = static_cast<float>(along.y), ray.ray.dir_z = static_cast<float>(along.z);
    ray.ray.tfar = HUGE_VALF;
    ray.ray.mask = ~0U;
    ray.hit.geomID = RTC_INVALID_GEOMETRY_ID;
    rtcIntersect1(scene_, &context, &ray);
    if (ray.hit.geomID == RTC_INVALID_GEOMETRY_ID) return {};
    return {ray.hit.geomID, static_cast<double>(ray.ray.tfar)};
  }

 private:
  void add(const Building& building, std::size_t thing) {
    std::vector<Vector3> corners;
    std::vector<unsigned> triangles;
    const auto fan = [&](const std::vector<Vector3>& ring) {
      const auto first = static_cast<unsigned>(corners.size());
      corners.insert(corners.end(), ring.begin(), ring.end());
      for (unsigned i = 1; i + 1 < ring.size(); ++i)
        triangles.insert(triangles.end(), {first, first + i, first + i + 1});
    };
    for (const Prism& prism : building.prisms) {
      if (prism.thing != thing || prism.clear > 0.0) continue;
      const auto& ring = prism.outline;
      for (std::size_t i = 0; i < (prism.body ? ring.size() : 1); ++i) {
        const auto a = ring[i], b = ring[(i + 1) % ring.size()];
        fan({{a.x, a.y, prism.bottom_m}, {b.x, b.y, prism.bottom_m}, {b.x, b.y, prism.top_m}, {a.x, a.y, prism.top_m}});
      }
      if (!prism.body) continue;
      for (const double height : {prism.bottom_m, prism.top_m}) {
        std::vector<Vector3> face;
        for (const auto p : ring) face.push_back({p.x, p.y, height});
        fan(face);
      }
    }
    if (triangles.empty()) return;
    const RTCGeometry geometry = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_TRIANGLE);
    auto* places = static_cast<float*>(rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3,
                                                               3 * sizeof(float), corners.size()));
    for (std::size_t i = 0; i < corners.size(); ++i) {
      places[3 * i] = static_cast<float>(corners[i].x);
      places[3 * i + 1] = static_cast<float>(corners[i].y);
      places[3 * i + 2] = static_cast<float>(corners[i].z);
    }
    auto* numbers = static_cast<unsigned*>(rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3,
                                                                   3 * sizeof(unsigned), triangles.size() / 3));
    std::copy(triangles.begin(), triangles.end(), numbers);
    rtcCommitGeometry(geometry);
    rtcAttachGeometryByID(scene_, geometry, static_cast<unsigned>(thing));
    rtcReleaseGeometry(geometry);
  }
  RTCDevice device_;
  RTCScene scene_;
};

/// Places nearer than this to a line of the drawing are not asked: Embree counts in single precision.
constexpr double kAway_px = 1.0;

class PictureOf : public testing::TestWithParam<Bend> {};

TEST_P(PictureOf, AnySceneShowsWhatStandsNearest) {
  std::mt19937_64 random(81);
  int asked = 0, nothing = 0, marked = 0;
  for (int i = 0; i < 25; ++i) {
    const Building building = random_building(random, i % 2 == 0);
    const Traced traced(building);
    const CameraModel camera = camera_in(building, random_camera(random, GetParam()), random);
    PictureWish wish;
    wish.level = "ground";
    wish.marks = {{SurfaceRole::area, "area", {{{2, 2}, {14, 3}, {15, 13}, {4, 12}}}, 0.0}};
    const ExpectedView view = expected_view(camera, building, wish);
    const PictureQuery query(view);
    for (int k = 0; k < 400; ++k) {
      const PicturePlace place = {within(random, 0, view.width_px), within(random, 0, view.height_px)};
      const auto ray = camera.ray(place);
      if (!ray || query.to_nearest_line(place) < kAway_px) continue;
      const Traced::Hit hit = traced.hit(camera.eye(), *ray);
      const std::size_t surface = query.hiding_at(place);
      const std::size_t thing = surface == kNothing ? kNothing : view.surfaces[surface].thing;
      ++asked;
      nothing += thing == kNothing ? 1 : 0;
      EXPECT_EQ(thing, hit.thing) << "scene " << i << " at " << place.across_px << ", " << place.down_px << ": "
                                  << (thing == kNothing ? "-" : building.things[thing].id) << " against "
                                  << (hit.thing == kNothing ? "-" : building.things[hit.thing].id);
      // The mark: where the floor is met within it before anything else is.
      const double fall = ray->z < 0.0 ? -camera.eye().z / ray->z : HUGE_VAL;
      bool on_mark = fall < hit.distance;
      if (on_mark) {
        const Vector3 at = camera.eye() + fall * *ray;
        on_mark = inside_ring(wish.marks[0].rings[0], {at.x, at.y});
      }
      EXPECT_EQ(query.shows(place, SurfaceRole::area), on_mark);
      marked += on_mark ? 1 : 0;
    }
  }
  EXPECT_GT(asked, 5000);
  EXPECT_GT(marked, 100);
  EXPECT_LT(nothing, asked);
}

/// Nothing lies in one plane with another thing here: there Embree may name either.
/// Where two sight lines that are close to each other meet different things, a line of the drawing runs between them.
TEST_P(PictureOf, AnySceneHasALineWhereverSomethingEnds) {
  std::mt19937_64 random(82);
  int changed = 0;
  for (int i = 0; i < 25; ++i) {
    const Building building = random_building(random, false);
    const Traced traced(building);
    const CameraModel camera = camera_in(building, random_camera(random, GetParam()), random);
    PictureWish wish;
    wish.level = "ground";
    const ExpectedView view = expected_view(camera, building, wish);
    const PictureQuery query(view);
    for (int k = 0; k < 4000; ++k) {
      const PicturePlace a = {within(random, 0, view.width_px), within(random, 0, view.height_px)};
      const PicturePlace b = {std::min(a.across_px + 4.0, view.width_px), a.down_px};
      const auto ray_a = camera.ray(a), ray_b = camera.ray(b);
      if (!ray_a || !ray_b) continue;
      const std::size_t thing_a = traced.hit(camera.eye(), *ray_a).thing;
      const std::size_t thing_b = traced.hit(camera.eye(), *ray_b).thing;
      if (thing_a == thing_b) continue;
      ++changed;
      EXPECT_LT(query.to_nearest_line({(a.across_px + b.across_px) / 2.0, a.down_px}), 2.0 + kAway_px)
          << "scene " << i << " at " << a.across_px << ", " << a.down_px;
    }
  }
  EXPECT_GT(changed, 50);
}

/// A building as far as it can be seen from a level: between its floor and its ceiling.
Building between_floors(Building building, const std::string& level) {
  const Floor* floor = building.floor(level);
  std::vector<Prism> kept;
  for (Prism prism : building.prisms) {
    prism.bottom_m = std::max(prism.bottom_m, floor->height_m);
    prism.top_m = std::min({prism.top_m, floor->ceiling_m, 1000.0});
    if (prism.bottom_m < prism.top_m) kept.push_back(std::move(prism));
  }
  building.prisms = std::move(kept);
  return building;
}

Building only(Building building, std::size_t thing) {
  std::erase_if(building.prisms, [&](const Prism& prism) { return prism.thing != thing; });
  return building;
}

class PictureOfDemo : public testing::TestWithParam<const char*> {};

TEST_P(PictureOfDemo, ShowsWhatStandsNearestToEveryCamera) {
  std::vector<Message> messages;
  const auto text = read_file(std::string(ZONEPROOF_SOURCE_DIR "/data/demo/") + GetParam() + ".site.json", messages);
  ASSERT_TRUE(text.has_value());
  const site::ReadResult read = site::read_site(*text, GetParam());
  ASSERT_TRUE(read.site.has_value());
  const Building building = building_of(*read.site);
  std::mt19937_64 random(83);
  int asked = 0, different = 0;
  for (const auto& [id, mounted] : read.site->cameras) {
    const CameraFound found = camera_model_of(*read.site, id);
    if (!found.model) continue;
    PictureWish wish;
    wish.level = mounted.mount.level.id;
    const Traced traced(between_floors(building, wish.level));
    const ExpectedView view = expected_view(*found.model, building, wish);
    const PictureQuery query(view);
    for (int k = 0; k < 1000; ++k) {
      const PicturePlace place = {within(random, 0, view.width_px), within(random, 0, view.height_px)};
      const auto ray = found.model->ray(place);
      if (!ray || query.to_nearest_line(place) < kAway_px) continue;
      ++asked;
      const std::size_t surface = query.hiding_at(place), hit = traced.hit(found.model->eye(), *ray).thing;
      const std::size_t thing = surface == kNothing ? kNothing : view.surfaces[surface].thing;
      if (thing == hit) continue;
      // Two things in one plane (walls of two rooms, a door in one of them): Embree may name either.
      if (thing != kNothing && hit != kNothing) {
        const double alone =
            Traced(only(between_floors(building, wish.level), thing)).hit(found.model->eye(), *ray).distance;
        if (std::abs(alone - traced.hit(found.model->eye(), *ray).distance) < 1e-4 * alone) continue;
      }
      ++different;
      ADD_FAILURE() << id << " at " << place.across_px << ", " << place.down_px << ": "
                    << (thing == kNothing ? "-" : building.things[thing].id) << " against "
                    << (hit == kNothing ? "-" : building.things[hit].id);
      if (different > 20) return;
    }
  }
  EXPECT_GT(asked, 3000);
}

INSTANTIATE_TEST_SUITE_P(Of, PictureOfDemo, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

INSTANTIATE_TEST_SUITE_P(With, PictureOf, testing::Values(Bend::none, Bend::radial, Bend::tangential, Bend::fisheye),
                         [](const auto& of) { return name_of(of.param); });

}  // namespace
}  // namespace zoneproof::sight
