#pragma once
#include <vector>

#include "base/message.hpp"
#include "materials/price_list.hpp"
#include "site/costs.hpp"
#include "site/model.hpp"

namespace zoneproof::materials {

/// What is wrong with a price list for this site, with line and column: a part that is priced under its id and under
/// its name is an error, as one that is priced twice is; a row in a unit that its item is never counted in (a cable by
/// the piece, labour by the metre) is a warning, for it prices nothing. Rows for what nobody knows are no fault: a
/// wholesaler's list has many. Cost: linear in site, shelf and list.
std::vector<Message> check_prices(const PriceList& list, const site::Site& site, const site::Costs& costs);

}  // namespace zoneproof::materials
