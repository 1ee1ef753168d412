#pragma once
#include <optional>
#include <set>
#include <string>

#include "base/message.hpp"
#include "server/http.hpp"

/// What is looked at before anything else: whether a request is meant for this program and comes from its own page.
namespace zoneproof::server {

/// Names and addresses under which this program may be called, in small letters. Whatever else stands in Host was
/// brought here by somebody else's name (DNS rebinding).
using Names = std::set<std::string>;

/// The names of this machine itself on the loopback address.
const Names& loopback_names();

/// Why not; nothing where the Host is there once, and one of `names` or of the loopback's.
std::optional<Message> host_problem(const Request& request, const Names& names);

/// Why not: another page's Origin, or a browser that says (Sec-Fetch-Site) that another site's page is asking. Programs
/// that are no browser send neither.
std::optional<Message> origin_problem(const Request& request);

/// What every response carries; a Content-Security-Policy that it has already stays.
void add_security_headers(Response& response);

}  // namespace zoneproof::server
