#pragma once
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// Whether the contact that a trigger uses (spare contact of a detector, relay of a receiver) tells of the right cause
/// and stands what it switches. Link trigger, subject the zone:
/// "contact_of_zone": its detector stands in this zone's loop, or is stated to be of this zone where that has no wires;
///   a programmable contact (a receiver's relay) is programmed to follow this zone.
/// "contact_reports_alarm": its part, or its programming, says that it reports the alarm of such a zone.
/// "contact_used_once": no loop and no other trigger uses the same contact.
/// "contact_voltage", "contact_current": its rating covers the pull-up, or the supply that it switches. Resistors count
///   with their tolerance at 20 degC; nothing in the way is taken away that the site does not state.
/// All five are always there; what is unknown, typical or assumed leaves those that rest on it unanswered.
std::vector<chain::Evidence> check_trigger_contact(const site::Site& site, const std::string& trigger);

}  // namespace zoneproof::proof
