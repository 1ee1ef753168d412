#pragma once
#include <map>
#include <string>
#include <vector>

#include "electric/answer.hpp"
#include "electric/backbone.hpp"
#include "electric/consumer.hpp"

namespace zoneproof::electric {

/// Voltage and current of the whole supply side in one condition, every unit running.
struct SupplyPoint {
  SupplyCondition condition = SupplyCondition::mains;
  Wiring wiring;
  Backbone backbone;
  std::map<std::string, int> parts;        ///< of supplies: which hang together (loose.hpp)
  std::vector<Consumer> consumers;         ///< quantity i is the voltage of consumer i ...
  std::vector<std::string> shifted_units;  ///< ... then the shift of these units' negatives against their panel's
  std::vector<circuit::Quantity> quantities;
  Solved solved;
};

SupplyPoint solve_supply(const site::Site& site, SupplyCondition condition);

/// Whether nothing joins the negative of a unit to that of a panel: then the number of their shift says nothing.
bool negatives_apart(const site::Site& site, const SupplyPoint& point, const std::string& unit,
                     const std::string& panel);

/// Current drawn by everything behind an output of a supply (empty: all outputs), as the network's solution gives it:
/// the sum of its loads, constant power at the lowest voltage that the load can see. A guaranteed bound.
struct Drawn {
  double nominal_A = 0.0;
  double most_A = 0.0;
  double starting_A = 0.0;                ///< with every unit at its starting current
  std::vector<chain::Gap> gaps;           ///< currents that are unknown or guessed
  std::vector<chain::Gap> starting_gaps;  ///< starting currents that are unknown or guessed
};
Drawn drawn_from(const site::Site& site, const SupplyPoint& point, const std::string& supply,
                 const std::string& output);

/// The same for consumer `index` of the point alone; all zero where its part does not say what it takes.
Drawn drawn_by(const site::Site& site, const SupplyPoint& point, std::size_t index);

/// Every consumer's voltage ("supply_voltage"), every unit's common-negative shift ("negative_shift"), every output's
/// and supply's current against its rating ("output_current", "supply_current"), protections while starting ("starts")
/// and every fuse, of consumers and of junctions ("fuse_current"): the worst over all conditions of each.
std::vector<chain::Evidence> check_supply(const site::Site& site);

}  // namespace zoneproof::electric
