#include "electric/battery_size.hpp"

#include <algorithm>
#include <vector>

#include "chain/limit.hpp"
#include "site/shelf.hpp"

namespace zoneproof::electric {

namespace {

constexpr double kPair = 2.0;

std::vector<double> shelf_capacities(double blocks) {
  std::vector<double> capacities;
  for (const auto& [id, part] : site::parts_shelf()) {
    if (part.battery && part.battery->capacity_Ah.known())
      capacities.push_back(blocks * part.battery->capacity_Ah.nominal);
  }
  return capacities;
}

std::optional<double> smallest_of(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                  double required_h, std::vector<double> capacities, double reserve) {
  std::sort(capacities.begin(), capacities.end());
  // A larger battery lasts longer: the first that lasts is found by halving.
  const auto found = std::partition_point(capacities.begin(), capacities.end(), [&](double capacity) {
    return discharge(site, supply, demand, capacity / reserve).autonomy_h < required_h;
  });
  return found == capacities.end() ? std::nullopt : std::optional(*found);
}

}  // namespace

std::optional<double> smallest_battery(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                       double required_h) {
  return smallest_battery(site, supply, demand, required_h, shelf_capacities(1.0));
}

std::optional<Blocks> smallest_blocks(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                      double required_h) {
  if (const auto one = smallest_battery(site, supply, demand, required_h)) return Blocks{*one, 1, true};
  if (const auto two = smallest_battery(site, supply, demand, required_h, shelf_capacities(kPair)))
    return Blocks{*two / kPair, 2, true};
  constexpr double no_reserve = 1.0;
  if (const auto two = smallest_of(site, supply, demand, required_h, shelf_capacities(kPair), no_reserve))
    return Blocks{*two / kPair, 2, false};
  return std::nullopt;
}

std::optional<double> smallest_battery(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                                       double required_h, std::vector<double> capacities) {
  const double reserve = chain::limit_of(site, "battery_design_factor").value.value_or(1.0);
  return smallest_of(site, supply, demand, required_h, std::move(capacities), reserve);
}

}  // namespace zoneproof::electric
