#include "drawing/hatch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "drawing/shapes.hpp"

namespace zoneproof::drawing {

namespace {

constexpr double kHatchTolerance_mm = 0.01;
constexpr double kMostLines = 1e6;  ///< beyond any sheet: a place or a spacing was computed wrongly

/// The sheet turned so that the lines of the hatching lie level.
struct Turned {
  double cosine, sine;
  Point level(Point p) const { return {p.x * cosine + p.y * sine, p.y * cosine - p.x * sine}; }
  Point back(Point p) const { return {p.x * cosine - p.y * sine, p.x * sine + p.y * cosine}; }
};

/// Where a level line at height y enters and leaves the area, from left to right.
std::vector<double> crossings(const std::vector<Points>& rings, double y) {
  std::vector<double> places;
  for (const Points& corners : rings) {
    for (std::size_t i = 0; i < corners.size(); ++i) {
      const Point a = corners[i], b = corners[(i + 1) % corners.size()];
      if ((a.y <= y) != (b.y <= y)) places.push_back(a.x + (y - a.y) * (b.x - a.x) / (b.y - a.y));
    }
  }
  std::sort(places.begin(), places.end());
  return places;
}

void add_lines(std::vector<Subpath>& lines, const std::vector<Subpath>& area, double angle_deg, double spacing_mm) {
  const double angle = angle_deg * std::numbers::pi / 180.0;
  const Turned turned{std::cos(angle), std::sin(angle)};
  std::vector<Points> rings;
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const Subpath& subpath : area) {
    Points corners = flattened(subpath, kHatchTolerance_mm);
    for (Point& corner : corners) {
      corner = turned.level(corner);
      low = std::min(low, corner.y);
      high = std::max(high, corner.y);
    }
    rings.push_back(std::move(corners));
  }
  if (!(high >= low)) return;
  if (high - low > kMostLines * spacing_mm) throw std::logic_error("a hatching for a sheet has not so many lines");
  const auto first = static_cast<long long>(std::ceil(low / spacing_mm));
  const auto last = static_cast<long long>(std::floor(high / spacing_mm));
  for (long long step = first; step <= last; ++step) {
    const double y = static_cast<double>(step) * spacing_mm;
    const std::vector<double> places = crossings(rings, y);
    for (std::size_t i = 0; i + 1 < places.size(); i += 2) {
      if (places[i + 1] > places[i]) {
        lines.push_back(line_through({turned.back({places[i], y}), turned.back({places[i + 1], y})}));
      }
    }
  }
}

}  // namespace

Shape hatched(std::string id, const std::vector<Subpath>& area, const Hatch& hatch) {
  if (!(hatch.spacing_mm > 0)) throw std::logic_error("a hatching needs a spacing");
  std::vector<Subpath> lines;
  add_lines(lines, area, hatch.angle_deg, hatch.spacing_mm);
  if (hatch.crossed) add_lines(lines, area, hatch.angle_deg + 90.0, hatch.spacing_mm);
  return stroked(std::move(id), std::move(lines), hatch.stroke);
}

}  // namespace zoneproof::drawing
