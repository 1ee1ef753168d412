#pragma once
#include <set>
#include <vector>

#include "drawing/legend.hpp"
#include "sheets/plan_canvas.hpp"

namespace zoneproof::sheets {

/// Samples of the signs that occur, drawn by what draws the plan, each with what it means. Used by plan_sheet only.
std::vector<drawing::LegendEntry> plan_legend(const std::set<PlanSign>& signs);

}  // namespace zoneproof::sheets
