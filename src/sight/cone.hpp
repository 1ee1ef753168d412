#pragma once
#include <vector>

#include "plane/point.hpp"
#include "sight/shadow.hpp"
#include "sight/vector3.hpp"

/// Places of which some height of the band lies in a convex cone of sight lines.
///
/// A part of a picture that shows nothing (beyond its frame, under a mask) is a cone with its apex in the eye. The
/// places of which it hides something are the projection of the cone's slice between the heights of the band: convex,
/// as the slice is. Its corners are where edges of the cone pass both heights, the apex where the eye's own height is
/// in the band, and, where the cone holds level sight lines, the directions of those. So the set is exact for cones
/// with flat sides, whatever the band.
namespace zoneproof::sight {

/// `rays`: edges of a convex cone in turn, in either sense, three or more, within less than a half-space; lengths do
/// not matter. Convex piece within `box`, counter-clockwise, empty where nothing of it lies there.
std::vector<plane::Point> places_in_cone(const Eye& eye, const std::vector<Vector3>& rays, const Band& band,
                                         const plane::Box& box);

/// The same for the half-space `normal . (place - eye) >= offset`.
std::vector<plane::Point> places_in_half_space(const Eye& eye, const Vector3& normal, double offset, const Band& band,
                                               const plane::Box& box);

}  // namespace zoneproof::sight
