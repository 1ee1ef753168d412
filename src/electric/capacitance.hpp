#pragma once
#include "electric/settling_time.hpp"
#include "electric/zone_circuit.hpp"

/// What the source of a pulsed terminal has to charge, and how long it takes (settling_time.hpp).
namespace zoneproof::electric {

/// Time constants of a zone's pair in one part of the period.
struct PairTimes {
  double total_s = 0.0;  ///< T at its largest over all tolerances; infinite where nobody can say
  NodeTimes panel;       ///< of the terminal with every resistance at its nominal and every capacitance at its highest
  std::vector<chain::Gap> gaps;  ///< capacitances that are unknown, typical or assumed
  bool known = true;             ///< false: some capacitance is not known at all
};

/// Capacitances: inside the panel and the pair's cable at the screws, the latter behind its own cores; of each trigger
/// wire and the unit's input at the input's screw. Resistances: the network with its sources at rest, diodes taken out
/// (a conducting one only quickens).
PairTimes pair_times(const site::Site& site, const ZoneSituation& situation, const ZoneCircuit& circuit);

}  // namespace zoneproof::electric
