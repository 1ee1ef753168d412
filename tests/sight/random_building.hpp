#pragma once
#include <random>
#include <string>

#include "random_camera.hpp"
#include "sight/building.hpp"

/// Buildings by chance: walls that cross, touch and stand free, low ones and lintels, bodies on the floor, on posts and
/// through walls. One level of 16 by 16 metres, 3 metres high.
namespace zoneproof::sight {

/// Coarse: corners on a grid of half a metre, so that much touches, repeats or lies in one plane.
inline Building random_building(std::mt19937_64& random, bool coarse) {
  Building building;
  building.levels = {"ground"};
  building.floors = {{"ground", 0.0, 3.0}};
  const auto length = [&](double low, double high, double grid) {
    const double value = within(random, low, high);
    return coarse ? std::round(value / grid) * grid : value;
  };
  const auto add = [&](ThingKind kind, bool body, std::vector<plane::Point> outline) {
    double bottom = length(0, 2, 0.5), top = length(0.5, 3, 0.5);
    if (random() % 2 == 0) bottom = 0.0;
    if (random() % 3 == 0) top = 3.0;
    if (!(bottom < top)) bottom = 0.0;
    building.things.push_back({kind, (body ? "block_" : "wall_") + std::to_string(building.things.size())});
    building.prisms.push_back(
        {building.things.size() - 1, body, std::move(outline), bottom, top, site::Surface::solid, 0.0, false, 1.0});
  };
  for (int i = 0; i < 12; ++i) {
    const plane::Point a = {length(0, 16, 0.5), length(0, 16, 0.5)}, b = {length(0, 16, 0.5), length(0, 16, 0.5)};
    if (!(a == b)) add(ThingKind::wall, false, {a, b});
  }
  for (int i = 0; i < 10; ++i) {
    const plane::Point a = {length(0, 14, 0.5), length(0, 14, 0.5)};
    const double width = length(0.5, 2, 0.5), depth = length(0.5, 2, 0.5), lean = coarse ? 0.0 : within(random, 0, 0.4);
    add(ThingKind::block, true,
        {a, {a.x + width, a.y + lean}, {a.x + width - lean, a.y + depth + lean}, {a.x - lean, a.y + depth}});
  }
  return building;
}

/// The same camera somewhere in the building, outside of bodies.
inline CameraModel camera_in(const Building& building, const CameraModel& like, std::mt19937_64& random) {
  CameraSetup setup = like.setup();
  for (bool inside = true; inside;) {
    setup.eye = {within(random, 0, 16), within(random, 0, 16), within(random, 1.5, 2.9)};
    inside = false;
    for (const Prism& prism : building.prisms) {
      if (!prism.body) continue;
      bool within_all = true;
      for (std::size_t i = 0; i < prism.outline.size(); ++i) {
        const auto a = prism.outline[i], b = prism.outline[(i + 1) % prism.outline.size()];
        within_all = within_all && (b.x - a.x) * (setup.eye.y - a.y) - (b.y - a.y) * (setup.eye.x - a.x) > -1e-3;
      }
      inside = inside || (within_all && setup.eye.z > prism.bottom_m && setup.eye.z < prism.top_m);
    }
  }
  setup.tilt_deg = within(random, -60, 10);
  return CameraModel(setup);
}

}  // namespace zoneproof::sight
