#pragma once
#include "base/ip_address.hpp"

namespace zoneproof {

/// What an address is for.
enum class IpKind {
  global,         ///< of nothing below: one that can be reached from the whole internet
  unspecified,    ///< 0.0.0.0 and ::, "no address"
  this_network,   ///< the rest of 0.0.0.0/8: only a source before an address is known (RFC 1122)
  loopback,       ///< a machine to itself (RFC 1122, RFC 4291)
  private_use,    ///< of a site: RFC 1918, and unique local addresses of RFC 4193
  link_local,     ///< one link, never routed; where nobody handed out an address (RFC 3927, RFC 4291)
  shared,         ///< between a provider and its customers' routers (RFC 6598): neither private nor global
  documentation,  ///< in books only (RFC 5737, RFC 3849, RFC 9637)
  benchmarking,   ///< laboratories (RFC 2544, RFC 5180)
  protocol,       ///< of protocols of their own: translation, tunnels, discarding
  multicast,      ///< a group of hosts (RFC 5771, RFC 4291)
  reserved,       ///< 240.0.0.0/4, never handed out
  broadcast       ///< 255.255.255.255, all hosts of the link
};

/// The kind of an address by the special-purpose address registries of IANA (RFC 6890 and its successors), the longest
/// prefix deciding; an address of ::ffff:0:0/96 is of the kind of the IPv4 address that it holds. What no registry
/// names is global, also where IANA has not handed it out yet.
IpKind ip_kind(const IpAddress& address);

}  // namespace zoneproof
