#include "sheets/plan_place.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "site/outline.hpp"

namespace zoneproof::sheets {

namespace {

constexpr double kPerMetre_mm = 1000.0;

class Extent {
 public:
  void add(plane::Point p) {
    box_.low = {std::min(box_.low.x, p.x), std::min(box_.low.y, p.y)};
    box_.high = {std::max(box_.high.x, p.x), std::max(box_.high.y, p.y)};
    any_ = true;
  }
  void add(const std::vector<site::PlanPoint>& path) {
    if (const auto points = site::points_of(path))
      for (const plane::Point p : *points) add(p);
  }
  void add(const sight::Outlines& outlines) {
    for (const auto& ring : outlines)
      for (const plane::Point p : ring) add(p);
  }
  void add(const site::Mount& mount, const std::string& level) {
    if (mount.level.id == level && mount.x_m.known() && mount.y_m.known()) add({mount.x_m.nominal, mount.y_m.nominal});
  }
  /// A flight with its whole width, whichever way it runs.
  void add(const site::Stair& stair) {
    const auto ends = site::points_of({stair.foot, stair.head});
    if (!ends || !stair.width_m.known()) return;
    const double half = stair.width_m.nominal / 2;
    for (const plane::Point p : *ends) {
      add({p.x - half, p.y - half});
      add({p.x + half, p.y + half});
    }
  }
  std::optional<plane::Box> box() const { return any_ ? std::optional(box_) : std::nullopt; }

 private:
  static constexpr double kFar = std::numeric_limits<double>::infinity();
  plane::Box box_ = {{kFar, kFar}, {-kFar, -kFar}};
  bool any_ = false;
};

template <class T>
void add_outlines(Extent& extent, const site::Map<T>& things, const std::string& level) {
  for (const auto& [id, thing] : things)
    if (thing.level.id == level) extent.add(thing.outline);
}

}  // namespace

double PlanPlace::mm(double metres) const { return metres * kPerMetre_mm / scale; }

drawing::Point PlanPlace::at(plane::Point place) const {
  return {corner.x + mm(place.x - extent.low.x), corner.y - mm(place.y - extent.low.y)};
}

drawing::Points PlanPlace::at(const std::vector<plane::Point>& places) const {
  drawing::Points points;
  for (const plane::Point place : places) points.push_back(at(place));
  return points;
}

std::vector<drawing::Subpath> PlanPlace::rings(const sight::Outlines& outlines) const {
  std::vector<drawing::Subpath> rings;
  for (const auto& outline : outlines)
    if (outline.size() >= 3) rings.push_back(drawing::ring(at(outline)));
  return rings;
}

std::optional<plane::Box> extent_of_level(const sight::Scene& scene, const std::vector<sight::ZoneView>& views,
                                          const std::string& level) {
  const site::Site& site = scene.site();
  Extent extent;
  for (const auto& [id, wall] : site.walls)
    if (wall.level.id == level) extent.add(wall.path);
  add_outlines(extent, site.blocks, level);
  add_outlines(extent, site.protected_places, level);
  add_outlines(extent, site.privacy_areas, level);
  for (const auto& [id, stair] : site.stairs)
    if (stair.level.id == level) extent.add(stair);
  for (const auto& [id, camera] : site.cameras) extent.add(camera.mount, level);
  for (const auto& [id, detector] : site.detectors) {
    extent.add(detector.mount, level);
    extent.add(detector.beam_to, level);
  }
  for (const sight::ZoneView& view : views) {
    for (std::size_t i = 0; i < view.coverage.areas.size(); ++i)
      if (view.coverage.area_levels[i] == level) extent.add(view.coverage.areas[i]);
    for (const sight::Patch& patch : view.coverage.patches)
      if (patch.level == level) extent.add(patch.outlines);
  }
  return extent.box();
}

double scale_that_fits(const plane::Box& extent, double width_mm, double height_mm) {
  constexpr std::array<double, 6> kSteps = {20.0, 25.0, 50.0, 75.0, 100.0, 125.0};
  const double wide = (extent.high.x - extent.low.x) * kPerMetre_mm,
               high = (extent.high.y - extent.low.y) * kPerMetre_mm;
  for (double power = 1.0;; power *= 10.0) {
    for (const double step : kSteps)
      if (wide <= width_mm * step * power && high <= height_mm * step * power) return step * power;
  }
}

}  // namespace zoneproof::sheets
