#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <unistd.h>

#include <algorithm>
#include <array>

#include "server/authority.hpp"

namespace zoneproof::server {

namespace {

std::string text_of(const sockaddr* address) {
  std::array<char, INET6_ADDRSTRLEN> text{};
  const void* bytes = nullptr;
  if (address->sa_family == AF_INET) bytes = &reinterpret_cast<const sockaddr_in*>(address)->sin_addr;
  if (address->sa_family == AF_INET6) bytes = &reinterpret_cast<const sockaddr_in6*>(address)->sin6_addr;
  if (bytes == nullptr || inet_ntop(address->sa_family, bytes, text.data(), text.size()) == nullptr) return {};
  return text.data();
}

bool is_of_link_only(const std::string& address) { return address.rfind("fe80:", 0) == 0; }

}  // namespace

Called called_of_machine() {
  Called called;
  std::array<char, 256> host{};
  if (gethostname(host.data(), host.size() - 1) == 0 && host[0] != '\0') {
    std::string name = host.data();
    std::transform(name.begin(), name.end(), name.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    const bool sound = std::all_of(name.begin(), name.end(),
                                   [](unsigned char c) { return std::isalnum(c) != 0 || c == '-' || c == '.'; });
    if (sound && name != "localhost") {
      called.names.insert(name);
      if (name.find('.') == std::string::npos) called.names.insert(name + ".local");
    }
  }
  ifaddrs* all = nullptr;
  if (getifaddrs(&all) != 0) return called;
  for (const ifaddrs* one = all; one != nullptr; one = one->ifa_next) {
    if (one->ifa_addr == nullptr || (one->ifa_flags & IFF_UP) == 0 || (one->ifa_flags & IFF_LOOPBACK) != 0) continue;
    const std::string address = text_of(one->ifa_addr);
    if (!address.empty() && !is_of_link_only(address)) called.addresses.insert(address);
  }
  freeifaddrs(all);
  return called;
}

}  // namespace zoneproof::server
