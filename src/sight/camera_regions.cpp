#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "sight/cone.hpp"
#include "sight/height_share.hpp"
#include "sight/obstacles.hpp"
#include "sight/pattern.hpp"
#include "sight/witness.hpp"

namespace zoneproof::sight {

namespace {

using plane::Point;

/// Largest angle between the true border of a bent picture and the flat pieces that stand for it: 4 mm at 20 m.
constexpr double kBorder_rad = 2e-4;
/// Least magnification is looked for on this many places across and down the picture, corners included.
constexpr int kSamples = 33;
constexpr int kPiecesOfMaskSide = 16;

/// A place of a flat-sided cone pulled towards the axis by an angle.
Vector3 inward(Vector3 ray, Vector3 axis, double angle) {
  const Vector3 across = axis - dot(axis, ray) * ray;
  const double size = length(across);
  return size > 0.0 ? unit(ray + (std::tan(angle) / size) * across) : ray;
}

/// Whether rays in turn are the edges of a convex cone: each lies on the same side of the flat fan through any two that
/// follow each other.
bool is_convex(const std::vector<Vector3>& rays) {
  constexpr double rounding = 1e-12;
  double least = 0.0, most = 0.0;
  for (std::size_t i = 0; i < rays.size(); ++i) {
    const Vector3 side = cross(rays[i], rays[(i + 1) % rays.size()]);
    const double size = length(side);
    if (size == 0.0) continue;
    for (const Vector3& ray : rays) {
      least = std::min(least, dot(side, ray) / size);
      most = std::max(most, dot(side, ray) / size);
    }
  }
  return least >= -rounding || most <= rounding;
}

bool needs_own_light(const Watching& watching, const std::string& level) {
  if (level == watching.level) return watching.own_light;
  const auto& dark = watching.dark_levels;
  return std::find(dark.begin(), dark.end(), level) != dark.end();
}

class CameraRegions {
 public:
  CameraRegions(const Watching& watching, std::size_t viewer, const Demand& demand, const Floor& floor,
                const plane::Box& box, Regions& regions)
      : watching_(watching),
        model_(watching.model),
        viewer_(viewer),
        demand_(demand),
        floor_(floor),
        eye_{{model_.eye().x, model_.eye().y}, model_.eye().z},
        band_{floor.height_m + watching.only_height_m.value_or(demand.from_m),
              floor.height_m + watching.only_height_m.value_or(demand.to_m)},
        box_(box),
        regions_(regions) {}

  void add() {
    add_frame();
    add_density();
    add_height_share();
    add_near();
    add_dark();
    add_masks();
  }
  void add_whole(Why why) { regions_.add(whole_box(), label(why)); }
  const Eye& eye() const { return eye_; }
  const Band& band() const { return band_; }

 private:
  plane::Label label(Why why, std::string mask = {}) {
    return regions_.label({viewer_, why, kNothing, std::move(mask), 0.0, false, 1.0});
  }
  std::vector<Point> whole_box() const {
    return {box_.low, {box_.high.x, box_.low.y}, box_.high, {box_.low.x, box_.high.y}};
  }

  /// Which edge of the picture a ray of its border lies on.
  Why side_of(Vector3 ray) const {
    const auto place = model_.place_of(model_.eye() + ray);
    if (!place) return Why::left;
    const double left = place->across_px, right = model_.width_px() - left;
    const double above = place->down_px, below = model_.height_px() - above;
    const double least = std::min({left, right, above, below});
    return least == left ? Why::left : least == right ? Why::right : least == above ? Why::above : Why::below;
  }

  void add_frame() {
    const RayOutline outline = model_.frame_outline(kBorder_rad);
    std::array<plane::Label, 4> sides = {label(Why::left), label(Why::right), label(Why::above), label(Why::below)};
    const auto label_of = [&](Why why) {
      return sides[why == Why::left ? 0 : why == Why::right ? 1 : why == Why::above ? 2 : 3];
    };
    const std::vector<Vector3>& rays = outline.rays;
    const auto first = static_cast<std::size_t>(std::find(outline.corner.begin(), outline.corner.end(), true) -
                                                outline.corner.begin());
    std::vector<Vector3> edge;  // from one corner of the picture to the next
    for (std::size_t i = 0; i < rays.size(); ++i) {
      const std::size_t at = (first + i) % rays.size(), to = (at + 1) % rays.size();
      if (edge.empty()) edge.push_back(rays[at]);
      edge.push_back(rays[to]);
      if (!outline.corner[to] && i + 1 < rays.size()) continue;
      add_beyond_edge(edge, label_of(side_of(unit(edge[(edge.size() - 1) / 2] + edge[edge.size() / 2]))));
      edge.clear();
    }
    // No pinhole looks back. Told beside the edge, as nobody who stands there thinks of an edge of the picture.
    if (model_.lens().terms().projection == site::Projection::pinhole)
      regions_.add(places_in_half_space(eye_, -1.0 * model_.forward(), 0.0, band_, box_), label(Why::behind));
  }

