#pragma once
#include <string>
#include <vector>

#include "timeline/told.hpp"

namespace zoneproof::timeline {

/// When the things on the way of a clip work again after the power came back, from that moment on.
struct Restart {
  struct Thing {
    std::string id;
    Told works;  ///< what is powered over its data link starts when that gives power
  };
  std::vector<Thing> things;  ///< camera, switches and injectors, recorder, unit, router: in the order of the way
  Told all;                   ///< from then on clips come
  Told panel;                 ///< from then on the panel takes alarms
  /// How long alarms may come without a clip; not known where something is missing.
  Told without_clip;
};

/// After a cut that everything slept through: the worst there is. `trigger` and `channel` as in alarm_log.hpp.
Restart restart(const site::Site& site, const std::string& trigger, const std::string& channel);

}  // namespace zoneproof::timeline
