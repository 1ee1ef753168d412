#include "sheets/plan_lines.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::sheets {

using drawing::Line;
using drawing::Point;
using drawing::Points;
using drawing::Subpath;

namespace {

constexpr double kChord_mm = 0.1;

/// Shares of a line's length at which it crosses a side; each corner counts for one of its two sides (half-open).
void add_crossings(std::vector<double>& shares, const Line& line, const Points& corners) {
  const Point along = line.to - line.from;
  const auto turn = [&](Point p) { return along.x * (p.y - line.from.y) - along.y * (p.x - line.from.x); };
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const Point a = corners[i], b = corners[(i + 1) % corners.size()];
    const double of_a = turn(a), of_b = turn(b);
    if ((of_a <= 0.0) == (of_b <= 0.0)) continue;
    const Point at = a + (b - a) * (of_a / (of_a - of_b));
    const double square = along.x * along.x + along.y * along.y;
    shares.push_back(((at.x - line.from.x) * along.x + (at.y - line.from.y) * along.y) / square);
  }
}

}  // namespace

std::vector<Line> parts_inside(const Line& line, const std::vector<Subpath>& area) {
  std::vector<double> shares;
  for (const Subpath& ring : area) add_crossings(shares, line, flattened(ring, kChord_mm));
  std::sort(shares.begin(), shares.end());
  std::vector<Line> parts;
  const Point along = line.to - line.from;
  for (std::size_t i = 0; i + 1 < shares.size(); i += 2) {
    const double from = std::max(shares[i], 0.0), to = std::min(shares[i + 1], 1.0);
    if (from < to) parts.push_back({line.from + along * from, line.from + along * to});
  }
  return parts;
}

std::vector<Subpath> diagonals(const std::vector<Subpath>& area, bool both) {
  const drawing::Box box = drawing::bounds(area);
  std::vector<Line> lines = {{{box.left, box.bottom}, {box.right, box.top}}};
  if (both) lines.push_back({{box.left, box.top}, {box.right, box.bottom}});
  std::vector<Subpath> paths;
  for (const Line& line : lines)
    for (const Line& part : parts_inside(line, area)) paths.push_back(drawing::line_through({part.from, part.to}));
  return paths;
}

Line beside(const Line& line, double by_mm) {
  const Point along = line.to - line.from;
  const double size = length(along);
  if (size == 0.0) return line;
  const Point by = Point{along.y, -along.x} * (by_mm / size);
  return {line.from + by, line.to + by};
}

bool box_inside(const drawing::Box& box, const std::vector<Subpath>& area) {
  std::vector<Line> lines;
  add_lines(lines, area);
  if (std::any_of(lines.begin(), lines.end(), [&](const Line& line) { return cross(line, box); })) return false;
  // Nothing of the border meets it: it lies inside wholly or not at all.
  return !parts_inside({{box.left, box.top}, {box.right, box.bottom}}, area).empty();
}

Points parallel(const Points& points, bool closed, double by_mm) {
  const std::size_t count = points.size();
  const auto normal = [&](std::size_t from, std::size_t to) {
    const Point along = points[to] - points[from];
    const double size = length(along);
    return size > 0.0 ? Point{along.y / size, -along.x / size} : Point{};
  };
  Points moved;
  for (std::size_t i = 0; i < count; ++i) {
    const bool first = i == 0 && !closed, last = i + 1 == count && !closed;
    const Point after = last ? normal(i - 1, i) : normal(i, (i + 1) % count);
    const Point before = first ? after : normal((i + count - 1) % count, i);
    constexpr double sharpest = 0.2;  // a corner that turns back almost is cut off
    const double open = std::max(1.0 + before.x * after.x + before.y * after.y, sharpest);
    moved.push_back(points[i] + (before + after) * (by_mm / open));
  }
  return moved;
}

void add_lines(std::vector<Line>& lines, const std::vector<Subpath>& paths) {
  for (const Subpath& path : paths) {
    const Points points = flattened(path, kChord_mm);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) lines.push_back({points[i], points[i + 1]});
    if (path.closed && points.size() > 1) lines.push_back({points.back(), points.front()});
  }
}

}  // namespace zoneproof::sheets
