#pragma once
#include <map>
#include <string>

#include "wiring/row_pages.hpp"

namespace zoneproof::wiring {

/// The rows of a unit's sheets: its supply, its arming, what joins its negative, then its inputs in their order.
RowSet rows_of_unit(const Context& context, const std::string& unit);

/// The loops that no unit taps.
RowSet rows_of_untapped(const Context& context);

/// Of each detector that is fed: the row that shows its supply terminals, "zone-ID" or "trigger-ID".
std::map<std::string, std::string> feed_homes(const site::Site& site);

}  // namespace zoneproof::wiring
