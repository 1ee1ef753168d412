#pragma once
#include <vector>

#include "drawing/legend.hpp"
#include "sheets/plan_canvas.hpp"

/// Detectors and cameras: symbols of our own, with where they look. Used by plan_sheet only.
namespace zoneproof::sheets {

/// Cameras are open wedges, detectors half discs with their flat side on the wall, contacts squares, others diamonds,
/// beams a line between two half discs. A detector is named by the numbers of its zones, a camera by its name; what
/// stands in one place on paper has one label.
drawing::Group plan_devices(PlanCanvas& canvas);

std::vector<drawing::Item> device_sample(PlanSign sign);

}  // namespace zoneproof::sheets
