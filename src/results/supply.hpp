#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "electric/standby.hpp"
#include "electric/supply_check.hpp"
#include "site/model.hpp"

/// The question supply.
namespace zoneproof::results {

struct BatteryRun {
  std::string supply;
  electric::Discharge discharge;  ///< as the rulebook demands it
};

struct SupplyAnswer {
  std::vector<electric::SupplyPoint> points;  ///< one a condition
  std::vector<BatteryRun> batteries;          ///< none where the rulebook does not say for how long
  std::vector<chain::Evidence> evidence;

  bool all_proven() const;
};

/// What a supply's part says of it; null where that is not known.
const site::SupplySpec* spec_of(const site::Site& site, const site::Supply& supply);

SupplyAnswer supply_answer(const site::Site& site);
nlohmann::ordered_json json_of(const site::Site& site, const SupplyAnswer& answer);

}  // namespace zoneproof::results
