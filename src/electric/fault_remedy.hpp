#pragma once
#include "electric/fault_check.hpp"

/// What would make a silent fault show.
namespace zoneproof::electric {

/// Fills in the remedies of the silent faults of an analysis of the whole site, the cheapest first (by money where
/// all are known in money, else by minutes):
///  - a limit of the unit's normal range between rest and what the fault leaves there: nothing but a setting;
///  - the end-of-line resistor moved from the panel to the end of its pair;
///  - the arming turned round, so that what fails reads armed.
/// Each is tried on a changed site. It is taken for a fault only where that fault is then noticed or harmless, no other
/// fault of the same wiring comes out worse, every state that was read rightly still is, and no electrical answer of
/// the zones concerned has a worse verdict (worst corner included). Many faults have none: a contact that never opens
/// shows on a walk test only.
///
/// Cost: one analysis of some faults a candidate, and one proof of a zone for each that is taken.
void try_remedies(const site::Site& site, FaultAnalysis& analysis, const site::Costs& costs);

}  // namespace zoneproof::electric
