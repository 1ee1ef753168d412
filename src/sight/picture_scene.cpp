#include "sight/picture_scene.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "sight/reasons.hpp"

namespace zoneproof::sight {

namespace {

using plane::Point;

/// Where a prism without end is cut, above the eye: what is higher is seen by no camera that looks at people.
constexpr double kSky_m = 10000.0;
/// Planes nearer to the eye than this are edges to it.
constexpr double kEdgeOn_m = 1e-9;
/// Two pieces are in one plane when their normals and offsets differ by less.
constexpr double kOnePlane = 1e-7;

SurfaceRole role_of(ThingKind kind) {
  switch (kind) {
    case ThingKind::wall: return SurfaceRole::wall;
    case ThingKind::opening: return SurfaceRole::opening;
    case ThingKind::block: return SurfaceRole::block;
    default: return SurfaceRole::stair;
  }
}

/// A person's shape: half widths and half depths at heights, as shares of the height; three convex pieces. Proportions
/// by eye (common practice, no source); what counts is the height.
struct Slice {
  double height, width, depth;
};
const std::array<std::vector<Slice>, 3> kBody = {
    {{{0.0, 0.070, 0.065}, {0.02, 0.080, 0.070}, {0.50, 0.098, 0.070}},
     {{0.48, 0.100, 0.070}, {0.62, 0.096, 0.068}, {0.78, 0.135, 0.075}, {0.82, 0.125, 0.070}, {0.855, 0.045, 0.045}},
     {{0.84, 0.030, 0.035}, {0.88, 0.046, 0.055}, {0.93, 0.052, 0.062}, {0.975, 0.038, 0.045}, {1.0, 0.010, 0.012}}}};
constexpr int kAround = 16;

class Maker {
 public:
  Maker(const CameraModel& camera, const Building& building, const PictureWish& wish)
      : camera_(camera), building_(building), wish_(wish) {}

  PictureScene make() {
    const Floor* floor = building_.floor(wish_.level);
    if (floor == nullptr) throw std::invalid_argument("a picture from no level");
    low_ = floor->height_m;
    high_ = std::min(floor->ceiling_m, camera_.eye().z + kSky_m);
    for (const Prism& prism : building_.prisms) add_prism(prism);
    for (const FloorMark& mark : wish_.marks) add_mark(mark);
    for (const Standing& person : wish_.persons) add_person(person);
    find_meetings();
    return std::move(scene_);
  }

 private:
  std::size_t surface(Surface made) {
    scene_.surfaces.push_back(std::move(made));
    return scene_.surfaces.size() - 1;
  }

  void add_prism(const Prism& prism) {
    const bool opened = prism.either && std::find(wish_.open_things.begin(), wish_.open_things.end(), prism.thing) !=
                                            wish_.open_things.end();
    const double clear = opened ? prism.clear_otherwise : prism.clear;
    // What is open altogether is not there; a leaf of glass is, and shows its outline.
    if (opened && clear >= 1.0) return;
    const double bottom = std::max(prism.bottom_m, low_), top = std::min(prism.top_m, high_);
    if (!(bottom < top)) return;
    const Thing& thing = building_.things[prism.thing];
    const Surface of = {role_of(thing.kind), prism.thing, thing.id, clear <= 0.0, prism.either};
    const std::vector<Point>& ring = prism.outline;
    const std::size_t sides = prism.body ? ring.size() : 1;
    for (std::size_t i = 0; i < sides; ++i) {
      const Point a = ring[i], b = ring[(i + 1) % ring.size()];
      add_facet(of, prism.body, {{a.x, a.y, bottom}, {b.x, b.y, bottom}, {b.x, b.y, top}, {a.x, a.y, top}});
    }
    if (!prism.body) return;
    const double eye = camera_.eye().z;
    if (eye > top) add_facet(of, false, at_height(ring, top));
    if (eye < bottom) add_facet(of, false, at_height(ring, bottom));
  }

