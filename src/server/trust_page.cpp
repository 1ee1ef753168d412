#include "server/trust_page.hpp"

#include <openssl/evp.h>

#include "base/language.hpp"
#include "base/message.hpp"
#include "base/sha256.hpp"
#include "messages/server.hpp"
#include "server/authority.hpp"
#include "server/qr_svg.hpp"

namespace zoneproof::server {

namespace {

constexpr std::string_view kStyle = R"(
:root { --paper: #ffffff; --wash: #f1f3f5; --line: #222b31; --quiet: #4b5861; --text: #14191c; --accent: #006ca4; color-scheme: light dark; }
@media (prefers-color-scheme: dark) { :root { --paper: #14191c; --wash: #1e262b; --line: #d0d8dd; --quiet: #a8b5be; --text: #ecf1f4; --accent: #6df4dd; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 44rem; padding: 1.25rem 1rem 3rem; background: var(--paper); color: var(--text); font: 1rem/1.5 "Noto Sans", sans-serif; }
h1 { font-size: 1.35rem; line-height: 1.25; margin: 0 0 .75rem; text-wrap: balance; }
h2 { font-size: 1rem; margin: 1.75rem 0 .25rem; border-top: 1px solid var(--line); padding-top: .75rem; }
h3 { font-size: .9rem; margin: 1rem 0 .1rem; color: var(--quiet); }
p { margin: .4rem 0; }
.print { font: .95rem/1.7 "B612 Mono", "DejaVu Sans Mono", monospace; background: var(--wash); padding: .6rem .75rem; }
.button { display: inline-block; margin: .5rem 0; padding: .7rem 1.1rem; border: 2px solid var(--accent); color: var(--text); text-decoration: none; font-weight: 600; min-height: 2.75rem; }
.button:focus-visible, a:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
.quiet { color: var(--quiet); }
figure { margin: .75rem 1.5rem .75rem 0; display: inline-block; vertical-align: top; }
figure svg { width: 10rem; height: 10rem; background: #ffffff; display: block; }
figcaption { font-size: .85rem; overflow-wrap: anywhere; max-width: 14rem; }
)";

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '&')
      out += "&amp;";
    else if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '"')
      out += "&quot;";
    else
      out += c;
  }
  return out;
}

/// A line may end behind each pair of digits and nowhere else.
std::string broken_at_colons(const std::string& digits) {
  std::string out;
  for (const char c : digits) out += c == ':' ? std::string(":<wbr>") : std::string(1, c);
  return out;
}

std::string element(const char* name, const Message& words) {
  return std::string("<") + name + ">" + escaped(text(words)) + "</" + name + ">\n";
}

std::string button(const std::string& address, const Message& words) {
  return "<p><a class=\"button\" href=\"" + escaped(address) + "\">" + escaped(text(words)) + "</a></p>\n";
}

std::string ways_here(const TrustAsked& asked) {
  if (!asked.from_this_machine || asked.addresses.empty()) return {};
  std::string out = element("h2", say::trust_phone_heading()) + element("p", say::trust_phone_way());
  for (const std::string& address : asked.addresses)
    out += "<figure>" + qr_svg(address) + "<figcaption>" + escaped(address) + "</figcaption></figure>\n";
  return out;
}

std::string steps(const TrustAsked& asked) {
  std::string out = element("h2", say::trust_compare_heading()) + element("p", say::trust_compare());
  out += "<p class=\"print\">" + broken_at_colons(fingerprint(asked.der)) + "</p>\n";
  out += element("h2", say::trust_fetch_heading()) + element("p", say::trust_fetch());
  out += button("/api/authority", say::trust_fetch_button());
  out += element("h2", say::trust_install_heading());
  out += element("h3", say::trust_profile_heading()) + element("p", say::trust_profile());
  out += element("h3", say::trust_credentials_heading()) + element("p", say::trust_credentials());
  out += element("h3", say::trust_computer_heading()) + element("p", say::trust_computer());
  out += element("h2", say::trust_go_on_heading()) + element("p", say::trust_go_on());
  out += button(asked.secure_address, say::trust_go_on_button());
  out += element("h2", say::trust_undo_heading()) + element("p", say::trust_undo());
  return out;
}

std::string policy_of_style() {
  const auto digest = sha256(kStyle);
  unsigned char text[64];
  EVP_EncodeBlock(text, digest.data(), static_cast<int>(digest.size()));
  return "default-src 'none'; style-src 'sha256-" + std::string(reinterpret_cast<const char*>(text)) +
         "'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
}

}  // namespace

const std::string& trust_policy() {
  static const std::string policy = policy_of_style();
  return policy;
}

std::string trust_page(const TrustAsked& asked) {
  std::string out = "<!doctype html>\n<html lang=\"" + std::string(code_of(spoken_language())) + "\">\n<head>\n";
  out += "<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n";
  out += element("title", say::trust_title());
  out += "<style>" + std::string(kStyle) + "</style>\n</head>\n<body>\n<main>\n";
  out += element("h1", say::trust_title());
  if (asked.der.empty()) {
    out += element("p", say::trust_not_needed());
  } else {
    out += element("p", say::trust_why()) + element("p", say::trust_caution());
    out += ways_here(asked) + steps(asked);
  }
  return out + "</main>\n</body>\n</html>\n";
}

}  // namespace zoneproof::server
