#pragma once
#include <string>
#include <vector>

#include "electric/answer.hpp"
#include "electric/backbone.hpp"

namespace zoneproof::electric {

/// The arming input of a unit in one condition.
struct ArmingPoint {
  SupplyCondition supply = SupplyCondition::mains;
  bool armed = false;
  bool wire_broken = false;
  Wiring wiring;
  std::vector<circuit::Quantity> quantities;  ///< the level at the arming input, if it could be built
  Solved solved;
};

ArmingPoint solve_arming(const site::Site& site, const std::string& unit, SupplyCondition supply, bool armed,
                         bool wire_broken);

/// The conditions in which the arming input of a unit is to tell anything: unit and panel have a supply.
std::vector<SupplyCondition> arming_conditions(const site::Site& site, const std::string& unit);

/// The unit tells armed from disarmed: "arming_armed" and "arming_disarmed" (levels beyond the input's certain limits,
/// on the side that its setting takes as armed), "arming_sink" (the output carries the pull-up), "arming_limits" (the
/// input's own limits) and "arming_wire_broken" (what a cut wire reads: armed is the safe side). Link `trigger`,
/// subject the unit.
std::vector<chain::Evidence> check_arming(const site::Site& site, const std::string& unit);

}  // namespace zoneproof::electric
