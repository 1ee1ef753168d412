#include "plane/locator.hpp"

namespace zoneproof::plane {

Locator::Locator(const Triangulation& triangulation)
    : triangulation_(triangulation),
      bins_(triangulation.arrangement().bound, static_cast<std::size_t>(triangulation.half_count() / 3)),
      nearby_(bins_.count(), 0) {
  Half near = 0;
  for (std::size_t cell = 0; cell < nearby_.size(); ++cell) {
    if (const auto place = triangulation.locate(bins_.middle(cell), near))
      near = place->half;  // else beyond the border
    nearby_[cell] = near;
  }
}

std::optional<Place> Locator::locate(Point p) const {
  if (!triangulation_.arrangement().bound.holds(p)) return std::nullopt;
  return triangulation_.locate(p, nearby_[bins_.cell_of(p)]);
}

}  // namespace zoneproof::plane
