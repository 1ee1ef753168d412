#pragma once
#include <memory>
#include <vector>

#include "sight/building.hpp"
#include "sight/vector3.hpp"

namespace zoneproof::sight {

/// Prisms as triangles for Embree (3, Debian's package): a screen is an upright rectangle, a body has sides, an upper
/// and a lower face. Single precision: a few micrometres in a building.
class RayScene {
 public:
  /// The corners of a body's outline are all to be seen from the first of them.
  explicit RayScene(const std::vector<Prism>& prisms);
  ~RayScene();
  /// Whether anything is met on the way.
  bool blocked(Vector3 from, Vector3 to) const;

 private:
  struct Held;
  std::unique_ptr<Held> held_;
};

}  // namespace zoneproof::sight
