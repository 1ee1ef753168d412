#pragma once
#include <functional>
#include <vector>

#include "plane/point.hpp"
#include "sight/camera_model.hpp"

namespace zoneproof::sight {

/// The rays along a ring of straight sides in a picture plane whose places are counted from the foot of the axis.
///
/// What lies beyond the circle of radius `reach` around that foot is drawn onto the circle, along the line to the
/// foot. No place within the circle is passed over by that, so winding numbers there, and with them what the ring holds
/// within the circle, stay as they are. Sides are cut where they cross the circle, and then halved until the rays at
/// the quarters of a piece lie within half of the tolerance of the flat fan through its ends: an arc bulges most in its
/// middle, an S at its quarters; the other half is for all others. `straight`: sides are flat fans as they are.
/// Throws std::invalid_argument where the tolerance is not above 0.
RayOutline follow_ring(const std::vector<plane::Point>& ring, double reach, bool straight, double tolerance,
                       const std::function<Vector3(plane::Point)>& ray_at);

}  // namespace zoneproof::sight
