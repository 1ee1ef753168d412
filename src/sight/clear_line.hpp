#pragma once
#include "sight/obstacles.hpp"
#include "sight/vector3.hpp"

namespace zoneproof::sight {

/// Whether nothing that the medium does not pass wholly stands between two places: what a beam, or the sound of a pane,
/// needs for sure. A thing of two states stands there in one of them, so it counts. A surface that one of the places
/// touches (1 mm) is what the device is fixed to, or the pane itself, and does not count. Ceilings and floors have no
/// outlines: the caller asks of places on either side of one for itself. Cost: linear in the sides of the building.
bool clear_line(const Building& building, const Vector3& from, const Vector3& to, const Medium& medium);

}  // namespace zoneproof::sight
