#include "sheets/boxes_over.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace zoneproof::sheets {

using drawing::Box;
using drawing::Point;

namespace {

constexpr double kStrip_mm = 1.5;
constexpr double kNowhere = std::numeric_limits<double>::infinity();

/// Leftmost and rightmost places of an area's border between two heights; the first above the second where none is.
std::pair<double, double> reach_between(const Rings& area, double top, double bottom) {
  std::pair<double, double> reach = {kNowhere, -kNowhere};
  for (const auto& ring : area) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      Point high = ring[i], low = ring[(i + 1) % ring.size()];
      if (high.y > low.y) std::swap(high, low);
      if (high.y > bottom || low.y < top) continue;
      for (const double y : {std::max(high.y, top), std::min(low.y, bottom)}) {
        const double share = low.y > high.y ? (y - high.y) / (low.y - high.y) : 0.0;
        const double x = high.x + share * (low.x - high.x);
        reach = {std::min(reach.first, x), std::max(reach.second, x)};
      }
      // A level side has two ends at one height.
      if (high.y == low.y) reach = {std::min(reach.first, low.x), std::max(reach.second, low.x)};
    }
  }
  return reach;
}

}  // namespace

std::vector<Box> boxes_over(const Rings& area) {
  double top = kNowhere, bottom = -kNowhere;
  for (const auto& ring : area)
    for (const Point p : ring) top = std::min(top, p.y), bottom = std::max(bottom, p.y);
  std::vector<Box> boxes;
  if (!(top <= bottom)) return boxes;
  const double strips = std::max(1.0, std::ceil((bottom - top) / kStrip_mm));
  for (double i = 0; i < strips; ++i) {
    const double from = top + (bottom - top) * i / strips, to = top + (bottom - top) * (i + 1) / strips;
    const auto [left, right] = reach_between(area, from, to);
    if (left <= right) boxes.push_back({left, from, right, to});
  }
  return boxes;
}

}  // namespace zoneproof::sheets
