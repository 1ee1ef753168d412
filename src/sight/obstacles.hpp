#pragma once
#include <vector>

#include "sight/building.hpp"
#include "sight/reasons.hpp"
#include "sight/shadow.hpp"

/// Everything of a building that hides places from an eye, as regions.
///
/// Solid prisms that hide all that is behind them to infinity are ordinary walls of a visibility query
/// (plane/visibility.hpp): only those are kept that are really met first, each with the sector behind it. That is
/// exact, and names the one thing that a person standing at the eye would point at. All others (lower than the sight
/// lines, higher, let through a share, or of two states) cast a shadow of their own.
namespace zoneproof::sight {

/// What gets through for a kind of eye.
struct Medium {
  bool through_solid = false;
  bool through_glass = true;
  bool mesh_is_clear = false;  ///< all of it rather than its share
};

/// Share of what is behind a prism that gets through to such an eye; of one of two states, while it stands.
double clear_of(const Prism& prism, const Medium& medium);

/// What is nearer to a surface touches it: it is fixed there.
constexpr double kTouching_m = 0.001;

/// Whether p is no farther from a segment than that.
bool nearer(plane::Point p, plane::Point a, plane::Point b, double limit_m);

struct Looking {
  std::size_t viewer = 0;
  Eye eye;
  plane::Point heading;  ///< which way it looks on the plan; (0, 0): straight up or down
  Medium medium;
  Hides hides = Hides::some;
  Band band;
  std::vector<std::size_t> ignored;  ///< things that count as not there
};

/// Adds the reasons for places within `box`. An eye that touches a surface stands off it by its housing, into the
/// direction that it looks (2 mm). One that looks along a wall that it touches, or straight down beside it, is on
/// either side: then the wall hides everything where some hidden height counts (nothing is proven by such an eye), and
/// nothing where all must be hidden (the largest area lies on both sides). Cost: about that of a visibility query and
/// of a quadrilateral a side of each other prism near the eye or box.
void add_obstacles(const Building& building, const Looking& looking, const plane::Box& box, Regions& regions);

/// The eye as it counts: standing off what it touches.
Eye standing_off(const Building& building, const Looking& looking);

}  // namespace zoneproof::sight
