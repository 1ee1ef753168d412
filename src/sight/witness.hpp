#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "plane/point.hpp"
#include "sight/building.hpp"
#include "sight/camera_model.hpp"
#include "sight/reasons.hpp"
#include "site/model.hpp"

/// Which camera is to witness what, and what keeps it from seeing a place.
namespace zoneproof::sight {

/// How a person has to be shown: by the rulebook.
struct Demand {
  double from_m = 0.0, to_m = 0.0;  ///< heights of the body above the floor that have to be seen, all of them
  double target_m = 0.0;            ///< ... of that height
  double clear_pct = 0.0;           ///< least share of what is behind a mesh that counts as seen
  double stepped_on_m = 0.0;        ///< a body that is no higher above the floor is stepped on: it takes no floor
  double stoop_m = 0.0;  ///< nor does one whose underside is higher above the floor: a person stoops under it
};

/// A camera as it looks: its model, and what limits it.
struct Watching {
  std::string camera;
  CameraModel model;
  std::string level;
  double near_m = 0.0;      ///< nearest distance that is sharp
  double light_m = 0.0;     ///< how far its own light reaches; 0: the place is lit, or nothing is known to be dark
  bool own_light = false;   ///< it depends on it: glass throws it back
  double px_per_m = 0.0;    ///< asked of its picture; 0: no density is asked for
  double height_pct = 0.0;  ///< asked of its picture: share of its height that a target takes; 0: none is asked for
  std::vector<std::string> dark_levels = {};  ///< other levels that are not lit: there it depends on its own light
  std::optional<double> only_height_m = {};   ///< asked of this height above the floor alone, not of the whole band
};

/// Adds every reason why the camera, as `viewer`, does not witness places on a floor within `box`. `ignored`: things
/// that stand open. Exact for pinholes; what is given away elsewhere is said in docs/methods/sight.md.
void add_camera(const Building& building, const Watching& watching, std::size_t viewer, const Demand& demand,
                const Floor& floor, const std::vector<std::size_t>& ignored, const plane::Box& box, Regions& regions);

}  // namespace zoneproof::sight