  static std::vector<Vector3> at_height(const std::vector<Point>& ring, double height) {
    std::vector<Vector3> corners;
    for (const Point p : ring) corners.push_back({p.x, p.y, height});
    return corners;
  }

  /// The plane of a ring in the camera's axes, by the sum of its corner products (Newell, from memory): stable for
  /// rings that are not convex. Nothing where it has no area or passes through the eye.
  static std::optional<Facet> plane_of(const std::vector<Vector3>& ring) {
    Vector3 sum;
    for (std::size_t i = 0; i < ring.size(); ++i)
      sum = sum + cross(ring[i] - ring[0], ring[(i + 1) % ring.size()] - ring[0]);
    if (!(length(sum) > 0.0)) return std::nullopt;
    Facet facet;
    facet.normal = unit(sum);
    facet.offset = dot(facet.normal, ring[0]);
    if (std::abs(facet.offset) < kEdgeOn_m) return std::nullopt;
    return facet;
  }

  /// `outward`: the ring turns counter-clockwise seen from outside of a body, whose averted sides are not seen.
  void add_facet(const Surface& of, bool outward, const std::vector<Vector3>& site_ring) {
    std::vector<Vector3> ring;
    for (const Vector3& corner : site_ring) ring.push_back(camera_.in_camera(corner));
    std::optional<Facet> facet = plane_of(ring);
    if (!facet || (outward && of.hides && !faces_eye(site_ring))) return;
    if (facet->offset < 0.0) facet->normal = -1.0 * facet->normal, facet->offset = -facet->offset;
    facet->rings.push_back(std::move(ring));
    // One surface for all pieces of a thing in one plane: a wall is not cut in pieces by its doors.
    for (Facet& other : scene_.facets) {
      const Surface& same = scene_.surfaces[other.surface];
      if (same.role != of.role || same.thing != of.thing || same.hides != of.hides || same.either != of.either)
        continue;
      if (length(other.normal - facet->normal) > kOnePlane || std::abs(other.offset - facet->offset) > kOnePlane)
        continue;
      other.rings.push_back(std::move(facet->rings.front()));
      return;
    }
    facet->surface = surface(of);
    scene_.facets.push_back(std::move(*facet));
  }

  bool faces_eye(const std::vector<Vector3>& ring) const {
    return dot(cross(ring[1] - ring[0], ring[2] - ring[0]), camera_.eye() - ring[0]) > 0.0;
  }

  void add_mark(const FloorMark& mark) {
    if (mark.rings.empty() || mark.height_m < low_ || mark.height_m > high_) return;
    Facet facet;
    for (const auto& ring : mark.rings) {
      std::vector<Vector3> corners;
      for (const Point p : ring) corners.push_back(camera_.in_camera({p.x, p.y, mark.height_m}));
      facet.rings.push_back(std::move(corners));
    }
    const std::optional<Facet> plane = plane_of(facet.rings.front());
    if (!plane) return;
    facet.normal = plane->normal;
    facet.offset = plane->offset;
    facet.surface = surface({mark.role, kNothing, mark.id, false, false});
    scene_.facets.push_back(std::move(facet));
  }

  void add_person(const Standing& person) {
    const Vector3 foot = {person.at.x, person.at.y, person.floor_m};
    const Vector3 to_eye = camera_.eye() - foot;
    const double far = std::hypot(to_eye.x, to_eye.y);
    const Vector3 front = far > 0.0 ? Vector3{to_eye.x / far, to_eye.y / far, 0.0} : Vector3{0.0, 1.0, 0.0};
    const Vector3 side = {-front.y, front.x, 0.0};
    Figure figure;
    for (const auto& body : kBody) {
      std::vector<Vector3> corners;
      for (const Slice& slice : body) {
        for (int i = 0; i < kAround; ++i) {
          const double around = 2.0 * std::numbers::pi * i / kAround;
          const Vector3 out = slice.width * std::cos(around) * side + slice.depth * std::sin(around) * front;
          corners.push_back(camera_.in_camera(foot + person.height_m * (out + Vector3{0.0, 0.0, slice.height})));
        }
      }
      figure.bodies.push_back(std::move(corners));
    }
    figure.foot = camera_.in_camera(foot);
    figure.head = camera_.in_camera(foot + Vector3{0.0, 0.0, person.height_m});
    figure.surface = surface({SurfaceRole::person, kNothing, person.id, true, false});
    scene_.figures.push_back(std::move(figure));
  }

