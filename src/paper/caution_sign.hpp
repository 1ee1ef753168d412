#pragma once
#include "drawing/list.hpp"

namespace zoneproof::paper {

/// The sign beside a caution: an upright triangle with a link of a chain in it. The word beside it tells, the sign only
/// draws the eye.
drawing::Group caution_sign(drawing::Point upper_left, double side_mm);

/// How high it is.
double caution_sign_height(double side_mm);

}  // namespace zoneproof::paper
