#include "base/ip_network.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace zoneproof {

namespace {

/// Bits behind the prefix: those that tell the hosts of a network apart.
Unsigned128 host_bits(IpVersion version, int prefix) {
  const Unsigned128 all = last_number(version);
  return prefix == 0 ? all : all & ~(~Unsigned128{} << static_cast<unsigned>(bits_of(version) - prefix));
}

std::variant<int, IpFault> read_prefix(std::string_view digits, IpVersion version) {
  if (digits.empty() || digits.find_first_not_of("0123456789") != std::string_view::npos) {
    const bool mask = std::holds_alternative<IpAddress>(read_ip_address(digits));
    return mask ? IpFault::prefix_mask : IpFault::prefix_no_number;
  }
  if (digits.size() > 1 && digits.front() == '0') return IpFault::prefix_leading_zero;
  if (digits.size() > 3) return IpFault::prefix_too_long;
  int prefix = 0;
  for (const char c : digits) prefix = prefix * 10 + (c - '0');
  if (prefix > bits_of(version)) return IpFault::prefix_too_long;
  return prefix;
}

}  // namespace

std::optional<IpRange> make_range(const IpAddress& first, const IpAddress& last) {
  if (first.version() != last.version() || last < first) return std::nullopt;
  return IpRange{first, last};
}

Unsigned128 size_less_one(const IpRange& range) { return range.last.number() - range.first.number(); }

bool contains(const IpRange& range, const IpAddress& address) {
  return range.first <= address && address <= range.last;
}

std::optional<IpRange> common_part(const IpRange& a, const IpRange& b) {
  if (a.first.version() != b.first.version()) return std::nullopt;
  return make_range(std::max(a.first, b.first), std::min(a.last, b.last));
}

IpNetwork IpNetwork::around(const IpAddress& address, int prefix) {
  const IpVersion version = address.version();
  return {IpAddress::of(version, address.number() & ~host_bits(version, prefix)), prefix};
}

IpAddress IpNetwork::last() const { return IpAddress::of(version(), first_.number() | host_bits(version(), prefix_)); }

std::variant<IpNetwork, IpFault> read_ip_network(std::string_view written) {
  if (written.empty()) return IpFault::empty;
  const std::size_t slash = std::min(written.find('/'), written.size());
  const auto address = read_ip_address(written.substr(0, slash));
  if (const auto* fault = std::get_if<IpFault>(&address)) return *fault;
  if (slash == written.size()) return IpFault::no_prefix;
  const auto& first = std::get<IpAddress>(address);
  const auto prefix = read_prefix(written.substr(slash + 1), first.version());
  if (const auto* fault = std::get_if<IpFault>(&prefix)) return *fault;
  const IpNetwork network = IpNetwork::around(first, std::get<int>(prefix));
  if (network.first() != first) return IpFault::host_bits;
  return network;
}

std::optional<IpNetwork> network_meant(std::string_view written) {
  const std::size_t slash = written.find('/');
  if (slash == std::string_view::npos) return std::nullopt;
  const auto address = read_ip_address(written.substr(0, slash));
  if (!std::holds_alternative<IpAddress>(address)) return std::nullopt;
  const auto& inside = std::get<IpAddress>(address);
  const std::string_view behind = written.substr(slash + 1);
  auto prefix = read_prefix(behind, inside.version());
  if (!std::holds_alternative<int>(prefix) && inside.version() == IpVersion::v4) prefix = read_netmask(behind);
  return std::holds_alternative<int>(prefix) ? std::optional(IpNetwork::around(inside, std::get<int>(prefix)))
                                             : std::nullopt;
}

std::variant<int, IpFault> read_netmask(std::string_view written) {
  const auto address = read_ip_address(written);
  if (const auto* fault = std::get_if<IpFault>(&address)) return *fault;
  const auto& mask = std::get<IpAddress>(address);
  if (mask.version() != IpVersion::v4) return IpFault::v4_numbers;
  for (int prefix = 0; prefix <= bits_of(IpVersion::v4); ++prefix) {
    if (mask.number() == (last_number(IpVersion::v4) & ~host_bits(IpVersion::v4, prefix))) return prefix;
  }
  return IpFault::mask_gap;
}

IpAddress netmask(const IpNetwork& network) {
  const IpVersion version = network.version();
  return IpAddress::of(version, last_number(version) & ~host_bits(version, network.prefix()));
}

std::string text(const IpNetwork& network) { return fmt::format("{}/{}", text(network.first()), network.prefix()); }

IpRange range_of(const IpNetwork& network) { return {network.first(), network.last()}; }

std::optional<IpAddress> broadcast(const IpNetwork& network) {
  const bool has_one = network.version() == IpVersion::v4 && network.prefix() <= bits_of(IpVersion::v4) - 2;
  return has_one ? std::optional(network.last()) : std::nullopt;
}

IpRange hosts(const IpNetwork& network) {
  const IpVersion version = network.version();
  IpRange all = range_of(network);
  if (network.prefix() > bits_of(version) - 2) return all;
  all.first = IpAddress::of(version, all.first.number() + kOne128);
  if (version == IpVersion::v4) all.last = IpAddress::of(version, all.last.number() - kOne128);
  return all;
}

bool contains(const IpNetwork& network, const IpAddress& address) { return contains(range_of(network), address); }

bool contains(const IpNetwork& outer, const IpNetwork& inner) {
  return contains(outer, inner.first()) && outer.prefix() <= inner.prefix();
}

bool overlap(const IpNetwork& a, const IpNetwork& b) { return contains(a, b) || contains(b, a); }

}  // namespace zoneproof
