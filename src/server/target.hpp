#pragma once
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/language.hpp"
#include "server/http.hpp"

/// What stands in the head of a request, taken apart. Everything here is linear in the text and refuses what two
/// readers could understand differently.
namespace zoneproof::server {

/// "/api/sites/old%20mill?page=2" is {"api", "sites", "old mill"} and {"page": "2"}.
struct Target {
  std::vector<std::string> path;
  std::map<std::string, std::string> query;

  std::string asked(const std::string& key) const;  ///< of the query; empty where it is not there
};

/// Nothing where the target is no absolute path, has a segment that is "." or "..", an encoded '/' or '\\', a control
/// character or bytes that are no UTF-8, a broken %-code, or a key of the query twice.
std::optional<Target> read_target(std::string_view target);

/// %-codes replaced; nothing where one is broken. `plus_is_blank` as forms write it.
std::optional<std::string> percent_decoded(std::string_view text, bool plus_is_blank);

/// A cookie of the request; empty where there is none, or two of the name that differ.
std::string cookie_of(const Request& request, std::string_view name);

/// The language that Accept-Language wants most and the program has; English where it has none.
Language language_of(std::string_view accept_language);

/// Whether the client says that it can take gzip.
bool takes_gzip(std::string_view accept_encoding);

/// Whether If-None-Match names this tag ("abc" with its quotes); weak tags match as well, "*" any.
bool names_tag(std::string_view if_none_match, std::string_view tag);

/// "machine:8460" without the port, "[::1]:8460" is "::1"; in small letters, without a last point. Empty where it is no
/// name and no address.
std::string host_without_port(std::string_view host);

}  // namespace zoneproof::server
