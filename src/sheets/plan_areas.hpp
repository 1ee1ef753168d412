#pragma once
#include <string>
#include <vector>

#include "drawing/legend.hpp"
#include "sheets/plan_canvas.hpp"
#include "sheets/plan_numbers.hpp"

/// What lies on the floor: where is detected, what no camera shows, what is asked for. Used by plan_sheet only.
namespace zoneproof::sheets {

/// Hatching and outlines of blind patches, and their numbers; a group each.
drawing::Group plan_patches(PlanCanvas& canvas, const std::vector<NumberedPatch>& patches);
/// Outlines of detection areas; a shape for each part of a zone's area. The floor within stays clean paper.
drawing::Group plan_detection(PlanCanvas& canvas, const std::vector<sight::ZoneView>& views);
/// Dotted outlines of protected areas, and a dotted frame about protected openings.
drawing::Group plan_protected(PlanCanvas& canvas);
/// Crossed outlines with the word.
drawing::Group plan_privacy(PlanCanvas& canvas);

std::vector<drawing::Item> area_sample(PlanSign sign);

}  // namespace zoneproof::sheets
