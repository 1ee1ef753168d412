#pragma once
#include <string>
#include <vector>

#include "drawing/legend.hpp"
#include "sheets/plan_canvas.hpp"

/// What lies on the floor: where is detected, what no camera shows, what is asked for. Used by plan_sheet only.
namespace zoneproof::sheets {

/// A blind patch with the number it has on every sheet of a site: in the order of the views and of their patches.
struct NumberedPatch {
  int number = 0;
  const sight::ZoneView* view = nullptr;
  const sight::Patch* patch = nullptr;
};
/// Those on a level; they point into `views`.
std::vector<NumberedPatch> patches_on_level(const std::vector<sight::ZoneView>& views, const std::string& level);

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
