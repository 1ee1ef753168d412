#pragma once
#include "sight/zone_view.hpp"
#include "timeline/told.hpp"

namespace zoneproof::timeline {

/// How long somebody is in a detection area, by the straight way across its deepest place.
struct Crossing {
  double way_m = 0.0;  ///< diameter of the largest circle in the area, the smallest over its parts
  Told fast, slow;     ///< at the rulebook's fastest and slowest person
};

/// Parts of the area smaller than what the rulebook lets a patch be are no place to cross. Not known where the area is
/// not known, or the rulebook names no speeds. Cost: plane/inner_circle.hpp.
Crossing crossing_of(const site::Site& site, const sight::ZoneView& view);

}  // namespace zoneproof::timeline
