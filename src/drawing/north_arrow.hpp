#pragma once
#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// An arrow that points north within a circle about `centre`, half of it filled, with its letter beyond the tip and
/// upright. `north_deg` is the direction of north on paper: clockwise from straight up, so 0 for a sheet that has north
/// above. All of it lies within 1.6 times the radius.
Group north_arrow(const Ruler& ruler, Point centre, double radius_mm, double north_deg);

}  // namespace zoneproof::drawing
