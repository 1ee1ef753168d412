#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::electric {

/// One moment of a discharge.
struct DischargePoint {
  double hours = 0.0;
  double share_left = 1.0;  ///< of the usable capacity
  double battery_V = 0.0;   ///< at the battery's terminals
  double current_A = 0.0;   ///< out of all blocks of the supply
};

/// What is taken at one moment, and how much faster than that the charge goes.
struct Drain {
  double current_A = 0.0;  ///< out of all blocks of the supply
  double counted_A = 0.0;  ///< the same as the charge counts it: more, where it is drawn faster than it is rated for
};

/// Where the usable charge goes, so that the autonomy can be followed by hand: standby_share of it over the mean of
/// what is counted while it lasts. The three shares make 1. Only where the autonomy is more than nothing.
struct ChargeAccount {
  double standby_share = 0.0, alarm_share = 0.0;
  double unused_share = 0.0;  ///< still in the battery at the end: what ends it comes before it is empty
  Drain first, last;          ///< of the standby load
  Drain alarm;                ///< at its beginning
};

/// A simulated discharge of one supply's batteries: standby load, then the alarm load.
struct Discharge {
  std::vector<DischargePoint> points;
  double autonomy_h = 0.0;  ///< longest standby after which the alarm load still runs for its time
  std::string ended_by;     ///< id of the consumer that leaves its range first, "cutoff" or "empty"
  double usable_Ah = 0.0;   ///< capacity left by age and temperature
  double standby_A = 0.0;   ///< at the start
  std::optional<ChargeAccount> account;
  site::Origin weakest = site::Origin::measured;  ///< of the data that it rests on
  std::vector<chain::Gap> gaps;  ///< what is missing, typical, assumed, or outside of the published factors
};

/// What the discharge is asked to last, from the rulebook.
struct StandbyDemand {
  double standby_h = 0.0;
  double alarm_h = 0.0;
};

/// Discharge of `supply` at the worst of its tolerances: smallest capacity, largest loads, oldest battery, coldest
/// place. `rated_Ah` overrides the capacity of all its batteries together, to size others.
Discharge discharge(const site::Site& site, const std::string& supply, const StandbyDemand& demand,
                    std::optional<double> rated_Ah = std::nullopt);

}  // namespace zoneproof::electric
