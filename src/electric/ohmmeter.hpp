#pragma once
#include <optional>
#include <string>
#include <vector>

#include "circuit/worst_case.hpp"
#include "electric/loop.hpp"

/// What an ohmmeter shows on a dead site.
///
/// Model. An ideal ohmmeter: a known current I into the network, the voltage U across it, R = U / I. So that an open
/// network has an answer too, a known resistance stands across the meter, and R = U / (I - U / that). R rises with U,
/// so the ends of U over all corners (circuit/worst_case.hpp) are the ends of R. The meter's own error is not counted.
/// What is dead has no source: supplies, batteries and units are off their terminals, as the order of work has it.
namespace zoneproof::electric {

/// Lowest, nominal and highest resistance between two points.
struct Ohms {
  std::optional<double> low, nominal, high;  ///< nothing: without end (open), or not known, see `known`
  bool known = false;                        ///< every datum that moves it is known, and it was solved
  bool low_exact = false, high_exact = false;
  std::vector<chain::Gap> gaps;  ///< what is not known, typical or assumed
  Wiring wiring;                 ///< with the meter in it: "meter" and "meter.across"
  circuit::Quantity across;      ///< the meter's voltage
  circuit::Corner low_corner, high_corner;
};

/// The meter's current, A, and the resistance across it, ohm: any pair gives the same R; this one keeps the voltages
/// of copper and of insulation within what the worst case resolves (1e-6 V is 1e-3 ohm).
inline constexpr double meter_A = 1e-3;
inline constexpr double meter_across_ohm = 1e8;

/// Between two nodes of a wiring without sources; `black` must be the reference.
Ohms ohms_between(Wiring wiring, circuit::Node red);

/// The resistance that the meter's voltage stands for; nothing: open.
std::optional<double> ohms_of_volts(double volts, double current_A = meter_A);

/// Of the pair of a zone (build_dead_loop).
Ohms loop_ohms(const site::Site& site, const std::string& zone, FarEnd end);
/// Of one conductor of a cable out and back over another core of it, bridged at the far end; of the trigger wire with
/// the resistor that is put into it.
Ohms out_and_back_ohms(const site::Site& site, const site::Ref& cable);
Ohms trigger_wire_ohms(const site::Site& site, const std::string& trigger);
/// From `cores` cores of a cable that hang together to another one, all ends off: its insulation, core to core, as many
/// times beside each other.
Ohms insulation_ohms(const site::Site& site, const site::Ref& cable, int cores = 1);
/// Between the negatives of two things (panels, units, supplies ...) over the negative conductors of all feeds and over
/// everything else that joins negatives, all supplies dead and every positive off.
Ohms negatives_ohms(const site::Site& site, const std::string& red, const std::string& black);

}  // namespace zoneproof::electric
