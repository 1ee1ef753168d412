#include "plane/ring_area.hpp"

#include <algorithm>

#include "plane/predicates.hpp"

namespace zoneproof::plane {

double twice_area_of(const std::vector<Point>& ring) {
  double sum = 0.0;
  for (std::size_t i = 1; i + 1 < ring.size(); ++i) sum += twice_area(ring[0], ring[i], ring[i + 1]);
  return sum;
}

std::vector<Point> counter_clockwise(std::vector<Point> ring) {
  if (twice_area_of(ring) < 0.0) std::reverse(ring.begin(), ring.end());
  return ring;
}

}  // namespace zoneproof::plane
