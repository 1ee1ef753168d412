#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "electric/tracked.hpp"

/// What drives a pulsed terminal in time: the parts of one period, how long each lasts, and the open-circuit voltage in
/// each (docs/methods/pulsed-terminals.md).
namespace zoneproof::electric {

/// A part of the period in which the source stands still: the pulse, what lies between the pulses, the other polarity.
/// Of an alternating source `on` is its highest and `reverse` its lowest value. `mean` is no part: the source at its
/// mean over a period, what a network without memory shows a direct-current meter.
enum class DrivePart { on, off, reverse, mean };

const char* word(DrivePart part);

/// Whether the terminal's source moves by itself; false where nobody knows.
bool pulsed(const site::ZoneTerminalSpec& spec);

/// A time with its range, in s.
struct Seconds {
  double low = 0.0, high = 0.0;
};

/// The times of one period. What is missing, typical or assumed stands in `gaps`; where anything is not known at all
/// `known` is false, and of the times nothing may be used.
struct DriveTiming {
  bool known = false;
  std::vector<DrivePart> parts;  ///< `on` first; those that occur
  Seconds on, off, reverse, period;
  std::vector<chain::Gap> gaps;
  site::Origin origin = site::Origin::measured;

  Seconds of(DrivePart part) const;
};
DriveTiming timing_of(const site::ZoneTerminalSpec& spec);

/// Parts in which the source stands, whatever their times: what the terminal's levels can be.
std::vector<DrivePart> parts_of(const site::ZoneTerminalSpec& spec);

/// The open-circuit voltage in a part; `on_volts` is that of the pulse (source_V, or a share of the rail), of which an
/// alternating source has none. Where the source lets go it is that of the pulse, behind nothing (`lets_go`).
Tracked drive_volts(const site::ZoneTerminalSpec& spec, DrivePart part, const Tracked& on_volts);

/// Whether the source is off the terminal in that part.
bool lets_go(const site::ZoneTerminalSpec& spec, DrivePart part);

/// The value of an alternating source of amplitude 1 (lowest value 0 where it is rectified) after `share` of a period.
double wave_at(site::TerminalWave wave, double share);
/// Lowest value of that wave, and its amplitude over its root mean square.
double wave_bottom(site::TerminalWave wave);
double crest_factor(site::TerminalWave wave);

}  // namespace zoneproof::electric
