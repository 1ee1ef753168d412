#pragma once
#include <vector>

#include "drawing/geometry.hpp"
#include "sheets/well_inside.hpp"

namespace zoneproof::sheets {

/// Boxes that together hold all of an area and little more: what lies in it keeps texts away that only know boxes. One
/// for each strip of 1.5 mm that the area reaches, from its leftmost to its rightmost place there; a bay between two
/// arms of it counts as filled.
std::vector<drawing::Box> boxes_over(const Rings& area);

}  // namespace zoneproof::sheets
