// Any bytes as an address, a network and a mask: a value that is written and read back the same, or a reason in words.
#include <cstdint>
#include <string>
#include <string_view>

#include "base/ip_kind.hpp"
#include "base/ip_network.hpp"
#include "fuzz/held.hpp"

namespace {

using namespace zoneproof;
using fuzz::hold;

void hold_reason(IpFault fault) { hold(!text(reason(fault)).empty(), "a refusal has its reason"); }

void hold_address(const IpAddress& address) {
  const auto again = read_ip_address(text(address));
  hold(std::holds_alternative<IpAddress>(again) && std::get<IpAddress>(again) == address,
       "an address is read as written");
  const auto after = next(address);
  hold(!after || previous(*after) == address, "an address is the neighbour of its neighbour");
  hold(mapped_v4(address).has_value() <= (address.version() == IpVersion::v6), "only IPv6 holds IPv4");
  hold(ip_kind(address) <= IpKind::broadcast, "an address has a kind");
}

void hold_network(const IpNetwork& network) {
  const auto again = read_ip_network(text(network));
  hold(std::holds_alternative<IpNetwork>(again) && std::get<IpNetwork>(again) == network,
       "a network is read as written");
  const IpRange usable = hosts(network);
  hold(contains(network, usable.first) && contains(network, usable.last), "hosts are inside");
  hold(contains(network, network) && overlap(network, network), "a network is in itself");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view written(reinterpret_cast<const char*>(data), size);
  const auto address = read_ip_address(written);
  if (const auto* read = std::get_if<IpAddress>(&address)) {
    hold_address(*read);
  } else {
    hold_reason(std::get<IpFault>(address));
  }
  const auto network = read_ip_network(written);
  if (const auto* read = std::get_if<IpNetwork>(&network)) {
    hold_network(*read);
  } else {
    hold_reason(std::get<IpFault>(network));
    if (const auto meant = network_meant(written)) hold_network(*meant);
  }
  const auto mask = read_netmask(written);
  if (const auto* prefix = std::get_if<int>(&mask)) hold(*prefix >= 0 && *prefix <= 32, "a mask has up to 32 ones");
  return 0;
}
