#pragma once
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// Whether the contact that a trigger uses (spare contact of a detector, relay of a receiver) tells of the right cause
/// and stands what it switches. Link trigger, subject the zone:
/// "contact_of_zone": its detector stands in this zone's loop and in no other's; a wireless or addressable zone has no
///   loop that lists its detectors, there it must only not be another's.
/// "contact_reports_alarm": it is no tamper, mask or fault contact, by its role in a loop or its id in the part.
/// "contact_used_once": no loop and no other trigger uses the same contact.
/// "contact_voltage", "contact_current": its rating covers the pull-up, or the supply that it switches. Resistors count
///   with their tolerance at 20 degC; nothing in the way is taken away that the site does not state.
/// All five are always there; what is unknown, typical or assumed leaves those that rest on it unanswered.
std::vector<chain::Evidence> check_trigger_contact(const site::Site& site, const std::string& trigger);

}  // namespace zoneproof::proof
