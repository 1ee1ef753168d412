#pragma once
#include <string>
#include <vector>

#include "base/message.hpp"
#include "sight/zone_view.hpp"

/// What would cure a view, tried.
namespace zoneproof::sight {

enum class CureKind { pan, tilt, raise, focal, other_lens, as_well };

/// A change of one camera, or one more camera whose clip is kept. Only those are given that make the zone better and
/// take nothing from any other zone that the camera is to witness.
struct Cure {
  CureKind kind = CureKind::pan;
  std::string camera;
  double size = 0.0;       ///< degrees (clockwise, upward), metres (upward) or millimetres (the new focal length)
  double share_pct = 0.0;  ///< of the zone's detection area that is then shown
  double before = 0.0;     ///< focal: the focal length as it is
};

const char* word(CureKind kind);

/// Of each kind and way the smallest change that shows the whole area, to a degree, a decimetre, or the steps of
/// lenses; where none does, the one that shows most. Whole ones first, then by share. Cost: up to some hundred
/// coverages of the zone and those of its neighbours: 0.1 to 3 s.
std::vector<Cure> cures_of(const Scene& scene, const ZoneView& view);

/// "Pan Camera Yard 7° to the left: the whole detection area is shown, and no other zone loses."
Message cure_words(const site::Site& site, const Cure& cure, double limit_pct);

}  // namespace zoneproof::sight
