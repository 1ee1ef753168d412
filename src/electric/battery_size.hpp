#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/discharge.hpp"

namespace zoneproof::electric {

/// The smallest battery capacity of the parts shelf, in Ah, with which `supply` lasts `required_h` and keeps the
/// rulebook's reserve for what is not foreseen at the design: it would last with that capacity divided by the reserve.
/// A new battery is sized with the reserve; whether an installed one lasts is judged without. The capacity is that of
/// all the supply's batteries together. Nothing if none does. Cost: one discharge each halving of the shelf.
std::optional<double> smallest_battery(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                       double required_h);

/// A battery of the shelf, once or several times in parallel.
struct Blocks {
  double capacity_Ah = 0.0;  ///< of one block
  long long count = 1;
  bool with_reserve =
      true;  ///< false: lasts as the rulebook asks of an installed one, without the reserve of the design
};

/// The smallest single one that lasts with the reserve, else the smallest pair, else the smallest pair that lasts
/// without; nothing if none of them does. Whether the supply can charge it is asked apart (recharge.hpp).
std::optional<Blocks> smallest_blocks(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                      double required_h);

/// The same among `capacities`, in Ah, whatever their order.
std::optional<double> smallest_battery(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                       double required_h, std::vector<double> capacities);

}  // namespace zoneproof::electric
