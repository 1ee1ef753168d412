#include "electric/battery_size.hpp"

#include <algorithm>
#include <vector>

#include "chain/limit.hpp"
#include "site/shelf.hpp"

namespace zoneproof::electric {

std::optional<double> smallest_battery(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                       double required_h) {
  std::vector<double> capacities;
  for (const auto& [id, part] : site::parts_shelf()) {
    if (part.battery && part.battery->capacity_Ah.known()) capacities.push_back(part.battery->capacity_Ah.nominal);
  }
  return smallest_battery(site, supply, demand, required_h, std::move(capacities));
}

std::optional<double> smallest_battery(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                       double required_h, std::vector<double> capacities) {
  std::sort(capacities.begin(), capacities.end());
  const double reserve = chain::limit_of(site, "battery_design_factor").value.value_or(1.0);
  // A larger battery lasts longer: the first that lasts is found by halving.
  const auto found = std::partition_point(capacities.begin(), capacities.end(), [&](double capacity) {
    return discharge(site, supply, demand, capacity / reserve).autonomy_h < required_h;
  });
  return found == capacities.end() ? std::nullopt : std::optional(*found);
}

}  // namespace zoneproof::electric
