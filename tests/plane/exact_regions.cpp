#include "plane/exact_regions.hpp"

#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_2.h>
#include <CGAL/Polygon_set_2.h>
#include <CGAL/Polygon_with_holes_2.h>
#include <CGAL/convex_hull_2.h>
#include <gmpxx.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <list>

namespace zoneproof::plane {
namespace {

using Number = mpq_class;

struct Side {
  Number ax, ay, bx, by;  ///< ax < bx
  int turn;               ///< of what is above it against what is below: 1 for a side that runs to the left
  Label label;
  Number at(const Number& x) const { return ay + (by - ay) * (x - ax) / (bx - ax); }
};

std::vector<Side> slanted_sides(const std::vector<Ring>& rings) {
  std::vector<Side> sides;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.corners.size(); ++i) {
      const Point a = ring.corners[i], b = ring.corners[(i + 1) % ring.corners.size()];
      if (a.x < b.x) sides.push_back({a.x, a.y, b.x, b.y, 1, ring.label});
      if (a.x > b.x) sides.push_back({b.x, b.y, a.x, a.y, -1, ring.label});
    }
  }
  return sides;
}

std::vector<Number> slab_borders(const std::vector<Side>& sides) {
  std::vector<Number> borders;
  for (std::size_t i = 0; i < sides.size(); ++i) {
    const Side& a = sides[i];
    borders.insert(borders.end(), {a.ax, a.bx});
    for (std::size_t j = i + 1; j < sides.size(); ++j) {
      const Side& b = sides[j];
      const Number slope_a = (a.by - a.ay) / (a.bx - a.ax), slope_b = (b.by - b.ay) / (b.bx - b.ax);
      if (slope_a == slope_b) continue;
      const Number x = (b.ay - slope_b * b.ax - a.ay + slope_a * a.ax) / (slope_a - slope_b);
      if (x > std::max(a.ax, b.ax) && x < std::min(a.bx, b.bx)) borders.push_back(x);
    }
  }
  std::sort(borders.begin(), borders.end());
  borders.erase(std::unique(borders.begin(), borders.end()), borders.end());
  return borders;
}

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Polygon = CGAL::Polygon_2<Kernel>;

CGAL::Polygon_set_2<Kernel> united(const std::vector<std::vector<Point>>& rings) {
  CGAL::Polygon_set_2<Kernel> set;
  for (const std::vector<Point>& ring : rings) {
    Polygon polygon;
    for (const Point p : ring) polygon.push_back({p.x, p.y});
    set.join(polygon);
  }
  return set;
}

}  // namespace

double exact_area(const std::vector<Ring>& rings, const std::function<bool(const std::map<Label, int>&)>& passes) {
  const std::vector<Side> sides = slanted_sides(rings);
  const std::vector<Number> borders = slab_borders(sides);
  Number area = 0;
  for (std::size_t i = 0; i + 1 < borders.size(); ++i) {
    const Number middle = (borders[i] + borders[i + 1]) / 2;
    std::vector<std::pair<Number, const Side*>> crossed;
    for (const Side& side : sides)
      if (side.ax < middle && middle < side.bx) crossed.emplace_back(side.at(middle), &side);
    std::sort(crossed.begin(), crossed.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::map<Label, int> windings;
    for (std::size_t k = 0; k < crossed.size(); ++k) {
      const Side& side = *crossed[k].second;
      if ((windings[side.label] += side.turn) == 0) windings.erase(side.label);
      if (k + 1 < crossed.size() && passes(windings))
        area += (crossed[k + 1].first - crossed[k].first) * (borders[i + 1] - borders[i]);
    }
  }
  return area.get_d();
}

double cgal_area(const std::vector<std::vector<Point>>& a, const std::vector<std::vector<Point>>& b,
                 Operation operation) {
  CGAL::Polygon_set_2<Kernel> set = united(a);
  const CGAL::Polygon_set_2<Kernel> other = united(b);
  if (operation == Operation::unite) set.join(other);
  if (operation == Operation::intersect) set.intersection(other);
  if (operation == Operation::subtract) set.difference(other);
  std::list<CGAL::Polygon_with_holes_2<Kernel>> parts;
  set.polygons_with_holes(std::back_inserter(parts));
  Kernel::FT area = 0;
  for (const auto& part : parts) {
    area += part.outer_boundary().area();
    for (auto hole = part.holes_begin(); hole != part.holes_end(); ++hole) area += hole->area();  // clockwise
  }
  return CGAL::to_double(area);
}

std::vector<Point> cgal_hull(const std::vector<Point>& points) {
  using Plain = CGAL::Exact_predicates_inexact_constructions_kernel;
  std::vector<Plain::Point_2> all, hull;
  for (const Point p : points) all.emplace_back(p.x, p.y);
  CGAL::convex_hull_2(all.begin(), all.end(), std::back_inserter(hull));
  std::vector<Point> result;
  for (const auto& p : hull) result.push_back({p.x(), p.y()});
  return result;
}

double exact_area_in_box(const ProjectivePolygon& polygon, Point origin, const Box& box) {
  using Corner = std::pair<Number, Number>;
  const Number west = Number(box.low.x) - Number(origin.x), east = Number(box.high.x) - Number(origin.x);
  const Number south = Number(box.low.y) - Number(origin.y), north = Number(box.high.y) - Number(origin.y);
  std::vector<Corner> kept = {{west, south}, {east, south}, {east, north}, {west, north}};
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const ProjectivePoint &p = polygon[i], &q = polygon[(i + 1) % polygon.size()];
    const Number px = p.x, py = p.y, pw = p.w, qx = q.x, qy = q.y, qw = q.w;
    // Left of the line through both: their cross product, times the place.
    const Number a = py * qw - pw * qy, b = pw * qx - px * qw, c = px * qy - py * qx;
    std::vector<Corner> rest;
    for (std::size_t k = 0; k < kept.size(); ++k) {
      const Corner &u = kept[k], &v = kept[(k + 1) % kept.size()];
      const Number at_u = a * u.first + b * u.second + c, at_v = a * v.first + b * v.second + c;
      if (sgn(at_u) >= 0) rest.push_back(u);
      if (sgn(at_u) * sgn(at_v) < 0) {
        const Number share = at_u / (at_u - at_v);
        rest.emplace_back(u.first + share * (v.first - u.first), u.second + share * (v.second - u.second));
      }
    }
    kept = rest;
  }
  Number twice = 0;
  for (std::size_t k = 0; k < kept.size(); ++k) {
    const Corner &u = kept[k], &v = kept[(k + 1) % kept.size()];
    twice += u.first * v.second - v.first * u.second;
  }
  const Number area = twice / 2;
  return area.get_d();
}

double ring_area(const std::vector<Point>& ring) {
  double twice = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Point a = ring[i], b = ring[(i + 1) % ring.size()];
    twice += a.x * b.y - b.x * a.y;
  }
  return twice / 2.0;
}

double perimeter(const std::vector<Ring>& rings) {
  double sum = 0.0;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.corners.size(); ++i) {
      const Point a = ring.corners[i], b = ring.corners[(i + 1) % ring.corners.size()];
      sum += std::hypot(b.x - a.x, b.y - a.y);
    }
  }
  return sum;
}

}  // namespace zoneproof::plane
