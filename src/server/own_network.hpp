#pragma once
#include <optional>
#include <string>

#include "base/ip_kind.hpp"

/// Which addresses of this machine the program answers at. It is made for the machine itself and the network of its
/// owner: at an address that the world reaches it does not answer, whatever else the machine is connected to.
namespace zoneproof::server {

/// Nothing for what is no IP address.
std::optional<IpKind> kind_of_address(const std::string& address);

/// An address of a private network (RFC 1918, RFC 4193), of a link alone (RFC 3927, RFC 4291) or of a provider's
/// shared space (RFC 6598); IPv4 written as IPv6 counts as IPv4.
bool is_of_own_network(const std::string& address);

}  // namespace zoneproof::server
