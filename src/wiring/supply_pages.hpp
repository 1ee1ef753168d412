#pragma once
#include <vector>

#include "wiring/page.hpp"

namespace zoneproof::wiring {

/// Every supply with its batteries and all that it feeds, over fuses, cables and junctions; detectors whose supply
/// terminals another sheet shows are told by that sheet. Each on the first paper that holds it; those that share a
/// paper share its sheets.
std::vector<Page> supply_pages(const Context& context);

}  // namespace zoneproof::wiring
