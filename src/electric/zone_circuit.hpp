#pragma once
#include <map>
#include <optional>
#include <string>

#include "electric/loop.hpp"
#include "electric/site_circuit.hpp"
#include "electric/tap.hpp"

namespace zoneproof::electric {

/// What is asked: one zone, in one state, under one supply condition, with one of its triggers in one condition.
struct ZoneSituation {
  std::string zone;
  ZoneState state;
  SupplyCondition supply = SupplyCondition::mains;
  std::string trigger;  ///< empty: the zone has none, or it is looked at without
  UnitCondition unit = UnitCondition::powered;

  std::string name() const;  ///< "battery_cutoff/powered/alarm_pir": the condition that evidence names
};

/// The one network seen from a zone: everything that can touch its levels, and where to read them.
struct ZoneCircuit {
  Wiring wiring;
  std::optional<Terminal> terminal;       ///< the zone's own terminal; absent for a zone without a pair
  std::optional<UnitInput> input;         ///< of `trigger`
  std::map<std::string, UnitInput> taps;  ///< of every trigger wire that stands on the zone's own pair
};

/// Backbone, the zone's loop, all its trigger wires, and the other zones tapped by the same unit as bystanders.
/// `part`: where the zone's terminal is pulsed, the part of its period in which it stands still.
ZoneCircuit build_zone_circuit(const site::Site& site, const ZoneSituation& situation,
                               std::optional<DrivePart> part = std::nullopt);

/// What the circuits of a zone in all its states are built on: the same supply condition, trigger and unit condition.
Base build_zone_base(const site::Site& site, const ZoneSituation& situation);
ZoneCircuit build_zone_circuit(const site::Site& site, const ZoneSituation& situation, std::optional<DrivePart> part,
                               Base base);

}  // namespace zoneproof::electric
