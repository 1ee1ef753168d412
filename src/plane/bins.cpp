#include "plane/bins.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::plane {

Bins::Bins(const Box& box, std::size_t cells) : low_(box.low) {
  const double width = box.high.x - box.low.x, height = box.high.y - box.low.y;
  const double wanted = static_cast<double>(std::max<std::size_t>(cells, 1));
  // A long narrow box gets one row of cells, not cells narrower than its width over their number.
  side_ = std::max(std::sqrt(width / wanted) * std::sqrt(height), std::max(width, height) / wanted);
  slack_ = side_ * 0x1p-20;  // more than rounding of a coordinate
  columns_ = static_cast<std::size_t>(width / side_) + 1;
  rows_ = static_cast<std::size_t>(height / side_) + 1;
}

Point Bins::middle(std::size_t cell) const {
  const std::size_t at_row = cell / columns_, at_column = cell % columns_;
  return {low_.x + (static_cast<double>(at_column) + 0.5) * side_,
          low_.y + (static_cast<double>(at_row) + 0.5) * side_};
}

double Bins::at(Point a, Point b, double y) {
  if (y <= a.y) return a.x;
  if (y >= b.y) return b.x;
  return a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
}

}  // namespace zoneproof::plane
