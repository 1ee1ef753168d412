#pragma once
#include <vector>

#include "drawing/sheet.hpp"
#include "wiring/site_circuit.hpp"

namespace zoneproof::wiring {

/// The conductors that a set of sheets shows, names of other sheets followed by what stands in them: "T1 aux2 +" is
/// that terminal of the supply whose box says T1. What more than one sheet shows counts once. Conductors with one end
/// are left out.
std::vector<Conductor> conductors_on(const site::Site& site, const std::vector<drawing::Sheet>& sheets);

/// Those with two ends or more.
std::vector<Conductor> with_two_ends(std::vector<Conductor> conductors);

}  // namespace zoneproof::wiring
