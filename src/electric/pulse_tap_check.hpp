#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/levels.hpp"

namespace zoneproof::electric {

/// How long a level has to stand still in each period for a unit to take it in for certain, its looks at most `apart`
/// of each other with the phase of the adversary, if a state has to last `waits` until it counts: one look without
/// waiting, else the waiting and a look on either side; between the stretches the unit may read anything, and begin to
/// wait anew. s.
double still_for(const Seconds& apart, const Seconds& waits);

/// A spacing of looks, within `apart`, that can pass by a stretch of `still_s` in every period for ever, as long as
/// neither clock drifts: k/q of a period falls on q moments of it, and a stretch shorter than a q-th of the period has
/// room between them. Nothing where there is none up to q = 1000. s.
std::optional<double> looks_that_miss(const Seconds& apart, const Seconds& period, double still_s);

/// Whether a trigger wire on a pulsed terminal can work at all, whatever the ranges of the unit are set to:
/// "unit_meets_pulses", subject the zone, link trigger.
///
/// Proven where the unit's filter keeps rest and alarm apart at every moment, or where a part of the period in which
/// the two certainly stand apart stands still for as long as `still_for` asks. Broken where rest and alarm overlap in
/// every part, or where the only part in which they may be apart, taken at its longest and as if it settled at once,
/// can be missed by every look. Between the two it is undecided. Whether the ranges are set to it is said by
/// "unit_reads_rest" and "unit_reads_alarm".
///
/// `levels` are those of the zone with this trigger attached. Nothing where the unit's reading does not move with
/// pulses, or there is no rest or no alarm to be told apart. A wave never stands still: only a filter proves anything.
/// Cost: levels in alarm times levels at rest.
std::optional<chain::Evidence> check_tap_on_pulses(const site::Site& site, const std::string& trigger,
                                                   const std::vector<Level>& levels);

}  // namespace zoneproof::electric
