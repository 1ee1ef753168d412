#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "sight/picture.hpp"

namespace zoneproof::sight {

/// A line of straight pieces, or a ring of them, mapped to the picture; pieces are halved until the picture's places at
/// their quarters lie within half of `kCurve_px` of the chord. Points that fall nowhere are left out.
std::vector<PicturePlace> curved(const std::vector<plane::Point>& line, bool closed,
                                 const std::function<std::optional<PicturePlace>(plane::Point)>& to_picture);

}  // namespace zoneproof::sight