  /// What lies beyond an edge of the picture. Of a flat one that is a half-space. A barrel's edge and that of a fisheye
  /// bend into the picture, so that all beyond it, as far as the direction backward, is one convex cone; any other bent
  /// edge is taken piece by piece.
  void add_beyond_edge(const std::vector<Vector3>& edge, plane::Label side) {
    if (model_.is_flat()) {
      regions_.add(places_in_half_space(eye_, cross(edge.front(), edge.back()), 0.0, band_, box_), side);
      return;
    }
    std::vector<Vector3> cone;
    for (const Vector3& ray : edge) cone.push_back(inward(ray, model_.forward(), kBorder_rad));
    const Vector3 backward = -1.0 * model_.forward();
    cone.push_back(backward);
    if (is_convex(cone)) {
      regions_.add(places_in_cone(eye_, cone, band_, box_), side);
      return;
    }
    for (std::size_t i = 0; i + 2 < cone.size(); ++i)
      regions_.add(places_in_cone(eye_, {cone[i], cone[i + 1], backward}, band_, box_), side);
  }

  /// Pixels per metre at a place, times its depth (pinhole) or distance: the least over the picture.
  double least_magnification() const {
    const bool by_depth = model_.lens().terms().projection == site::Projection::pinhole;
    if (model_.is_flat()) return std::min(model_.focal_across_px(), model_.focal_down_px());
    double least = std::numeric_limits<double>::infinity();
    for (int i = 0; i < kSamples; ++i) {
      for (int k = 0; k < kSamples; ++k) {
        const auto ray = model_.ray({model_.width_px() * i / (kSamples - 1), model_.height_px() * k / (kSamples - 1)});
        if (!ray) continue;
        const double depth = by_depth ? dot(*ray, model_.forward()) : 1.0;
        least = std::min(least, model_.pixels_per_metre(model_.eye() + *ray) * depth);
      }
    }
    return std::isfinite(least) ? least : 0.0;
  }

  /// Places of which some height of the band is farther than this.
  void add_beyond_distance(double distance, plane::Label why) {
    const double rise = std::max(std::abs(band_.low_m - eye_.height_m), std::abs(band_.high_m - eye_.height_m));
    regions_.add(whole_box(), why);
    if (distance <= rise) return;
    std::vector<Point> near = circle(eye_.at, std::sqrt(distance * distance - rise * rise), true);
    plane::ProjectivePolygon ring;
    for (const Point p : near) ring.push_back({p.x - eye_.at.x, p.y - eye_.at.y, 1.0});
    std::vector<Point> kept = plane::cut_to_box(std::move(ring), eye_.at, box_);
    std::reverse(kept.begin(), kept.end());
    regions_.add(std::move(kept), why);
  }

  void add_density() {
    if (watching_.px_per_m <= 0.0) return;
    const double limit = least_magnification() / watching_.px_per_m;
    const plane::Label why = label(Why::too_far);
    if (model_.lens().terms().projection == site::Projection::pinhole)
      regions_.add(places_in_half_space(eye_, model_.forward(), limit, band_, box_), why);
    else
      add_beyond_distance(limit, why);
  }

  void add_height_share() {
    if (watching_.height_pct <= 0.0) return;
    const plane::Label why = label(Why::too_far);
    for (std::vector<Point>& piece :
         places_below_height_share(model_, floor_.height_m, demand_.target_m, watching_.height_pct, box_))
      regions_.add(std::move(piece), why);
  }

  void add_near() {
    if (watching_.near_m <= 0.0) return;
    const plane::Label why = label(Why::too_near);
    if (model_.lens().terms().projection == site::Projection::pinhole) {
      regions_.add(places_in_half_space(eye_, -1.0 * model_.forward(), -watching_.near_m, band_, box_), why);
      return;
    }
    const double nearest = std::max({0.0, band_.low_m - eye_.height_m, eye_.height_m - band_.high_m});
    if (nearest >= watching_.near_m) return;
    const double radius = std::sqrt(watching_.near_m * watching_.near_m - nearest * nearest);
    plane::ProjectivePolygon ring;
    for (const Point p : circle(eye_.at, radius, false)) ring.push_back({p.x - eye_.at.x, p.y - eye_.at.y, 1.0});
    regions_.add(plane::cut_to_box(std::move(ring), eye_.at, box_), why);
  }

