#pragma once
#include "materials/materials.hpp"
#include "paper/blocks.hpp"
#include "site/model.hpp"

namespace zoneproof::handover {

/// Cable schedule, everything that the site is made of, work, and, where a price list was given, what it costs: line by
/// line, with tax by rate and totals that add up. What has no price is told, and that the total is then not whole.
paper::Chapter materials_chapter(const site::Site& site, const materials::Materials& materials);

}  // namespace zoneproof::handover
