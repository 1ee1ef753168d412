#pragma once
#include <string>
#include <vector>

namespace zoneproof::server {

struct TrustAsked {
  std::string der;                     ///< certificate of the authority; empty: there is none
  std::vector<std::string> addresses;  ///< of this page, for a phone: "http://192.168.1.5:8460/trust"
  std::string secure_address;          ///< where to go on afterwards
  bool from_this_machine = false;  ///< whoever reads it sits at the machine: the phone's way here is shown as a code
  bool secure = false;             ///< the page came over TLS
};

/// The page that leads a phone through trusting the program's own authority, in the spoken language. It needs no
/// JavaScript and loads nothing.
std::string trust_page(const TrustAsked& asked);

/// Its Content-Security-Policy: its own style, and nothing else.
const std::string& trust_policy();

}  // namespace zoneproof::server
