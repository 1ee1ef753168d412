#pragma once
#include <compare>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "base/ip_address.hpp"

/// Networks (RFC 4632, RFC 4291 section 2.3) and ranges of addresses.
namespace zoneproof {

/// All addresses from `first` to `last`, both included, of one version. make_range() holds to that.
struct IpRange {
  IpAddress first;
  IpAddress last;

  friend constexpr auto operator<=>(const IpRange&, const IpRange&) = default;
};

/// Nothing where the versions differ or `last` stands before `first`.
std::optional<IpRange> make_range(const IpAddress& first, const IpAddress& last);

/// How many addresses a range has, less one: a range of all IPv6 addresses has 2^128, one more than a number holds.
Unsigned128 size_less_one(const IpRange& range);

bool contains(const IpRange& range, const IpAddress& address);

/// The addresses that are in both; nothing where there are none, as between versions.
std::optional<IpRange> common_part(const IpRange& a, const IpRange& b);

/// The addresses whose first `prefix` bits are those of `first`, whose others are 0. Ordered by first address, then by
/// prefix: a network stands before those inside it.
class IpNetwork {
 public:
  /// The network of that prefix in which `address` lies; `prefix` from 0 to bits_of(address.version()).
  static IpNetwork around(const IpAddress& address, int prefix);

  const IpAddress& first() const { return first_; }
  IpAddress last() const;
  int prefix() const { return prefix_; }
  IpVersion version() const { return first_.version(); }

  friend constexpr auto operator<=>(const IpNetwork&, const IpNetwork&) = default;

 private:
  IpNetwork(const IpAddress& first, int prefix) : first_(first), prefix_(prefix) {}

  IpAddress first_;
  int prefix_;
};

/// Reads "192.0.2.0/24" and "2001:db8::/32": an address as read_ip_address() takes it, a slash and the prefix in
/// decimal digits without leading zeros. All bits behind the prefix must be 0. Cost: linear in the text.
std::variant<IpNetwork, IpFault> read_ip_network(std::string_view written);

/// The network that was most likely meant by a text that read_ip_network() refuses: "192.0.2.0/24" by "192.0.2.7/24"
/// and by "192.0.2.0/255.255.255.0". Nothing where several could be.
std::optional<IpNetwork> network_meant(std::string_view written);

/// The prefix that an IPv4 mask stands for: 24 of "255.255.255.0". Masks of wild cards (0.0.0.255) have a gap.
std::variant<int, IpFault> read_netmask(std::string_view written);

/// The mask of a network: ones for its prefix, zeros behind it.
IpAddress netmask(const IpNetwork& network);

/// In canonical form: the first address as text(IpAddress) writes it, a slash and the prefix.
std::string text(const IpNetwork& network);

IpRange range_of(const IpNetwork& network);

/// The address that all hosts of an IPv4 network listen to, its last one (RFC 919). Networks of one and of two
/// addresses have none (RFC 3021), nor has IPv6.
std::optional<IpAddress> broadcast(const IpNetwork& network);

/// The addresses that a host may have. IPv4: without the first, which names the network, and the broadcast address.
/// IPv6: without the first, which all routers answer to (RFC 4291 section 2.6.1). All of a network with one or two
/// addresses: IPv4 by RFC 3021, IPv6 by RFC 6164.
IpRange hosts(const IpNetwork& network);

bool contains(const IpNetwork& network, const IpAddress& address);
/// Whether every address of `inner` is in `outer`; so for a network in itself.
bool contains(const IpNetwork& outer, const IpNetwork& inner);
/// Whether an address is in both. Two networks that overlap are one in the other.
bool overlap(const IpNetwork& a, const IpNetwork& b);

}  // namespace zoneproof
