#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// What of the site can be got at that need not, as somebody looked and wrote it down: nothing is scanned or tried.
///
/// - "forwarded_ports", of a router: ports that it hands on from outside, at most the rulebook's
/// `forwarded_ports_most`;
/// - "delivered_password", of a device: 1 where it opens by the password that it was delivered with, else 0, at most
///   `delivered_passwords_most`;
/// - "open_services", of a device: its ports that can be reached from anywhere, at most `open_services_most`;
/// - "plain_services", of a device: those without encryption that can be reached from beyond its own network, at most
///   `plain_services_most`;
/// - "public_address", of an address that is not a router's: broken where it is global (`ip_kind()`);
/// - "way_out_not_needed", of an address of a camera or recorder: thin where it has a gateway that no picture needs to
///   get to its recorder or unit.
///
/// Devices are all that have an address, and all that a clip passes and that should have one. A list that nobody called
/// complete leaves its count unanswered, except where what is in it is too much already. An address from the pool is
/// judged by its network, where that is of one kind. Exact. Cost: linear.
namespace zoneproof::carriage {

std::vector<chain::Evidence> check_exposure(const site::Site& site);

}  // namespace zoneproof::carriage
