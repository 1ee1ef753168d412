#pragma once
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "plane/point.hpp"
#include "site/model.hpp"

/// The building of a site as upright prisms: everything that can stand between an eye and a place.
///
/// Metres; x to the east, y to the north, z above the datum of the site (levels lie at their elevations). Nominal
/// sizes: a number that is only typical or assumed, or that has a range, is a gap.
namespace zoneproof::sight {

enum class ThingKind { wall, opening, block, stair };

/// The object of the site that a surface belongs to.
struct Thing {
  ThingKind kind = ThingKind::wall;
  std::string id;
  friend bool operator==(const Thing&, const Thing&) = default;
};

/// An upright prism over a stretch or an outline.
struct Prism {
  std::size_t thing = 0;  ///< of Building::things
  bool body = false;      ///< a closed outline, counter-clockwise; else a screen along two points
  std::vector<plane::Point> outline;
  double bottom_m = 0.0;
  double top_m = 0.0;  ///< infinite where nothing ends it
  site::Surface surface = site::Surface::solid;
  double clear = 0.0;            ///< share of what is behind that can be seen through it, 0 to 1; of glass 1
  bool either = false;           ///< stands so only in one of two states of its thing
  double clear_otherwise = 1.0;  ///< share that can be seen through in the other state
};

/// A surface that people stand on: of a level, or a step of a stair.
struct Floor {
  std::string level;
  double height_m = 0.0;
  double ceiling_m = 0.0;  ///< above the datum; infinite where open to the sky
};

struct Building {
  std::vector<Thing> things;
  std::vector<Prism> prisms;
  std::vector<std::string> levels;  ///< in the order of the file; Floor::level is one of them
  std::vector<Floor> floors;        ///< one for each level
  std::vector<chain::Gap> gaps;     ///< what keeps a part of it from being known; the part is left out

  const Floor* floor(const std::string& level) const;
};

/// Resolves a site's building. A wall whose level, path or heights are unknown is left out and its gap is told: nothing
/// that needs it may be proven.
Building building_of(const site::Site& site);

}  // namespace zoneproof::sight
