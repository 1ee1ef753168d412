#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// Whether every address does what it is there for.
///
/// Asked in every network that a camera, recorder or unit uses that a clip passes, of every address in it, whatever
/// device has it: a printer with the address of the recorder stops clips as well as a camera does. Texts are compared
/// as the addresses that they stand for (docs/methods/addresses.md). Exact. An address or range that is not in the file
/// is unanswered. Cost: n log n in addresses, the square of the networks. Broken is:
///
/// - "address_in_network", of an address: it is outside of its network, or one that no device may have: of the network
///   itself, broadcast, multicast, loopback, no address (RFC 1122, RFC 3021, RFC 4291);
/// - "address_clash": another device of the site has the same; told of each;
/// - "address_in_pool": it was typed in, and the pool gives it out; or it is reserved, and nobody gives out any;
/// - "address_changes", of a camera, recorder, unit or router, which others call by their address: it comes from the
///   pool without reservation;
/// - "gateway_reached", of a camera, recorder or unit: its gateway has no address in its network;
/// - "pool_in_network", of a network with a pool: that gives out what no device may have, or ends before it begins;
/// - "networks_overlap", of a network: another one of the site has an address of it too, whatever their VLANs are,
///   since no router can send to both.
///
/// A clash is excluded only where `addresses_complete` says that every address of the network is in the file. A
/// reservation is no way around that: it binds the server (RFC 2131, 4.3.1), not whoever types an address into a
/// device, and that is how addresses come to clash. An address from the pool is not asked for clashes, as it changes.
namespace zoneproof::carriage {

std::vector<chain::Evidence> check_addressing(const site::Site& site);

}  // namespace zoneproof::carriage
