#pragma once
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "base/ip_fault.hpp"
#include "base/unsigned128.hpp"

/// Addresses of the internet protocol as values, read strictly (docs/methods/addresses.md).
namespace zoneproof {

enum class IpVersion { v4, v6 };

/// How many bits an address has: 32 or 128.
constexpr int bits_of(IpVersion version) { return version == IpVersion::v4 ? 32 : 128; }

/// The number of the last address: all bits set.
constexpr Unsigned128 last_number(IpVersion version) {
  return ~Unsigned128{} >> static_cast<unsigned>(128 - bits_of(version));
}

/// One address: RFC 791 (version 4) or RFC 4291 (version 6). An IPv6 address that holds an IPv4 one is an IPv6 address
/// and not equal to it. Ordered by version, then by number.
class IpAddress {
 public:
  static constexpr IpAddress v4(std::uint32_t number) { return {IpVersion::v4, {0, number}}; }
  static constexpr IpAddress v6(Unsigned128 number) { return {IpVersion::v6, number}; }
  /// Of a number that is at most last_number(version).
  static IpAddress of(IpVersion version, Unsigned128 number);

  constexpr IpVersion version() const { return version_; }
  /// The address as a whole number, its first bit being the highest of 32 or 128.
  constexpr Unsigned128 number() const { return number_; }

  friend constexpr auto operator<=>(const IpAddress&, const IpAddress&) = default;

 private:
  constexpr IpAddress(IpVersion version, Unsigned128 number) : version_(version), number_(number) {}

  IpVersion version_;
  Unsigned128 number_;
};

/// Reads an address and nothing beside it.
/// IPv4: four decimal numbers from 0 to 255 without leading zeros. IPv6: the text forms of RFC 4291 section 2.2, in
/// either case, with "::" for one group of zeros or more and an IPv4 address for the last two groups. Zone ids
/// (RFC 4007), brackets and ports are refused. Cost: linear in the text.
std::variant<IpAddress, IpFault> read_ip_address(std::string_view written);

/// The one way in which an address is written: RFC 5952 (lower case, no leading zeros, "::" for the longest run of two
/// groups of zeros or more and the first of equals); ::ffff:0:0/96 with the IPv4 address it holds, as its section 5
/// recommends.
std::string text(const IpAddress& address);

/// The IPv4 address that an address of ::ffff:0:0/96 stands for (RFC 4291 section 2.5.5.2); nothing for others.
std::optional<IpAddress> mapped_v4(const IpAddress& address);

/// The neighbours in number; nothing behind the last and before the first of the version.
std::optional<IpAddress> next(const IpAddress& address);
std::optional<IpAddress> previous(const IpAddress& address);

}  // namespace zoneproof