  struct Extents {
    Vector3 low, high;
  };
  static Extents extents_of(const Facet& facet) {
    Extents box = {facet.rings[0][0], facet.rings[0][0]};
    for (const auto& ring : facet.rings) {
      for (const Vector3& p : ring) {
        box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y), std::min(box.low.z, p.z)};
        box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y), std::max(box.high.z, p.z)};
      }
    }
    return box;
  }

  /// Whether corners of `one` lie on both sides of the plane of `other`, farther than they lie by rounding.
  static bool passes_through(const Facet& one, const Facet& other) {
    bool before = false, behind = false;
    for (const auto& ring : one.rings) {
      for (const Vector3& p : ring) {
        const double off = dot(other.normal, p) - other.offset;
        before = before || off < -kOnePlane;
        behind = behind || off > kOnePlane;
      }
    }
    return before && behind;
  }

  /// The line of two planes, cut to the box that both facets share. It may reach beyond the facets themselves: it then
  /// cuts triangles that have the same answer on both sides.
  void find_meetings() {
    std::vector<Extents> boxes;
    for (const Facet& facet : scene_.facets) boxes.push_back(extents_of(facet));
    for (std::size_t i = 0; i < boxes.size(); ++i) {
      if (!scene_.surfaces[scene_.facets[i].surface].hides) continue;
      for (std::size_t k = 0; k < boxes.size(); ++k) {
        const bool both_hide = scene_.surfaces[scene_.facets[k].surface].hides;
        if (k == i || (both_hide && k < i)) continue;
        const Facet &a = scene_.facets[i], &b = scene_.facets[k];
        const Extents shared = {{std::max(boxes[i].low.x, boxes[k].low.x), std::max(boxes[i].low.y, boxes[k].low.y),
                                 std::max(boxes[i].low.z, boxes[k].low.z)},
                                {std::min(boxes[i].high.x, boxes[k].high.x), std::min(boxes[i].high.y, boxes[k].high.y),
                                 std::min(boxes[i].high.z, boxes[k].high.z)}};
        if (shared.low.x > shared.high.x || shared.low.y > shared.high.y || shared.low.z > shared.high.z) continue;
        if (passes_through(a, b) && passes_through(b, a)) add_meeting(a, b, shared);
      }
    }
  }

  void add_meeting(const Facet& a, const Facet& b, const Extents& within) {
    const Vector3 along = cross(a.normal, b.normal);
    const double size = dot(along, along);
    if (!(size > kOnePlane * kOnePlane)) return;
    // The place of the line that is nearest to the eye.
    const Vector3 at = (1.0 / size) * (a.offset * cross(b.normal, along) + b.offset * cross(along, a.normal));
    double from = -1e9, to = 1e9;
    const auto cut = [&](double start, double step, double low, double high) {
      if (std::abs(step) < kOnePlane) return;
      const double p = (low - start) / step, q = (high - start) / step;
      from = std::max(from, std::min(p, q));
      to = std::min(to, std::max(p, q));
    };
    cut(at.x, along.x, within.low.x, within.high.x);
    cut(at.y, along.y, within.low.y, within.high.y);
    cut(at.z, along.z, within.low.z, within.high.z);
    if (from < to) scene_.meetings.emplace_back(at + from * along, at + to * along);
  }

  const CameraModel& camera_;
  const Building& building_;
  const PictureWish& wish_;
  PictureScene scene_;
  double low_ = 0.0, high_ = 0.0;
};

}  // namespace

PictureScene picture_scene(const CameraModel& camera, const Building& building, const PictureWish& wish) {
  return Maker(camera, building, wish).make();
}

}  // namespace zoneproof::sight
