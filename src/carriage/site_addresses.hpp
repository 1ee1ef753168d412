#pragma once
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/ip_network.hpp"
#include "carriage/route.hpp"
#include "chain/evidence.hpp"
#include "site/model.hpp"

/// The addresses of a site as values, and who has to talk to whom.
namespace zoneproof::carriage {

/// Nothing where none is entered, as with an address from the pool.
std::optional<IpAddress> value_of(const site::Address& address);
std::optional<IpNetwork> value_of(const site::Network& network);

/// Where the texts stand in the file: they carry no pointers of their own.
std::string address_pointer(const std::string& id);
std::string network_pointer(const std::string& id, const char* key);

/// Whether the device has an address in the network. Where it is not known to have one, `gaps` name what may hide it.
/// `routes`: those of the site.
bool has_address_in(const site::Site& site, const Routes& routes, const std::string& device, const std::string& network,
                    std::vector<chain::Gap>& gaps);

/// Two devices of which the first sends to the second, or is asked by it: who calls whom is set up in the devices and
/// not in the file.
struct Talk {
  std::string from, to;
  auto operator<=>(const Talk&) const = default;
};

/// The cameras, recorders and units that a clip passes, and every unit.
std::set<std::string> talkers(const site::Site& site);

/// Camera to recorder to unit, or camera to unit, of every channel of which a clip is kept; such a camera to wherever
/// else its streams go; every unit to the router of its uplink. In order; what is not known is left out.
std::set<Talk> talks(const site::Site& site);

/// The router by which a unit's clips leave the site; empty, and a gap, where that is not known.
std::string way_out_of(const site::Site& site, const std::string& unit, std::vector<chain::Gap>& gaps);

}  // namespace zoneproof::carriage
