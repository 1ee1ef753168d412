#pragma once
#include <optional>
#include <string>

#include "site/model.hpp"

/// The length of a cable that nobody measured, from the plan: for the price alone, never for a proof.
///
/// Model. Along the walls: |dx| + |dy| between the ends; up to the ceiling and down again at each end (of an end whose
/// height is not known the whole height of the room), the difference of the floors; then the share and the ends of
/// data/costs/cable_estimate.json.
/// Where an end has no mount it is taken to stand in the middle of what is mounted in its area, on the level of most
/// of it: then the estimate is rough. Not covered: ways round a building, more than two ends.
namespace zoneproof::materials {

struct Estimate {
  double metres = 0.0;
  bool rough = false;
};

class CableEstimates {
 public:
  explicit CableEstimates(const site::Site& site) : site_(site) {}
  /// From one thing to another; nothing where an end has neither a mount nor an area with something mounted in it, or
  /// a level's floor or ceiling is not known.
  std::optional<Estimate> between(const std::string& a, const std::string& b) const;

 private:
  struct End {
    double x_m = 0.0, y_m = 0.0, floor_m = 0.0;
    double riser_m = 0.0;
    bool rough = false;
  };
  std::optional<End> end_of(const std::string& id) const;
  std::optional<End> end_of(const site::Mount& mount) const;
  std::optional<End> middle_of(const std::string& area) const;

  const site::Site& site_;
};

}  // namespace zoneproof::materials
