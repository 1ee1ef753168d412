#pragma once
#include <vector>

#include "wiring/page.hpp"

namespace zoneproof::wiring {

/// Every supply with its batteries and all that it feeds, over fuses, cables and junctions; detectors whose supply
/// terminals another sheet shows are told by that sheet.
std::vector<Page> supply_pages(const Context& context);

}  // namespace zoneproof::wiring
