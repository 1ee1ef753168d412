#include "carriage/answers.hpp"

#include "carriage/addressing.hpp"
#include "carriage/clocks.hpp"
#include "carriage/exposure.hpp"
#include "carriage/load.hpp"
#include "carriage/mains_failure.hpp"
#include "carriage/monitoring.hpp"
#include "carriage/poe.hpp"
#include "carriage/reached.hpp"
#include "carriage/storage.hpp"

namespace zoneproof::carriage {

std::vector<chain::Evidence> carriage_answers(const site::Site& site, const SiteStorm& storm) {
  std::vector<chain::Evidence> all = check_power_over_data(site);
  chain::append(all, check_mains_failure(site));
  chain::append(all, check_storage(site));
  chain::append(all, check_clocks(site));
  chain::append(all, check_loads(site, storm));
  chain::append(all, check_addressing(site));
  chain::append(all, check_reached(site));
  chain::append(all, check_exposure(site));
  chain::append(all, check_monitoring(site));
  return all;
}

}  // namespace zoneproof::carriage
