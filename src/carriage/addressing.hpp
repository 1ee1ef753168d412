#pragma once
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// Whether every address does what it is there for.
///
/// Asked in every network that a camera, recorder or unit uses that a clip passes, of every address in it, whatever
/// device has it: a printer with the address of the recorder stops clips as well as a camera does. Texts are compared
/// as the addresses that they stand for (docs/methods/addresses.md). Exact. An address or range that is not in the file
/// is unanswered. Cost: n log n in addresses, the square of the networks.
///
/// | check | of | broken where |
/// | --- | --- | --- |
/// | address_in_network | an address | outside of its network; one that no device may have: of the network itself,
/// broadcast, multicast, loopback, no address (RFC 1122, RFC 4291, RFC 3021) | | address_clash | an address | another
/// device of the site has the same; told of each | | address_in_pool | an address | typed in, and the pool gives it
/// out; reserved, and nobody gives out any | | address_changes | an address of a camera, recorder, unit, router | from
/// the pool without reservation: others call these by their address | | gateway_reached | an address of a camera,
/// recorder, unit | its gateway has no address in its network | | pool_in_network | a network with a pool | the pool
/// gives out what no device of it may have, or ends before it begins | | networks_overlap | a network | another of the
/// site has an address of it too, whatever their VLANs: both cannot be routed |
///
/// A clash is excluded only where `addresses_complete` says that every address of the network is in the file. A
/// reservation is no way around that: it binds the server (RFC 2131, 4.3.1), not whoever types an address into a
/// device, and that is how addresses come to clash. An address from the pool is not asked for clashes, as it changes.
namespace zoneproof::carriage {

std::vector<chain::Evidence> check_addressing(const site::Site& site);

}  // namespace zoneproof::carriage
