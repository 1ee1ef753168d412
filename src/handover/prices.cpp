#include "handover/prices.hpp"

#include "materials/price_check.hpp"
#include "site/costs.hpp"

namespace zoneproof::handover {

PricesRead prices_for(const site::Site& site, std::string_view text, const std::string& file) {
  materials::PriceListResult read = materials::read_prices(text, file);
  PricesRead made;
  if (!any_error(read.messages)) read.messages = materials::check_prices(read.list, site, site::common_costs());
  for (Message& message : read.messages)
    (kind_of(message.code).severity == Severity::error ? made.problems : made.notes).push_back(std::move(message));
  made.list = std::move(read.list);
  return made;
}

}  // namespace zoneproof::handover
