#include "sight/ray_scene.hpp"

#include <embree3/rtcore.h>

#include <algorithm>
#include <stdexcept>

namespace zoneproof::sight {

namespace {

constexpr double kTop_m = 100.0;  ///< of what nothing ends

struct Triangles {
  std::vector<float> corners;
  std::vector<unsigned> indices;

  unsigned corner(plane::Point p, double height) {
    corners.insert(corners.end(), {static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(height)});
    return static_cast<unsigned>(corners.size() / 3 - 1);
  }
  void add(unsigned a, unsigned b, unsigned c) { indices.insert(indices.end(), {a, b, c}); }

  void add(const Prism& prism) {
    const double top = std::min(prism.top_m, kTop_m);
    std::vector<unsigned> low, high;
    for (const plane::Point p : prism.outline) {
      low.push_back(corner(p, prism.bottom_m));
      high.push_back(corner(p, top));
    }
    const std::size_t count = prism.outline.size();
    for (std::size_t i = 0; i < (prism.body ? count : count - 1); ++i) {
      const std::size_t k = (i + 1) % count;
      add(low[i], low[k], high[k]);
      add(low[i], high[k], high[i]);
    }
    if (!prism.body) return;
    for (std::size_t i = 1; i + 1 < count; ++i) {
      add(low[0], low[i], low[i + 1]);
      add(high[0], high[i], high[i + 1]);
    }
  }
};

}  // namespace

struct RayScene::Held {
  RTCDevice device;
  RTCScene scene;
};

RayScene::RayScene(const std::vector<Prism>& prisms) : held_(std::make_unique<Held>()) {
  held_->device = rtcNewDevice("threads=1");
  if (held_->device == nullptr) throw std::runtime_error("Embree does not start");
  held_->scene = rtcNewScene(held_->device);
  rtcSetSceneFlags(held_->scene, RTC_SCENE_FLAG_ROBUST);
  Triangles triangles;
  for (const Prism& prism : prisms) triangles.add(prism);
  if (!triangles.indices.empty()) {
    RTCGeometry geometry = rtcNewGeometry(held_->device, RTC_GEOMETRY_TYPE_TRIANGLE);
    void* corners = rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float),
                                            triangles.corners.size() / 3);
    void* indices = rtcSetNewGeometryBuffer(geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT3, 3 * sizeof(unsigned),
                                            triangles.indices.size() / 3);
    std::copy(triangles.corners.begin(), triangles.corners.end(), static_cast<float*>(corners));
    std::copy(triangles.indices.begin(), triangles.indices.end(), static_cast<unsigned*>(indices));
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(held_->scene, geometry);
    rtcReleaseGeometry(geometry);
  }
  rtcCommitScene(held_->scene);
}

RayScene::~RayScene() {
  rtcReleaseScene(held_->scene);
  rtcReleaseDevice(held_->device);
}

bool RayScene::blocked(Vector3 from, Vector3 to) const {
  RTCRay ray{};
  const Vector3 way = to - from;
  ray.org_x = static_cast<float>(from.x), ray.org_y = static_cast<float>(from.y),
  ray.org_z = static_cast<float>(from.z);
  ray.dir_x = static_cast<float>(way.x), ray.dir_y = static_cast<float>(way.y), ray.dir_z = static_cast<float>(way.z);
  ray.tnear = 0.0F;
  ray.tfar = 1.0F;
  ray.mask = ~0U;
  RTCIntersectContext context;
  rtcInitIntersectContext(&context);
  rtcOccluded1(held_->scene, &context, &ray);
  return ray.tfar < 0.0F;
}

}  // namespace zoneproof::sight
