#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "electric/finding.hpp"
#include "electric/tracked.hpp"
#include "site/model.hpp"

/// The batteries of a supply as charge: what they hold when old and at the worst temperature of their place.
namespace zoneproof::electric {

/// One entry of the file: equal blocks in parallel.
struct BatteryGroup {
  std::string id;
  const site::BatterySpec* spec = nullptr;
  double rated_Ah = 0.0;    ///< of all its blocks, low end
  double usable_Ah = 0.0;   ///< of that, after ageing and temperature
  double largest_Ah = 0.0;  ///< of all its blocks when new, high end: what a charger may have to give
};

/// All batteries of one supply, in parallel.
struct Bank {
  std::vector<BatteryGroup> groups;
  double usable_Ah = 0.0;
  site::Origin weakest = site::Origin::measured;  ///< of the data that the charge rests on
  std::vector<chain::Gap> gaps;                   ///< what is missing, guessed, or outside of the published factors
};

/// The bank of `supply`. `rated_Ah` puts another capacity in place of its own, of all entries and blocks together; each
/// entry keeps its share of it.
Bank bank_of(const site::Site& site, const std::string& supply, std::optional<double> rated_Ah = std::nullopt);

/// By how much less a battery holds at the worst temperature of `air`: the largest factor of the rulebook's
/// `battery_temperature_factor` over the whole interval, linear between its points. Nothing where an end of the
/// interval lies outside of the table.
std::optional<double> worst_temperature_factor(const site::Site& site, const Temperatures& air);

/// What a supply's evidence on battery is about; quantity in hours.
Subject battery_subject(const site::Site& site, const std::string& supply, const char* check, const char* quantity);

}  // namespace zoneproof::electric
