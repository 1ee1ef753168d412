#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "sight/camera_model.hpp"
#include "site/model.hpp"

namespace zoneproof::sight {

/// Numbers of a camera that a site knows with a range.
enum class CameraNumber { x, y, z, bearing, tilt, roll, focal, pixel, k1, k2, k3, p1, p2 };

/// By how much one of them may be off: low <= 0 <= high, in the unit of its member of CameraSetup.
struct CameraTolerance {
  CameraNumber number;
  std::string pointer;  ///< of the value that has the range; the height has two, of the level and of the mount
  double low = 0.0, high = 0.0;
};

/// A setup with one number moved.
CameraSetup moved(CameraSetup setup, CameraNumber number, double by);

struct CameraFound {
  std::optional<CameraModel> model;  ///< at nominal values; nothing where a gap leaves nothing to make it of
  std::vector<CameraTolerance> tolerances;
  std::vector<chain::Gap> gaps;  ///< also of values that are only typical or assumed: the model is there then
};

/// A camera of the site: its part and lens (fitted, or built into the part), focal length (as set, or the lens's only
/// one), picture, level and mount, masks. All that is missing is named at once, each with its place in the file;
/// nothing is guessed. What may have a range: place, level's elevation, bearing, tilt, roll, focal length, the
/// pixels' pitch and the terms of the lens; counts of pixels and corners of masks have none.
///
/// A lens whose terms turn back before the sensor's corner (lens.hpp) is the gap "lens_turns" at its first radial
/// term, without a model: what the corners show is not known. The caller gives an id that the site holds; else
/// std::out_of_range is thrown.
CameraFound camera_model_of(const site::Site& site, const std::string& camera);

}  // namespace zoneproof::sight
