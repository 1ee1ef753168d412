#pragma once
#include <string>
#include <vector>

#include "timeline/told.hpp"

/// Who records what while the system is armed and disarmed.
namespace zoneproof::timeline {

enum class ArmingPhase {
  disarmed,
  leaving,  ///< the exit delay runs
  armed,
  entering,  ///< the entry delay runs
};

enum class Does { yes, no, later, open };

/// What comes of a zone that trips in one phase.
struct EdgeRow {
  ArmingPhase phase = ArmingPhase::disarmed;
  Does alarm = Does::open;  ///< the panel: later, when the entry delay is over and nobody disarmed
  Does clip = Does::open;   ///< the unit
  Told lasts;               ///< how long the phase goes on; of disarmed and armed not known
  std::vector<chain::Gap> gaps;
};

/// A trigger's zone in every phase. What the panel does with a zone of a type while it leaves is common practice, no
/// source: zones on the way out are ignored, all others are open, as panels differ; 24-hour zones always alarm. The
/// unit records where its arming output says armed: from the moment that the output is set to (`moment`), until
/// somebody disarms; one without an arming wire records always.
std::vector<EdgeRow> arming_edge(const site::Site& site, const std::string& trigger);

}  // namespace zoneproof::timeline
