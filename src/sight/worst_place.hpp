#pragma once
#include <array>
#include <utility>
#include <vector>

#include "sight/witness.hpp"

namespace zoneproof::sight {

/// Whether one place, camera or level shows so much less than another that rounding cannot be the reason. What is the
/// same but for rounding, as the two far corners of a yard are to a camera on its middle line, is so in every build:
/// the first is told.
inline bool clearly_less(double px_per_m, double than_px_per_m) { return px_per_m < than_px_per_m * (1.0 - 1e-12); }

/// What the best of several cameras shows of a person, where that is least.
///
/// Pixels per metre fall with the depth (pinhole) or the distance (equidistant), so one camera shows least at a corner
/// of a triangle. The best of several does not: between two that face each other it is half way. So, once all corners
/// are known, a triangle is halved across its longest side as long as it may hold a place that is worse by more than 1
/// %: nothing in it is worse than the best of what each camera shows at its own worst corner. With a lens that bends,
/// that is so as far as its pixels per metre do not fall within a triangle and rise again.
class WorstPlaceSearch {
 public:
  WorstPlaceSearch(const std::vector<Watching>& cameras, const Demand& demand, double floor_m)
      : cameras_(cameras), demand_(demand), floor_m_(floor_m) {}

  struct Found {
    std::size_t camera = 0;
    plane::Point at;
    double px_per_m = 0.0;  ///< 0: nothing was found
  };

  /// `seeing`: for each camera whether it shows the triangle; kept until the search is over.
  void look_at(const std::array<plane::Point, 3>& triangle, const std::vector<bool>& seeing);
  Found find();

 private:
  struct Corner {
    plane::Point at;
    std::vector<double> px_per_m;  ///< of each camera
  };
  Corner corner(plane::Point at, const std::vector<bool>& seeing) const;
  void take(const Corner& corner);
  void halve(const std::array<plane::Point, 3>& triangle, const std::vector<bool>& seeing);

  const std::vector<Watching>& cameras_;
  const Demand& demand_;
  double floor_m_;
  Found found_;
  std::vector<std::pair<std::array<plane::Point, 3>, const std::vector<bool>*>> shared_;  ///< by several cameras
};

}  // namespace zoneproof::sight
