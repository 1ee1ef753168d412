#pragma once
#include <map>
#include <string>

#include "electric/backbone.hpp"

namespace zoneproof::electric {

/// A part of a network that no wire joins to the rest has no level against it, but levels of its own, and one join
/// alone carries no current: so each supply whose negative nothing joins to the reference is given one, of no
/// resistance
/// (`<supply>_datum`), which leaves every voltage within a part as it is. What is read across from one part to the
/// other is then a number that says nothing: who asks for such a reading must look at the parts. A floating pair that
/// nothing touches is joined likewise: the panel reads between its two wires. Returns the part that
/// each supply stands in, before these joins: 0 for the reference's. To be called when the network is complete.
std::map<std::string, int> join_loose_supplies(const Backbone& backbone, Wiring& wiring);

}  // namespace zoneproof::electric
