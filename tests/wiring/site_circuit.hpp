#pragma once
#include <map>
#include <set>
#include <string>
#include <vector>

#include "site/model.hpp"

/// The conductors of a site as docs/methods/loops.md, arming.md and supply.md describe them, written down anew from the
/// site file alone: what the drawings have to agree with.
namespace zoneproof::wiring {

/// Names of what a conductor joins. A symbol stands on two of them. Names: terminals "panel-in3", "unit-in3",
/// "unit-plus", "unit-minus", "unit-arming", "psu-aux1-plus", "detector-plus"; symbols "resistor-z1-eol",
/// "contact-z1-ID".
using Conductor = std::multiset<std::string>;

/// Of everything that sheets of supplies, loops and units show: loops, triggers, arming, supply of all that is fed,
/// batteries, joined negatives.
std::vector<Conductor> conductors_of(const site::Site& site);

}  // namespace zoneproof::wiring
