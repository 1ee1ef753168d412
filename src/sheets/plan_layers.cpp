#include "sheets/plan_layers.hpp"

#include <utility>

#include "sheets/plan_areas.hpp"
#include "sheets/plan_building.hpp"
#include "sheets/plan_devices.hpp"
#include "sheets/plan_openings.hpp"

namespace zoneproof::sheets {

using drawing::Group;

std::vector<Group> PlanLayers::in_order(Group below, Group names) && {
  std::vector<Group> all;
  for (Group* layer : {&patches, &areas, &privacy, &protected_places, &stairs, &blocks, &frame, &walls, &openings,
                       &below, &devices, &names})
    if (!layer->items.empty()) all.push_back(std::move(*layer));
  return all;
}

PlanLayers plan_layers(PlanCanvas& canvas, const std::vector<sight::ZoneView>& views,
                       const std::vector<NumberedPatch>& patches) {
  PlanLayers layers;
  layers.areas = plan_detection(canvas, views);
  layers.patches = plan_patches(canvas, patches);
  if (!canvas.only) {
    layers.protected_places = plan_protected(canvas);
    layers.privacy = plan_privacy(canvas);
  }
  layers.blocks = plan_blocks(canvas);
  layers.stairs = plan_stairs(canvas);
  layers.walls = plan_walls(canvas);
  layers.openings = plan_openings(canvas);
  layers.devices = plan_devices(canvas);
  return layers;
}

}  // namespace zoneproof::sheets
