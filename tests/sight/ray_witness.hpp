#pragma once
#include <optional>
#include <string>
#include <vector>

#include "sight/ray_scene.hpp"
#include "sight/scene.hpp"

namespace zoneproof::sight {

/// A second method for coverage: what rays of Embree to many heights of a person say of single places. Doors and racks
/// of two states are gone through state by state, meshes met are counted by the upright cut through them (`meets`).
/// What is in a picture is asked of the camera's own projection, which is held against OpenCV elsewhere.
class RayWitness {
 public:
  /// Keeps references. All sources count together and open the same openings.
  RayWitness(const Building& building, const std::vector<AreaSource>& sources, const std::vector<Watching>& cameras,
             const Demand& demand);

  struct Said {
    bool area = false, witnessed = false;
    friend bool operator==(const Said&, const Said&) = default;
  };
  /// Of a place on a floor; `step`: the outline of the step that it is, empty for the floor of a level. `heights`:
  /// pieces that a person is cut into.
  Said of(plane::Point p, const Floor& floor, const std::vector<plane::Point>& step, int heights) const;

  /// Whether a person there is hidden from each source by several things together of which none hides the whole
  /// person: such a place still counts as area (docs/methods/sight.md).
  bool hidden_by_several(plane::Point p, const Floor& floor, int heights) const;
  /// Whether some height of a place falls beside the border of a bent picture or of its mask, by less than that.
  bool near_border_of_picture(plane::Point p, const Floor& floor, double near_px) const;

 private:
  using State = std::vector<std::size_t>;  ///< of the things of two states those that are gone

  /// The things of two states that may stand between a place and somebody who looks at it.
  State of_two_states(plane::Point p) const;

  bool reached(const AreaSource& source, plane::Point p, const Floor& floor, int heights, const State& state) const;
  bool shown(const Watching& camera, plane::Point p, const Floor& floor, int heights, const State& state) const;
  bool pictured(const Watching& camera, const Vector3& at, bool own_light) const;
  double share(const Eye& eye, const Vector3& at, const Medium& medium, const State& state) const;
  Band band_of(const AreaSource& source, const Floor& floor) const;

  const Building& building_;
  const std::vector<AreaSource>& sources_;
  const std::vector<Watching>& cameras_;
  const Demand& demand_;
  std::vector<Prism> standing_;  ///< without the leaves that stand open
  std::vector<Prism> partial_;   ///< of these meshes, and what has two states
  std::optional<RayScene> solid_, with_glass_;
};

}  // namespace zoneproof::sight
