#pragma once
#include <vector>

#include "sheets/plan_canvas.hpp"
#include "sheets/plan_numbers.hpp"

/// The layers of a plan. Used by plan_sheet and zone_cut_out.
namespace zoneproof::sheets {

struct PlanLayers {
  drawing::Group areas, patches, protected_places, privacy, blocks, stairs, walls, openings, devices;
  drawing::Group frame;  ///< of a camera that was chosen: empty until somebody fills it

  /// In the order in which they lie on each other: hatching under everything, so that a wall across it stays a wall;
  /// `below` the symbols (clean paper and leaders), `names` over all. Empty ones are left out.
  std::vector<drawing::Group> in_order(drawing::Group below, drawing::Group names) &&;
};

/// Everything but the frame, with `views` as outlines and `patches` hatched.
PlanLayers plan_layers(PlanCanvas& canvas, const std::vector<sight::ZoneView>& views,
                       const std::vector<NumberedPatch>& patches);

}  // namespace zoneproof::sheets
