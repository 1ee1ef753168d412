#include "server/guard.hpp"

#include <algorithm>

#include "messages/server.hpp"
#include "server/target.hpp"

namespace zoneproof::server {

namespace {

/// Only the page's own files. 'wasm-unsafe-eval' lets it compile the engine, and nothing else be evaluated.
constexpr const char* kPolicy =
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob:; "
    "font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'";

bool has(const Response& response, const std::string& name) {
  return std::any_of(response.headers.begin(), response.headers.end(),
                     [&](const Header& header) { return header.name == name; });
}

}  // namespace

const Names& loopback_names() {
  static const Names names = {"localhost", "127.0.0.1", "::1"};
  return names;
}

std::optional<Message> host_problem(const Request& request, const Names& names) {
  const std::string host = host_without_port(request.header("Host"));
  if (request.count("Host") == 1 && (loopback_names().count(host) != 0 || names.count(host) != 0)) return std::nullopt;
  return say::server_host_unknown(std::string(request.header("Host")));
}

std::optional<Message> origin_problem(const Request& request) {
  const std::string_view site = request.header("Sec-Fetch-Site");
  if (!site.empty() && site != "same-origin" && site != "none") return say::server_foreign_page(std::string(site));
  const std::string_view origin = request.header("Origin");
  if (request.count("Origin") == 0) return std::nullopt;
  const std::string own = (request.secure ? "https://" : "http://") + std::string(request.header("Host"));
  if (request.count("Origin") == 1 && origin == own) return std::nullopt;
  return say::server_foreign_page(std::string(origin));
}

void add_security_headers(Response& response) {
  if (!has(response, "Content-Security-Policy")) response.with("Content-Security-Policy", kPolicy);
  response.with("X-Content-Type-Options", "nosniff")
      .with("Referrer-Policy", "no-referrer")
      .with("X-Frame-Options", "DENY")
      .with("Cross-Origin-Opener-Policy", "same-origin")
      .with("Cross-Origin-Resource-Policy", "same-origin")
      .with("Permissions-Policy", "camera=(self), geolocation=(), microphone=(), payment=(), usb=()");
}

}  // namespace zoneproof::server
