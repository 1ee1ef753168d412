#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "drawing/legend.hpp"
#include "sheets/plan_canvas.hpp"

/// Doors, windows, shutters, doorways. Used by plan_* only.
namespace zoneproof::sheets {

/// Where an opening cuts a stretch of a wall: metres from its beginning.
struct PlanHole {
  std::string opening;
  double from_m = 0.0, to_m = 0.0;
};

/// Those of a stretch (counted from 1) whose place is known, in their order along it.
std::vector<PlanHole> holes_of_stretch(const site::Site& site, const std::string& wall, std::size_t stretch);

/// Jambs, leaves and swings; a line across the opening tells its state. A group each. The side that a door swings to is
/// in no site file: it is drawn to the left of its wall's direction, hinged at its beginning, and the legend says that.
drawing::Group plan_openings(PlanCanvas& canvas);

std::vector<drawing::Item> opening_sample(PlanSign sign);

}  // namespace zoneproof::sheets
