#include "sight/stage.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace zoneproof::sight {

namespace {

using plane::Box;
using plane::Point;

constexpr double kAround_m = 1.0;  ///< of the overlay's bound around the area

}  // namespace

bool takes_floor(const Building& building, const Prism& prism, const Floor& floor, const Demand& demand) {
  if (!prism.body || prism.bottom_m > floor.height_m + demand.stoop_m) return false;
  // A step is stepped on as well, but it is a stage of its own.
  const bool step = building.things[prism.thing].kind == ThingKind::stair;
  return prism.top_m > floor.height_m + (step ? 0.0 : demand.stepped_on_m);
}

std::vector<Stage> stages_of(const Building& building, const std::vector<const AreaSource*>& sources) {
  std::vector<Stage> stages;
  std::set<std::string> levels;
  for (const AreaSource* source : sources) levels.insert(source->level);
  for (const std::string& level : levels) {
    const Floor* floor = building.floor(level);
    if (floor == nullptr) continue;
    std::vector<const AreaSource*> here;
    for (const AreaSource* source : sources)
      if (source->level == level) here.push_back(source);
    stages.push_back({*floor, {}, here});
    for (const Prism& prism : building.prisms) {
      if (building.things[prism.thing].kind != ThingKind::stair || prism.top_m > floor->ceiling_m) continue;
      if (prism.top_m <= floor->height_m || prism.bottom_m < floor->height_m) continue;
      if (std::isinf(prism.top_m)) continue;  // what nothing ends has no top to stand on, not even under the sky
      stages.push_back({{level, prism.top_m, floor->ceiling_m}, prism.outline, here});
    }
  }
  return stages;
}

Box box_around(const Outlines& outlines) {
  constexpr double far = std::numeric_limits<double>::infinity();
  Box box = {{far, far}, {-far, -far}};
  for (const std::vector<Point>& ring : outlines) {
    for (const Point p : ring) {
      box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y)};
      box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y)};
    }
  }
  return box;
}

std::optional<Box> box_of(const Stage& stage) {
  Outlines all;
  for (const AreaSource* source : stage.sources)
    all.insert(all.end(), source->outlines.begin(), source->outlines.end());
  Box box = box_around(all);
  if (!stage.step.empty()) {
    const Box step = box_around({stage.step});
    box.low = {std::max(box.low.x, step.low.x), std::max(box.low.y, step.low.y)};
    box.high = {std::min(box.high.x, step.high.x), std::min(box.high.y, step.high.y)};
  }
  if (!(box.low.x < box.high.x) || !(box.low.y < box.high.y)) return std::nullopt;
  return box;
}

std::vector<std::size_t> things_of_openings(const Building& building, const std::vector<std::string>& openings) {
  std::vector<std::size_t> things;
  for (std::size_t i = 0; i < building.things.size(); ++i) {
    const Thing& thing = building.things[i];
    if (thing.kind == ThingKind::opening && std::find(openings.begin(), openings.end(), thing.id) != openings.end())
      things.push_back(i);
  }
  return things;
}

void add_within(Regions& regions, const std::vector<Point>& outline, plane::Label label, const Box& box) {
  plane::ProjectivePolygon polygon;
  for (const Point p : outline) polygon.push_back({p.x, p.y, 1.0});
  regions.add(plane::cut_to_box(std::move(polygon), {0.0, 0.0}, box), label);
}

plane::Overlay laid_over(const Regions& regions, const Box& box) {
  return {regions.rings,
          {{box.low.x - kAround_m, box.low.y - kAround_m}, {box.high.x + kAround_m, box.high.y + kAround_m}},
          kGrid_m};
}

/// The middle of a part's largest triangle.
Point place_inside(const plane::Overlay& overlay, const plane::Part& part) {
  const auto largest = std::max_element(part.triangles.begin(), part.triangles.end(),
                                        [&](auto a, auto b) { return overlay.area(a) < overlay.area(b); });
  return overlay.middle(*largest);
}

}  // namespace zoneproof::sight
