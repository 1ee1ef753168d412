#pragma once
#include <optional>
#include <vector>

#include "plane/point.hpp"
#include "plane/projective.hpp"
#include "sight/building.hpp"

/// What an upright prism hides from an eye.
///
/// A person at a place is the vertical segment of heights [low, high]. The sight line from an eye at height H to the
/// height h at distance D passes distance d <= D at the height H + (h - H) u with u = d / D. A blocker with the extent
/// [bottom, top] that is met at d hides
///
///     some height of the band   where  H + (low - H) u <= top     and  H + (high - H) u >= bottom,
///     the whole band            where  H + (low - H) u >= bottom  and  H + (high - H) u <= top,
///
/// the first because the heights passed at d fill an interval, the second by one blocker alone. All four are linear in
/// u, so along each ray the shadow is one interval of u in (0, 1], the same for the whole blocker: its copies, scaled
/// about the eye by 1 / u, sweep the shadow (u -> 0: to infinity). A straight stretch sweeps a quadrilateral; an
/// outline sweeps those of its sides, and itself at both ends of the interval, which is what its upper and lower faces
/// hide. So no face is forgotten: a sight line that passes the prism passes some horizontal slice of it at some u of
/// the interval, and the places behind a slice are that slice scaled.
///
/// Grazing counts as hidden.
namespace zoneproof::sight {

/// Where something looks from. Metres, site.
struct Eye {
  plane::Point at;
  double height_m = 0.0;
};

/// Heights above the datum.
struct Band {
  double low_m = 0.0, high_m = 0.0;
};

enum class Hides { some, all };

/// An interval of u = d / D, 0 <= from < to <= 1.
struct Stretch {
  double from = 0.0, to = 1.0;
  /// From the blocker to infinity: all that is behind it.
  bool whole() const { return from == 0.0 && to == 1.0; }
};

/// For which u a blocker hides the band; nothing where it hides for none.
std::optional<Stretch> hidden_stretch(double eye_height_m, const Band& band, double bottom_m, double top_m,
                                      Hides hides);

/// Convex pieces of the shadow of a stretch or outline within a box, counter-clockwise; they may overlap. A stretch in
/// line with the eye has no shadow.
std::vector<std::vector<plane::Point>> shadow(plane::Point eye, const std::vector<plane::Point>& outline, bool body,
                                              const Stretch& stretch, const plane::Box& box);

}  // namespace zoneproof::sight
