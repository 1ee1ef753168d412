#pragma once
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "server/network.hpp"

/// The program's own certificate authority: what lets a phone trust this one program, without any authority of the
/// public and without the network.
/// The authority speaks for private addresses and for the names that this machine has (name constraints, RFC 5280
/// section 4.2.1.10): whoever steals its key cannot pass for a site of the public to those who trust it. Keys are of
/// the curve P-256, made on this machine, in files that only their owner may read; they never leave it.
namespace zoneproof::server {

struct Authority {
  Identity identity;        ///< what TLS shows: the program's certificate, the authority's, and the key
  std::string certificate;  ///< of the authority, as PEM
  std::string der;          ///< the same as DER, as phones take it
};

/// What a certificate is made for.
struct Called {
  std::set<std::string> names;      ///< "workshop.local"
  std::set<std::string> addresses;  ///< "192.168.1.5"
};

/// The authority of a folder, made there at first, and a certificate of it for `called`: that of before where it is for
/// the same and lasts another month. Problems: files that cannot be read or written, keys that others may read, a name
/// that the authority was not made for.
std::optional<Authority> authority_of(const std::string& folder, const Called& called, std::vector<Message>& problems);

/// SHA-256 of a certificate as people compare it: "3A:0F:...".
std::string fingerprint(const std::string& der);

/// Names and addresses of this machine: the host's name, the same with ".local", all addresses of its interfaces that
/// are up, without the loopback's.
Called called_of_machine();

}  // namespace zoneproof::server
