#pragma once
#include "materials/materials.hpp"

/// What a list of parts and work costs. The rounding is stated in docs/methods/materials.md: each line once, half away
/// from zero; the tax once for each rate, on the sum of its lines; totals are sums of what is printed.
namespace zoneproof::materials {

/// `list`: may be null; then, and for what it has not, the prices of the costs file count where its currency is the
/// same. Nothing where there is no currency whose amounts are known.
std::optional<Price> price_of(const std::vector<PartCount>& parts, const std::vector<Work>& work, const PriceList* list,
                              const site::Costs& costs);

}  // namespace zoneproof::materials
