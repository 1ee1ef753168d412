#pragma once
#include <optional>
#include <vector>

#include "drawing/list.hpp"
#include "drawing/shapes.hpp"

/// Lines of a plan that geometry has to be done for.
namespace zoneproof::sheets {

/// The parts of a straight line that lie in an area (even-odd).
std::vector<drawing::Line> parts_inside(const drawing::Line& line, const std::vector<drawing::Subpath>& area);

/// Both diagonals of the box about an area, as far as they lie in it; `both` false: the rising one only.
std::vector<drawing::Subpath> diagonals(const std::vector<drawing::Subpath>& area, bool both);

/// A straight line moved to its left by `by_mm` (as seen along it on paper, to its right where negative).
drawing::Line beside(const drawing::Line& line, double by_mm);

/// The corners of a line, or of a ring, moved likewise so that all of it runs beside.
drawing::Points parallel(const drawing::Points& points, bool closed, double by_mm);

/// Whether a box lies in an area wholly.
bool box_inside(const drawing::Box& box, const std::vector<drawing::Subpath>& area);

/// All straight pieces of paths, arcs as chords: for what keeps away from lines.
void add_lines(std::vector<drawing::Line>& lines, const std::vector<drawing::Subpath>& paths);

}  // namespace zoneproof::sheets
