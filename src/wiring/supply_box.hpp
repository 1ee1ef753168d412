#pragma once
#include <string>
#include <vector>

#include "wiring/pieces.hpp"

namespace zoneproof::wiring {

/// A battery with its words; ports "plus" and, `kPitch_mm` below, "minus", on the right; `first_mm` is that of "plus".
PartDrawn battery_device(const Context& context, const std::string& battery, int column);

/// The batteries of a supply, in the order of ids.
std::vector<std::string> batteries_of(const site::Site& site, const std::string& supply);

/// Words about a supply: what part it is.
std::vector<std::string> supply_notes(const Context& context, const std::string& supply);

/// A screw of each pole of an output: "T-aux2-plus" above "T-aux2-minus".
void add_poles(const Context& context, const site::Feed& feed, bool left, std::vector<schematic::Screw>& screws);

}  // namespace zoneproof::wiring
