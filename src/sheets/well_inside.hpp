#pragma once
#include <optional>
#include <vector>

#include "drawing/geometry.hpp"

namespace zoneproof::sheets {

using Rings = std::vector<std::vector<drawing::Point>>;

/// Whether a place lies in an area (even-odd).
bool holds(const Rings& area, drawing::Point place);
/// Whether a box lies in an area wholly.
bool holds(const Rings& area, const drawing::Box& box);

/// A place of the area that is far from its border: the best of a grid of 24 by 24 over it, and of a finer one around
/// that. Not the farthest of all, which nobody would see. Nothing where no place of the grid lies in it.
std::optional<drawing::Point> well_inside(const Rings& area);

}  // namespace zoneproof::sheets
