#pragma once
#include <string>
#include <vector>

#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// Parallel lines that tell an area apart without colour. `angle_deg` as in `at_angle`; `crossed` adds a second set at
/// a right angle.
struct Hatch {
  double angle_deg = 45.0;
  double spacing_mm = 1.5;
  bool crossed = false;
  Stroke stroke = {};
};

/// The lines of a hatching, clipped to an area (even-odd, holes stay clean; arcs to 0.01 mm). They are lines like any
/// other and not a fill pattern, so that every reader of every format shows the same. The lines of all areas with the
/// same hatch lie in one pattern over the sheet: two areas that touch look like one. A line ends where an edge of the
/// area is crossed; an area that is thinner than the spacing may get none. Scan-line method, each corner counted for
/// the edge above it only (Foley, van Dam, Feiner and Hughes, "Computer Graphics", 2nd edition, section 3.6, from
/// memory). Cost: lines times edges.
/// Throws std::logic_error for a spacing that is not above 0 or one that gives more than a million lines.
Shape hatched(std::string id, const std::vector<Subpath>& area, const Hatch& hatch);

}  // namespace zoneproof::drawing
