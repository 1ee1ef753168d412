#pragma once
#include <string>

#include "electric/drive.hpp"
#include "electric/zone_circuit.hpp"

/// How things are called in sentences, and where limits and missing data stand.
namespace zoneproof::electric {

/// "Zone 6 (Store)"; of a trigger that says no zone: that it does not.
std::string zone_words(const site::Site& site, const std::string& zone);
/// "Zone 6 (Store) at the panel in alarm, on mains, unit without supply".
std::string zone_at_panel(const site::Site& site, const ZoneSituation& situation);
/// "Zone 6 (Store) at input 3 of Unit A in alarm, on mains".
std::string zone_at_unit(const site::Site& site, const ZoneSituation& situation);
/// The name of an object of any collection, or its id where it has none; a trigger is called by its zone and unit,
/// a channel by its unit, an address by its device.
std::string thing_words(const site::Site& site, const std::string& id);

/// Words for a condition, with its preposition: "on mains", "on a full battery".
std::string supply_words(SupplyCondition condition);
/// "in the pulse": a part of a pulsed terminal's period.
std::string part_words(DrivePart part);
std::string unit_words(UnitCondition condition);
std::string state_words(Happening happening);

/// Data sheet of the zone's terminal, for `limit_source`.
std::string terminal_source(const site::Site& site, const std::string& zone);
/// Pointer to the windows of the zone's terminal.
std::string windows_pointer(const site::Site& site, const std::string& zone);
/// Name and source of a part, for `limit_source`.
std::string part_source(const site::Site& site, const std::string& part_id);

}  // namespace zoneproof::electric
