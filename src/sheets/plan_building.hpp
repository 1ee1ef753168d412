#pragma once
#include <optional>
#include <utility>
#include <vector>

#include "drawing/legend.hpp"
#include "sheets/plan_canvas.hpp"

/// Walls, what stands between them and stairs, as a drawing office draws them. Used by plan_sheet only.
namespace zoneproof::sheets {

/// Walls by height (full heavier than low) and by what they let through, cut by their openings; a shape each.
drawing::Group plan_walls(PlanCanvas& canvas);
/// Blocks by kind and fill; a group or shape each.
drawing::Group plan_blocks(PlanCanvas& canvas);
/// Flights with their treads and an arrow up; where treads would run together only some of them are drawn.
drawing::Group plan_stairs(PlanCanvas& canvas);

/// How a sign of these layers looks in a legend; nothing for a sign of another layer.
std::vector<drawing::Item> building_sample(PlanSign sign);

}  // namespace zoneproof::sheets
