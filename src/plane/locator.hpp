#pragma once
#include <optional>
#include <vector>

#include "plane/bins.hpp"
#include "plane/triangulation.hpp"

namespace zoneproof::plane {

/// Where points lie in a triangulation, asked anywhere: a grid of about as many cells as triangles names for each cell
/// the triangle in its middle, from which a walk of a step or two remains (jump and walk). Who asks for points close to
/// each other may walk from the last place by Triangulation::locate instead. Cost: 4 bytes and a walk a cell; 50 ns a
/// point.
class Locator {
 public:
  /// Keeps a reference: the triangulation must live as long.
  explicit Locator(const Triangulation& triangulation);
  /// Nothing outside of the bound or where p is not a number.
  std::optional<Place> locate(Point p) const;

 private:
  const Triangulation& triangulation_;
  Bins bins_;
  std::vector<Half> nearby_;
};

}  // namespace zoneproof::plane
