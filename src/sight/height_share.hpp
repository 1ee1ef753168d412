#pragma once
#include <vector>

#include "plane/point.hpp"
#include "sight/camera_model.hpp"

namespace zoneproof::sight {

/// Whether `places_below_height_share` answers for a camera: a pinhole without distortion.
bool height_share_is_answered(const CameraModel& model);

/// Places within `box` at which a standing target takes less than a share of the picture's height.
///
/// With q from the eye to the target's foot, w the axis, d the direction downward in the picture, f its focal length in
/// pixels, z0 = w.q and z1 = z0 + t w.up the depths of foot and head of a target of height t, the target spans
///
///     f (d.q / z0 - (d.q + t d.up) / z1) = f t n.q / (z0 z1),    n = (w.up) d - (d.up) w,
///
/// pixels. n has no part upward. In coordinates of the plan along the axis (X) and across it (Y), z0 and z1 are linear
/// in X alone, so the border n.q = (share times picture's height / f t) z0 z1 is a parabola in X, and the places within
/// are convex. Without a roll n has no part in Y either, and they are a strip between two lines across the axis: exact.
/// Else the parabola is replaced by chords inside of it, 64 of them over what of it lies in the box: what that gives
/// away is below the square of a chord's length times its curvature over 8. Who stands behind the foot of a steep
/// camera is upside down in its picture (n.q < 0) and takes a share like anybody: so the plan is halved along n.q = 0,
/// and each half has a border of its own.
std::vector<std::vector<plane::Point>> places_below_height_share(const CameraModel& model, double floor_m,
                                                                 double target_m, double share_pct,
                                                                 const plane::Box& box);

}  // namespace zoneproof::sight
