#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/answer.hpp"
#include "electric/pulse.hpp"
#include "electric/zone_circuit.hpp"

namespace zoneproof::electric {

/// The levels of one zone in one situation: what the panel reads and what the unit reads, lowest, nominal, highest.
struct Level {
  ZoneSituation situation;
  ZoneCircuit circuit;
  bool second_of_pair = false;  ///< its loop stands in another zone's entry, whose alarm the windows call alarm
  Solved solved;                ///< of `quantities`
  std::vector<circuit::Quantity> quantities;
  std::optional<std::size_t> panel;  ///< index of the panel's reading
  std::optional<std::size_t> unit;   ///< index of the unit's reading
  std::vector<std::size_t>
      shares;  ///< panel's reading less a share of its source, one a distinct window limit in percent
  std::vector<double> share_pct;  ///< those percentages
  std::optional<Pulse> pulse;     ///< of a pulsed terminal; `solved` is then what panel and unit see of it
};

/// What is tabulated for a zone. Cost: one worst case for each state, supply condition and unit condition.
struct LevelScope {
  std::vector<SupplyCondition> supplies = {};  ///< empty: all that the site can be in
  std::vector<UnitCondition> units = all_unit_conditions();
};

/// Levels of `zone` with its trigger `trigger` (empty: as the panel was, without any).
/// Conditions in which the panel's own supply is dead are left out: then nothing is read.
std::vector<Level> zone_levels(const site::Site& site, const std::string& zone, const std::string& trigger,
                               const LevelScope& scope = {});

/// Whether any of the levels is that of the zone in alarm.
bool tells_alarm(const std::vector<Level>& levels);

/// One situation only.
Level solve_level(const site::Site& site, const ZoneSituation& situation);

}  // namespace zoneproof::electric
