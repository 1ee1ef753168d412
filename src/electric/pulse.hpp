#pragma once
#include <optional>
#include <vector>

#include "electric/answer.hpp"
#include "electric/capacitance.hpp"
#include "electric/periodic.hpp"

namespace zoneproof::electric {

struct Level;

/// A pulsed terminal's levels in one part of its period, once they have settled there.
struct StandingLevel {
  DrivePart part = DrivePart::on;
  Solved solved;         ///< of the quantities of the level
  double total_s = 0.0;  ///< bound of settling into this part (T of settling_time.hpp), the input filters not counted
};

/// What a direct-current meter shows: the mean over a period.
struct MeterShows {
  double low = 0.0, nominal = 0.0, high = 0.0;  ///< V; the meter's own load and error are not counted
};

/// What pulses make of a level. The numbers of the level itself are what its readers see: the panel at the moment at
/// which it looks, the unit at whatever moment it looks, for its phase is the adversary's, its filter counted.
struct Pulse {
  DriveTiming timing;
  std::vector<StandingLevel> parts;  ///< `on` first
  std::vector<chain::Gap> gaps;      ///< times and capacitances that are unknown, typical or assumed
  bool tapped = false;               ///< the unit's reading moves with the pulses
  double total_s = 0.0;              ///< T in the pulse; infinite where it is not known
  double left_at_look = 1.0;         ///< share of the pulse's rise that may be missing when the panel looks
  std::optional<MeterShows> panel_meter, unit_meter;
};

/// Solves the parts of the period of the level's terminal and puts into the level what its readers see.
/// Nothing where the terminal is steady, or its pulses cannot be followed (which its gaps then say).
/// Cost: as many worst cases as the period has parts, one more, and one a port for the settling.
void follow_pulses(const site::Site& site, Level& level);

/// What the pulses leave open joins the evidence of a reading: then nothing is proven, and only what some real site
/// certainly does stays broken.
void with_pulse_gaps(chain::Evidence& evidence, const Level& level);

/// A part of the period in which the settled reading of the unit lies in a band for long enough to be looked at.
struct QuietTime {
  const StandingLevel* standing = nullptr;
  double seconds = 0.0;  ///< at least
  double away_s = 0.0;   ///< from its end to where it begins again, at the most
};

/// The longest stretch in which the unit's reading lies within the band by `spare`, filter counted; nothing where there
/// is none, or where times or capacitances are not known.
std::optional<QuietTime> quiet_time(const Level& level, const Band& band, double spare);

}  // namespace zoneproof::electric
