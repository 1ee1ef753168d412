#include "server/own_network.hpp"

#include <variant>

#include "base/ip_address.hpp"

namespace zoneproof::server {

std::optional<IpKind> kind_of_address(const std::string& address) {
  const auto read = read_ip_address(address);
  const auto* ip = std::get_if<IpAddress>(&read);
  return ip == nullptr ? std::nullopt : std::optional(ip_kind(*ip));
}

bool is_of_own_network(const std::string& address) {
  const auto kind = kind_of_address(address);
  return kind == IpKind::private_use || kind == IpKind::link_local || kind == IpKind::shared;
}

}  // namespace zoneproof::server
