#include "sight/ray_witness.hpp"

#include <algorithm>
#include <set>

namespace zoneproof::sight {

using plane::Point;

namespace {

double height(int i, int heights, const Band& band) { return band.low_m + (band.high_m - band.low_m) * i / heights; }

std::vector<Point> ring_of(const CameraSetup::Mask& mask) {
  std::vector<Point> ring;
  for (const PicturePlace corner : mask.corners) ring.push_back({corner.across_px, corner.down_px});
  return ring;
}

std::vector<Prism> without(const std::vector<Prism>& prisms, site::Surface surface) {
  std::vector<Prism> kept;
  std::copy_if(prisms.begin(), prisms.end(), std::back_inserter(kept), [&](const Prism& prism) {
    return prism.surface != surface && prism.surface != site::Surface::mesh && !prism.either;
  });
  return kept;
}

/// Whether a prism stands anywhere near the way from an eye to a place: by their boxes.
bool may_meet(const Prism& prism, Point eye, Point p) {
  const auto apart = [&](double Point::*along) {
    const auto [low, high] = std::minmax({eye.*along, p.*along});
    const auto beyond = [&](auto&& is) { return std::all_of(prism.outline.begin(), prism.outline.end(), is); };
    return beyond([&, low = low](Point c) { return c.*along < low; }) ||
           beyond([&, high = high](Point c) { return c.*along > high; });
  };
  return !apart(&Point::x) && !apart(&Point::y);
}

bool needs_own_light(const Watching& camera, const std::string& level) {
  const auto& dark = camera.dark_levels;
  return level == camera.level ? camera.own_light : std::find(dark.begin(), dark.end(), level) != dark.end();
}

}  // namespace

RayWitness::RayWitness(const Building& building, const std::vector<AreaSource>& sources,
                       const std::vector<Watching>& cameras, const Demand& demand)
    : building_(building), sources_(sources), cameras_(cameras), demand_(demand) {
  std::set<std::string> opens;
  for (const AreaSource& source : sources) opens.insert(source.opens.begin(), source.opens.end());
  for (const Prism& prism : building.prisms) {
    const Thing& thing = building.things[prism.thing];
    if (thing.kind == ThingKind::opening && opens.count(thing.id) != 0) continue;
    standing_.push_back(prism);
    if (prism.surface == site::Surface::mesh || prism.either) partial_.push_back(prism);
  }
  solid_.emplace(without(standing_, site::Surface::glass));
  with_glass_.emplace(without(standing_, site::Surface::mesh));
}

/// A ray meets what is solid; of the rest the share that gets through is multiplied.
double RayWitness::share(const Eye& eye, const Vector3& at, const Medium& medium, const State& state) const {
  const RayScene& scene = medium.through_glass ? *solid_ : *with_glass_;
  if (!medium.through_solid && scene.blocked({eye.at.x, eye.at.y, eye.height_m}, at)) return 0.0;
  double share = 1.0;
  for (const Prism& prism : partial_) {
    if (!may_meet(prism, eye.at, {at.x, at.y}) || !meets(prism, eye, at.z, {at.x, at.y})) continue;
    const bool gone = std::find(state.begin(), state.end(), prism.thing) != state.end();
    if (gone)
      share *= medium.mesh_is_clear || medium.through_solid ? 1.0 : prism.clear_otherwise;
    else if (prism.surface == site::Surface::mesh)
      share *= medium.mesh_is_clear ? 1.0 : prism.clear;
    else if (!(prism.surface == site::Surface::glass ? medium.through_glass : medium.through_solid))
      return 0.0;
  }
  return share;
}

/// A detector's band is that of a person who stands higher on a step, up to the ceiling.
Band RayWitness::band_of(const AreaSource& source, const Floor& floor) const {
  const double raised = floor.height_m - building_.floor(source.level)->height_m;
  const double low = source.looks->band.low_m + raised, high = source.looks->band.high_m + raised;
  return {low, std::min(high, std::max(low, floor.ceiling_m))};
}

bool RayWitness::reached(const AreaSource& source, Point p, const Floor& floor, int heights, const State& state) const {
  if (!holds(source.outlines, p)) return false;
  if (!source.looks) return true;
  const Eye eye = standing_off(building_, *source.looks);
  const Band band = band_of(source, floor);
  const bool all = source.looks->hides == Hides::some;  // nothing of the person may be hidden
  for (int i = 0; i <= heights; ++i) {
    const double through = share(eye, {p.x, p.y, height(i, heights, band)}, source.looks->medium, state);
    const bool free = through > 0.0 && 100.0 * through >= demand_.clear_pct;
    if (free != all) return free;
  }
  return all;
}

bool RayWitness::pictured(const Watching& camera, const Vector3& at, bool own_light) const {
  const CameraModel& model = camera.model;
  const auto place = model.place_of(at);
  if (!place || !model.in_picture(*place) || model.pixels_per_metre(at) < camera.px_per_m) return false;
  const Vector3 way = at - model.eye();
  const bool by_depth = model.lens().terms().projection == site::Projection::pinhole;
  if ((by_depth ? dot(way, model.forward()) : length(way)) < camera.near_m) return false;
  if (own_light && length(way) > camera.light_m) return false;
  return std::none_of(model.setup().masks.begin(), model.setup().masks.end(), [&](const CameraSetup::Mask& mask) {
    return holds({ring_of(mask)}, {place->across_px, place->down_px});
  });
}

bool RayWitness::shown(const Watching& camera, Point p, const Floor& floor, int heights, const State& state) const {
  const CameraModel& model = camera.model;
  const Band band = {floor.height_m + demand_.from_m, floor.height_m + demand_.to_m};
  // No ceiling has an outline: what lies beyond that of the camera or of the place is not seen anywhere.
  const Floor *own = building_.floor(camera.level), *under = building_.floor(floor.level);
  if (model.eye().z > under->ceiling_m || model.eye().z < under->height_m) return false;
  if (band.high_m > own->ceiling_m || band.high_m > under->ceiling_m || band.low_m < own->height_m) return false;
  const bool own_light = needs_own_light(camera, floor.level);
  Looking looks;
  looks.eye = {{model.eye().x, model.eye().y}, model.eye().z};
  looks.heading = {model.forward().x, model.forward().y};
  const Eye eye = standing_off(building_, looks);
  for (int i = 0; i <= heights; ++i) {
    const Vector3 at = {p.x, p.y, height(i, heights, band)};
    if (!pictured(camera, at, own_light)) return false;
    const double through = share(eye, at, {false, !own_light, false}, state);
    if (through <= 0.0 || 100.0 * through < demand_.clear_pct) return false;
  }
  return true;
}

RayWitness::State RayWitness::of_two_states(Point p) const {
  std::set<std::size_t> things;
  for (const Prism& prism : partial_) {
    const auto near = [&](Point eye) { return prism.either && may_meet(prism, eye, p); };
    const bool met =
        std::any_of(sources_.begin(), sources_.end(),
                    [&](const AreaSource& source) { return source.looks && near(source.looks->eye.at); }) ||
        std::any_of(cameras_.begin(), cameras_.end(), [&](const Watching& camera) {
          return near({camera.model.eye().x, camera.model.eye().y});
        });
    if (met) things.insert(prism.thing);
  }
  return {things.begin(), things.end()};
}

RayWitness::Said RayWitness::of(Point p, const Floor& floor, const std::vector<Point>& step, int heights) const {
  if (!step.empty() && !holds({step}, p)) return {};
  for (const Prism& prism : building_.prisms) {
    const bool is_step = building_.things[prism.thing].kind == ThingKind::stair;
    const double from = prism.bottom_m - floor.height_m, to = prism.top_m - floor.height_m;
    const bool in_the_way = from <= demand_.stoop_m && to > (is_step ? 0.0 : demand_.stepped_on_m);
    if (step.empty() && prism.body && in_the_way && holds({prism.outline}, p)) return {};
  }
  const State of_two = of_two_states(p);
  Said said{false, true};
  for (unsigned bits = 0; bits < 1U << of_two.size(); ++bits) {
    State state;
    for (std::size_t i = 0; i < of_two.size(); ++i)
      if ((bits >> i & 1U) != 0) state.push_back(of_two[i]);
    if (std::none_of(sources_.begin(), sources_.end(),
                     [&](const AreaSource& source) { return reached(source, p, floor, heights, state); }))
      continue;
    said.area = true;
    said.witnessed = said.witnessed && std::any_of(cameras_.begin(), cameras_.end(), [&](const Watching& camera) {
                       return shown(camera, p, floor, heights, state);
                     });
  }
  said.witnessed = said.witnessed && said.area;
  return said;
}

bool RayWitness::hidden_by_several(Point p, const Floor& floor, int heights) const {
  return std::any_of(sources_.begin(), sources_.end(), [&](const AreaSource& source) {
    if (!source.looks || source.looks->hides != Hides::all || !holds(source.outlines, p)) return false;
    const Eye eye = standing_off(building_, *source.looks);
    const Band band = band_of(source, floor);
    // What stands on each other over one stretch of a wall counts as one.
    return std::none_of(standing_.begin(), standing_.end(), [&](const Prism& one) {
      for (int i = 0; i <= heights; ++i) {
        const double at = height(i, heights, band);
        const bool met = std::any_of(standing_.begin(), standing_.end(), [&](const Prism& prism) {
          return (&prism == &one || (!one.body && prism.outline == one.outline)) && meets(prism, eye, at, p);
        });
        if (!met) return false;
      }
      return true;
    });
  });
}

bool RayWitness::near_border_of_picture(Point p, const Floor& floor, double near_px) const {
  constexpr int heights = 24;
  for (const Watching& camera : cameras_) {
    if (camera.model.is_flat()) continue;
    for (int i = 0; i <= heights; ++i) {
      const Band band = {floor.height_m + demand_.from_m, floor.height_m + demand_.to_m};
      const auto at = camera.model.place_of({p.x, p.y, height(i, heights, band)});
      if (!at) continue;
      const Point place = {at->across_px, at->down_px};
      if (distance_to(rectangle(0, 0, camera.model.width_px(), camera.model.height_px()), place) < near_px) return true;
      for (const CameraSetup::Mask& mask : camera.model.setup().masks)
        if (distance_to(ring_of(mask), place) < near_px) return true;
    }
  }
  return false;
}

}  // namespace zoneproof::sight
