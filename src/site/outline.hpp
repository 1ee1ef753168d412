#pragma once
#include <optional>
#include <vector>

#include "plane/point.hpp"
#include "site/scene.hpp"

/// Paths and outlines of the site file as points of the plane.
namespace zoneproof::site {

/// Nominal places; nothing where one of them is unknown.
std::optional<std::vector<plane::Point>> points_of(const std::vector<PlanPoint>& path);
std::optional<std::vector<plane::Point>> points_of(const std::vector<PicturePoint>& path);

/// What keeps a ring of corners from enclosing an area.
struct OutlineFault {
  enum class Kind { too_few, repeated, crossing, no_area };
  Kind kind = Kind::too_few;
  std::size_t corner = 0;  ///< repeated: the second of the two; crossing: where the later of both sides begins
  std::size_t other = 0;   ///< crossing: where the earlier side begins
};

/// The first fault of a ring, its last corner joined to its first; nothing where it is simple. Touching itself counts
/// as crossing: inside and outside are not told apart there. Cost: n log n where few sides lie above one another.
std::optional<OutlineFault> outline_fault(const std::vector<plane::Point>& ring);

/// Whether `at` lies inside of a simple ring or on it. Exact. Cost: linear.
bool inside_or_on(const std::vector<plane::Point>& ring, plane::Point at);

}  // namespace zoneproof::site
