#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "drawing/list.hpp"

/// Shapes made of places and sizes.
namespace zoneproof::drawing {

using Points = std::vector<Point>;

Subpath line_through(const Points& points);  ///< open; at least one point
Subpath ring(const Points& points);          ///< closed, straight; at least three points
Subpath ring(const Box& box);
Subpath circle(Point centre, double radius);
/// From `from_deg` on by `sweep_deg`, clockwise on paper where positive.
Subpath arc(Point centre, double radius, double from_deg, double sweep_deg);
/// Two half circles of half the box's height joined by straight lines: a link of a chain. Wider than high.
Subpath slot(const Box& box);

/// Continues a path by an arc; where that does not begin at its end, by a straight line to there first.
void add_arc(Subpath& path, Point centre, double radius, double from_deg, double sweep_deg);

Shape stroked(std::string id, std::vector<Subpath> path, Stroke stroke);
Shape filled(std::string id, std::vector<Subpath> path, Ink ink);

/// A text with its measure taken. What could move a cursor or reverse what stands beside it is made printable.
TextLine text_line(const Ruler& ruler, std::string id, std::string_view content, Face face, double size_mm, Ink ink,
                   Point at, Align align = Align::left);

/// Clean paper for a text that lies on hatching or crosses a line: to be put before it.
Shape backing(const TextLine& text);

/// The smallest box about a path; arcs exact, line width left out.
Box bounds(const std::vector<Subpath>& path);

/// Straight pieces that leave an arc by at most `tolerance_mm`.
Points flattened(const Subpath& path, double tolerance_mm);

}  // namespace zoneproof::drawing
