#pragma once
#include <utility>
#include <vector>

#include "plane/arrangement.hpp"
#include "plane/point.hpp"

namespace zoneproof::sight {

/// Pieces that meet in twos joined to lines as long as they go on; a closed line ends with the vertex it begins with.
/// The same pieces give the same lines. Cost: n log n.
std::vector<std::vector<plane::Vertex>> chains_of(const std::vector<std::pair<plane::Vertex, plane::Vertex>>& pieces);

/// A line without the points that lie within `tolerance` of the straight line past them.
std::vector<plane::Point> straightened(const std::vector<plane::Point>& line, double tolerance);

}  // namespace zoneproof::sight
