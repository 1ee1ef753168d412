#include "base/ip_kind.hpp"

#include <array>
#include <string_view>
#include <vector>

#include "base/ip_network.hpp"

namespace zoneproof {

namespace {

struct Block {
  std::string_view network;
  IpKind kind;
};

// As the registries of IANA have them, read through the tables of Python 3.13 (module ipaddress), which tests hold this
// against, and RFC 9637. Blocks that are global inside others that are not have rows of their own.
constexpr std::array<Block, 36> kBlocks = {{
    {"0.0.0.0/8", IpKind::this_network},
    {"0.0.0.0/32", IpKind::unspecified},
    {"10.0.0.0/8", IpKind::private_use},
    {"100.64.0.0/10", IpKind::shared},
    {"127.0.0.0/8", IpKind::loopback},
    {"169.254.0.0/16", IpKind::link_local},
    {"172.16.0.0/12", IpKind::private_use},
    {"192.0.0.0/24", IpKind::protocol},
    {"192.0.0.9/32", IpKind::global},   // asking a router to open a port (RFC 7723)
    {"192.0.0.10/32", IpKind::global},  // relays (RFC 8155)
    {"192.0.2.0/24", IpKind::documentation},
    {"192.168.0.0/16", IpKind::private_use},
    {"198.18.0.0/15", IpKind::benchmarking},
    {"198.51.100.0/24", IpKind::documentation},
    {"203.0.113.0/24", IpKind::documentation},
    {"224.0.0.0/4", IpKind::multicast},
    {"240.0.0.0/4", IpKind::reserved},
    {"255.255.255.255/32", IpKind::broadcast},
    {"::/128", IpKind::unspecified},
    {"::1/128", IpKind::loopback},
    {"64:ff9b:1::/48", IpKind::protocol},  // translation inside a site (RFC 8215)
    {"100::/64", IpKind::protocol},        // discarded (RFC 6666)
    {"2001::/23", IpKind::protocol},
    {"2001:1::1/128", IpKind::global},  // as 192.0.0.9
    {"2001:1::2/128", IpKind::global},  // as 192.0.0.10
    {"2001:2::/48", IpKind::benchmarking},
    {"2001:3::/32", IpKind::global},      // multicast through tunnels (RFC 7450)
    {"2001:4:112::/48", IpKind::global},  // name servers for private addresses (RFC 7535)
    {"2001:20::/28", IpKind::global},     // names of hosts (RFC 7343)
    {"2001:30::/28", IpKind::global},     // names of unmanned aircraft (RFC 9374)
    {"2001:db8::/32", IpKind::documentation},
    {"2002::/16", IpKind::protocol},  // tunnels of RFC 3056; the registry leaves open how far they reach
    {"3fff::/20", IpKind::documentation},
    {"fc00::/7", IpKind::private_use},
    {"fe80::/10", IpKind::link_local},
    {"ff00::/8", IpKind::multicast},
}};

struct Assignment {
  IpNetwork network;
  IpKind kind;
};

const std::vector<Assignment>& registry() {
  static const std::vector<Assignment> entries = [] {
    std::vector<Assignment> out;
    for (const Block& block : kBlocks) out.push_back({std::get<IpNetwork>(read_ip_network(block.network)), block.kind});
    return out;
  }();
  return entries;
}

}  // namespace

IpKind ip_kind(const IpAddress& address) {
  if (const auto v4 = mapped_v4(address)) return ip_kind(*v4);
  const Assignment* closest = nullptr;
  for (const Assignment& entry : registry()) {
    const bool closer = closest == nullptr || entry.network.prefix() > closest->network.prefix();
    if (closer && contains(entry.network, address)) closest = &entry;
  }
  return closest ? closest->kind : IpKind::global;
}

}  // namespace zoneproof