  void add_dark() {
    if (needs_own_light(watching_, floor_.level)) add_beyond_distance(watching_.light_m, label(Why::dark));
  }

  void add_masks() {
    for (const CameraSetup::Mask& mask : model_.setup().masks) {
      const plane::Label why = label(Why::masked, mask.id);
      for (const std::array<PicturePlace, 3>& triangle : triangles_of(mask)) {
        std::vector<Vector3> rays;
        for (const PicturePlace place : triangle)
          if (const auto ray = model_.ray(place)) rays.push_back(*ray);
        if (rays.size() == 3) regions_.add(places_in_cone(eye_, rays, band_, box_), why);
      }
    }
  }

  /// A mask may be of any shape: cut into triangles in the picture, where its sides are straight.
  std::vector<std::array<PicturePlace, 3>> triangles_of(const CameraSetup::Mask& mask) const {
    plane::Ring ring;
    const int pieces = model_.is_flat() ? 1 : kPiecesOfMaskSide;
    for (std::size_t i = 0; i < mask.corners.size(); ++i) {
      const PicturePlace a = mask.corners[i], b = mask.corners[(i + 1) % mask.corners.size()];
      for (int k = 0; k < pieces; ++k)
        ring.corners.push_back(
            {a.across_px + (b.across_px - a.across_px) * k / pieces, a.down_px + (b.down_px - a.down_px) * k / pieces});
    }
    constexpr double hundredth = 1.0 / 128.0;  // of a pixel
    const plane::Overlay cut({&ring, 1}, {{-1, -1}, {model_.width_px() + 1, model_.height_px() + 1}}, hundredth);
    const plane::Triangulation& t = cut.triangulation();
    std::vector<std::array<PicturePlace, 3>> triangles;
    for (std::int32_t triangle = 0; triangle < cut.triangle_count(); ++triangle) {
      if (cut.labels(cut.set_of(triangle)).empty()) continue;
      std::array<PicturePlace, 3> corners;
      for (plane::Half k = 0; k < 3; ++k) {
        const Point p = t.point(t.origin(3 * triangle + k));
        corners[static_cast<std::size_t>(k)] = {p.x, p.y};
      }
      triangles.push_back(corners);
    }
    return triangles;
  }

  const Watching& watching_;
  const CameraModel& model_;
  std::size_t viewer_;
  const Demand& demand_;
  const Floor& floor_;
  Eye eye_;
  Band band_;
  const plane::Box& box_;
  Regions& regions_;
};

/// Whether a ceiling or a floor lies between the eye and some height of the band. The file knows no outlines of
/// ceilings, so one that a sight line passes anywhere counts: an eye above the ceiling of the place's level or below
/// its floor sees nothing there, and a camera sees nothing above its own ceiling, the heads on the upper steps of a
/// stair among it.
bool behind_a_slab(const Building& building, const std::string& level, const Floor& place, const Eye& eye,
                   const Band& band) {
  const Floor* own = building.floor(level);
  const Floor* under = building.floor(place.level);
  if (own == nullptr || under == nullptr) return true;
  if (eye.height_m > under->ceiling_m || eye.height_m < under->height_m) return true;
  return band.high_m > std::min(own->ceiling_m, under->ceiling_m) || band.low_m < own->height_m;
}

}  // namespace

void add_camera(const Building& building, const Watching& watching, std::size_t viewer, const Demand& demand,
                const Floor& floor, const std::vector<std::size_t>& ignored, const plane::Box& box, Regions& regions) {
  CameraRegions camera(watching, viewer, demand, floor, box, regions);
  if (behind_a_slab(building, watching.level, floor, camera.eye(), camera.band())) {
    camera.add_whole(Why::other_level);
    return;
  }
  camera.add();
  Looking looking;
  looking.viewer = viewer;
  looking.eye = camera.eye();
  looking.heading = {watching.model.forward().x, watching.model.forward().y};
  looking.medium = {false, !needs_own_light(watching, floor.level), false};
  looking.hides = Hides::some;
  looking.band = camera.band();
  looking.ignored = ignored;
  add_obstacles(building, looking, box, regions);
}

}  // namespace zoneproof::sight
