#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "field/walk.hpp"
#include "site/model.hpp"

/// Where on the plan things stand, and how far it is from one to another on foot. For the order of a walk alone: ways
/// are straight lines on a level, walls are not looked at; from level to level they lead over stairs.
namespace zoneproof::field {

struct Position {
  std::string level;  ///< of those of one height the first: they are one floor to whoever walks
  double x_m = 0.0, y_m = 0.0;
  bool of_area = false;  ///< the middle of what has a mount in the same area, for want of one of its own
};

class Positions {
 public:
  /// Cost: linear in the site, and the cube of its flights of stairs.
  explicit Positions(const site::Site& site);

  /// Of a device by its mount, else of its area; nothing where neither is known.
  std::optional<Position> of(const std::string& device, const std::string& area) const;
  /// Metres on foot; nothing where no stairs join the levels.
  std::optional<double> between(const Position& a, const Position& b) const;

 private:
  struct Landing {
    std::string level;
    double x_m, y_m;
  };
  void take(const std::string& device, const site::Mount& mount);
  void find_middles(const site::Site& site);
  void read_stairs(const site::Site& site);
  void join_landings(const std::vector<double>& flights);

  std::map<std::string, std::string> floors_;  ///< of levels: the first one of the same height
  std::map<std::string, Position> mounted_, areas_;
  std::vector<Landing> landings_;          ///< foot and head of each flight, one after the other
  std::vector<std::vector<double>> ways_;  ///< metres between landings; infinite: none
};

}  // namespace zoneproof::field
