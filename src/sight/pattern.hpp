#pragma once
#include <vector>

#include "plane/point.hpp"
#include "site/parts.hpp"

/// A detector's pattern as outlines on the plan, before the building cuts it.
///
/// What a sheet says has two ends: where everybody is detected (guaranteed), and beyond which nobody is (largest).
/// Whatever is not told falls to the side that proves less: heights beyond the rows of the profile are not covered by
/// the guaranteed area and are by the largest. Arcs are chords within 5 mm, inside of the true arc for the guaranteed
/// area and outside for the largest.
namespace zoneproof::sight {

enum class Extent { guaranteed, largest };

/// Heights above the floor of which the pattern has to cover some for a person to be in it.
struct Body {
  double from_m = 0.0, to_m = 0.0;
};

using Outlines = std::vector<std::vector<plane::Point>>;  ///< counter-clockwise; holes clockwise

/// Distances [from, to] on the floor at which the pattern covers a body; ascending, apart.
struct Distances {
  double from_m = 0.0, to_m = 0.0;
};
std::vector<Distances> distances_covered(const site::PatternSpec& pattern, Extent extent, const Body& body,
                                         double range_m);

/// Outlines of a fan, curtain or disc at a place, looking that way (degrees clockwise from north). Its sizes must be
/// known. Other shapes have no outline of their own and give nothing.
Outlines pattern_outlines(const site::PatternSpec& pattern, Extent extent, const Body& body, plane::Point at,
                          double bearing_deg);

/// A strip of that width along a line; of no length, a square around it.
std::vector<plane::Point> strip(plane::Point from, plane::Point to, double width_m);

/// Unit vector of a bearing.
plane::Point direction_of(double bearing_deg);

/// A circle as chords of which none is farther than 5 mm from it: `inside` keeps all of them in the circle.
std::vector<plane::Point> circle(plane::Point middle, double radius_m, bool inside);

}  // namespace zoneproof::sight
