#include "carriage/answers.hpp"

#include "carriage/clocks.hpp"
#include "carriage/load.hpp"
#include "carriage/mains_failure.hpp"
#include "carriage/poe.hpp"
#include "carriage/storage.hpp"

namespace zoneproof::carriage {

std::vector<chain::Evidence> carriage_answers(const site::Site& site, const SiteStorm& storm) {
  std::vector<chain::Evidence> all = check_power_over_data(site);
  chain::append(all, check_mains_failure(site));
  chain::append(all, check_storage(site));
  chain::append(all, check_clocks(site));
  chain::append(all, check_loads(site, storm));
  return all;
}

}  // namespace zoneproof::carriage
