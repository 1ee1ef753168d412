#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// Whether the contacts on the loop of each wired zone are what the loop's levels are computed for. Link loop, subject
/// the zone; of two zones on one pair, both:
/// "loop_contact_own": each stands there once, in no other loop, and triggers no input beside it.
/// "loop_contact_role": each reports what it is entered for, by its part or, of a receiver's relay, by its programming;
///   an alarm contact, that of the zone that it is entered for.
/// What is unknown leaves them unanswered, and so does a list of the loop's own contacts that is not complete. Contacts
/// that another loop's list may still lack are not counted: that loop asks for its list itself.
std::vector<chain::Evidence> check_loop_contacts(const site::Site& site);

}  // namespace zoneproof::proof
