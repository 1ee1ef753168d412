#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/backbone.hpp"
#include "electric/drive.hpp"

namespace zoneproof::electric {

/// Where a zone's pair meets the panel, in the network.
struct Terminal {
  circuit::Node point = circuit::reference;    ///< the screw the loop and the trigger wire are on
  circuit::Node sense = circuit::reference;    ///< where the panel measures
  circuit::Node common = circuit::reference;   ///< the other screw
  circuit::Node source = circuit::reference;   ///< open-circuit source: what ratiometric windows are shares of
  circuit::Node against = circuit::reference;  ///< the panel's reading is V(sense) against this, see `sign`
  circuit::Node pulled_to =
      circuit::reference;  ///< where the far end of the source is: the other end of the whole scale
  double sign = 1.0;       ///< -1 for terminals read downward from the positive common
  const site::ZoneTerminalSpec* spec = nullptr;
};

/// The part that describes the zone's terminal: its own, else the panel's; null where unknown.
const site::ZoneTerminalSpec* terminal_spec(const site::Site& site, const std::string& zone);

/// All states that the pair of `zone` can be in. Rest, cut and short always; the others as its contacts allow.
std::vector<ZoneState> reachable_states(const site::Site& site, const std::string& zone);

/// What is not known of the contacts on the pair of `zone`: the list's end, or what a contact is there for.
std::vector<chain::Gap> missing_contacts(const site::Site& site, const std::string& zone);

/// Adds terminal and loop of `zone` in `state`; a pulsed terminal stands still in `part` of its period (terminal.hpp).
/// Nothing where the zone has no pair or its terminal is unknown (a gap).
std::optional<Terminal> build_loop(const site::Site& site, const std::string& zone, const ZoneState& state,
                                   const Backbone& backbone, Wiring& wiring,
                                   std::optional<DrivePart> part = std::nullopt);

/// The zone as another zone's trigger sees it through a shared unit: any voltage from nothing to its open circuit,
/// behind any resistance up to its source resistance. A safe superset of all its states.
std::optional<Terminal> build_loop_bystander(const site::Site& site, const std::string& zone, const Backbone& backbone,
                                             Wiring& wiring);

/// What is done at the far end of a pair for a dead check.
enum class FarEnd { as_it_is, joined };

/// The pair of `zone` with everything dead, as somebody finds it who took both of its wires off the panel's screws, any
/// resistor that is fitted there still on them, and every trigger wire off: from `red` to `black`, the way out and the
/// way back. Each contact stands where it stands while its detector has no supply (ContactSpec::without_supply; at rest
/// where it needs none): an energised relay has released, so a normally closed loop is in alarm. A shared way back
/// carries nothing. What is not known is named in `wiring`.
void build_dead_loop(const site::Site& site, const std::string& zone, FarEnd end, circuit::Node red,
                     circuit::Node black, Wiring& wiring);

/// What the panel reads: V(sense) - V(against), upward or downward.
circuit::Quantity panel_reading(const Terminal& terminal);

}  // namespace zoneproof::electric
