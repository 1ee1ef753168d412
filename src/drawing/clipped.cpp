#include "drawing/clipped.hpp"

#include <algorithm>
#include <utility>

#include "drawing/shapes.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kTolerance_mm = 0.02;

/// The share of a straight line, from and to, that lies in a box (Liang and Barsky, "A new concept and method for line
/// clipping", ACM Transactions on Graphics 3 (1984)): of each edge, the line is inside beyond or before one place.
/// Empty where first > second.
std::pair<double, double> share_inside(Point from, Point to, const Box& box) {
  double enters = 0.0, leaves = 1.0;
  const auto edge = [&](double along, double room) {  // inside where along * t <= room
    if (along == 0.0) {
      if (room < 0.0) enters = 2.0;
    } else if (along < 0.0) {
      enters = std::max(enters, room / along);
    } else {
      leaves = std::min(leaves, room / along);
    }
  };
  const Point by = to - from;
  edge(-by.x, from.x - box.left);
  edge(by.x, box.right - from.x);
  edge(-by.y, from.y - box.top);
  edge(by.y, box.bottom - from.y);
  return {enters, leaves};
}

/// The parts of a line through points that lie in a box.
void add_parts(std::vector<Subpath>& parts, const Points& points, const Box& box) {
  Points part;
  const auto end_part = [&] {
    if (part.size() > 1) parts.push_back(line_through(part));
    part.clear();
  };
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const Point from = points[i], by = points[i + 1] - from;
    const auto [enters, leaves] = share_inside(from, points[i + 1], box);
    if (enters >= leaves) {
      end_part();
      continue;
    }
    if (enters > 0.0) end_part();
    if (part.empty()) part.push_back(from + by * enters);
    part.push_back(leaves < 1.0 ? from + by * leaves : points[i + 1]);
    if (leaves < 1.0) end_part();
  }
  end_part();
}

/// An area cut along one edge of a box after the other (Sutherland and Hodgman, "Reentrant polygon clipping",
/// Communications of the ACM 17 (1974)). Where it falls apart, its parts stay joined along the edge by a strip without
/// width, which a fill does not show.
Points area_inside(Points points, const Box& box) {
  const auto cut = [&](const auto& depth) {  // inside where depth(p) >= 0
    Points kept;
    for (std::size_t i = 0; i < points.size(); ++i) {
      const Point a = points[i], b = points[(i + 1) % points.size()];
      const double at_a = depth(a), at_b = depth(b);
      if (at_a >= 0.0) kept.push_back(a);
      if ((at_a >= 0.0) != (at_b >= 0.0)) kept.push_back(a + (b - a) * (at_a / (at_a - at_b)));
    }
    points = std::move(kept);
  };
  cut([&](Point p) { return p.x - box.left; });
  cut([&](Point p) { return box.right - p.x; });
  cut([&](Point p) { return p.y - box.top; });
  cut([&](Point p) { return box.bottom - p.y; });
  return points;
}

void add_shape(std::vector<Item>& items, const Shape& shape, const Box& box) {
  if (inside(bounds(shape.path), box)) {
    items.push_back({shape});
    return;
  }
  Shape area, line;
  for (const Subpath& path : shape.path) {
    Points points = flattened(path, kTolerance_mm);
    if (shape.fill) {
      const Points within = area_inside(points, box);
      if (within.size() > 2) area.path.push_back(ring(within));
    }
    if (path.closed && !points.empty()) points.push_back(points.front());
    if (shape.stroke) add_parts(line.path, points, box);
  }
  area.fill = shape.fill;
  line.stroke = shape.stroke;
  const bool both = !area.path.empty() && !line.path.empty();
  (area.path.empty() ? line : area).name = shape.name;
  if (both) line.name = {};  // an id stands once
  if (!area.path.empty()) items.push_back({std::move(area)});
  if (!line.path.empty()) items.push_back({std::move(line)});
}

}  // namespace

Group clipped(const Group& group, const Box& box) {
  Group kept;
  kept.name = group.name;
  kept.bookmark = group.bookmark;
  for (const Item& item : group.items) {
    if (const auto* shape = std::get_if<Shape>(&item.what)) {
      add_shape(kept.items, *shape, box);
    } else if (const auto* text = std::get_if<TextLine>(&item.what)) {
      if (inside(text->box(), box)) kept.items.push_back(item);
    } else {
      Group within = clipped(std::get<Group>(item.what), box);
      if (!within.items.empty()) kept.items.push_back({std::move(within)});
    }
  }
  return kept;
}

}  // namespace zoneproof::drawing
