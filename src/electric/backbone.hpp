#pragma once
#include <map>
#include <string>

#include "electric/wiring.hpp"

namespace zoneproof::electric {

/// Everything that is neither a loop nor a trigger: supplies with their batteries, feeds, loads, panels, units as
/// loads, and what joins the negatives.
///
/// Node names: `<supply>.neg`, `<supply>.rail`, `<supply>.out.<output>`; `<thing>.p`, `<thing>.n` for what is fed.
/// Reference (0 V) is the negative of the supply that feeds the first panel: the voltages that a technician reads with
/// the black probe on the panel's negative. Every other negative is a node of its own.
struct Backbone {
  std::map<std::string, Poles> poles;     ///< of panels, units, junctions, loads, detectors, by id
  std::map<std::string, Poles> supplies;  ///< plus: the rail before the outputs
};

/// How one unit stands while the others are powered, and which supply is off while the others are in their condition.
struct UnitUnderStudy {
  std::string unit = {};  ///< empty: none
  UnitCondition condition = UnitCondition::powered;
  std::string dead_supply = {};  ///< its rail is at 0 V, whatever the condition; empty: none. What the
                                 ///< analysis of faults computes as a change of the sound network is held against it
};

/// What the loads draw: anything between rest and alarm (levels must hold in both), or one of them (standby).
enum class LoadState { rest_to_alarm, rest, alarm };

/// Adds the backbone to `wiring`. Missing parts, feeds and incomplete lists are named in `wiring.gaps()`.
Backbone build_backbone(const site::Site& site, SupplyCondition condition, const UnitUnderStudy& studied,
                        Wiring& wiring, LoadState loads = LoadState::rest_to_alarm);

/// The conditions to solve a site in: all, but `supplies_apart` only where there are two supplies to stand apart.
std::vector<SupplyCondition> supply_conditions(const site::Site& site);

/// Whether `supply` gives anything in `condition` (a supply without battery gives nothing when mains are gone).
bool alive(const site::Site& site, const std::string& supply, SupplyCondition condition);

/// Whether what hangs on `feed` is certainly dead in `condition`: its supply is known to have no battery.
bool certainly_dead(const site::Site& site, const site::Feed& feed, SupplyCondition condition);

}  // namespace zoneproof::electric
