#include "site/text_form.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/ip_network.hpp"
#include "messages/site.hpp"
#include "site/record_json.hpp"

namespace zoneproof::site {

namespace {

bool is_sha256(std::string_view text) {
  return text.size() == 64 && text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

std::optional<Message> address_fault(const std::string& text, const std::string& key) {
  const auto read = read_ip_address(text);
  const auto* fault = std::get_if<IpFault>(&read);
  return fault ? std::optional(say::site_not_an_ip_address(text, key, zoneproof::text(reason(*fault)))) : std::nullopt;
}

std::optional<Message> network_fault(const std::string& text, const std::string& key) {
  const auto read = read_ip_network(text);
  const auto* fault = std::get_if<IpFault>(&read);
  if (fault == nullptr) return std::nullopt;
  const std::string why = zoneproof::text(reason(*fault));
  const auto meant = network_meant(text);
  return meant ? say::site_not_an_ip_network_near(text, key, why, zoneproof::text(*meant))
               : say::site_not_an_ip_network(text, key, why);
}

// No hidden characters (number_form.hpp) and not blanks alone; noncharacters above U+FFFF have no name in a pattern and
// are left to the reader. Lookaheads, because "$" means before a last line feed to some readers.
constexpr std::string_view kNever =
    "\\u007f-\\u009f\\u061c\\u200e\\u200f\\u2028-\\u202e\\u2061-\\u206f\\ufdd0-\\ufdef\\ufeff\\ufffe\\uffff";
constexpr std::string_view kBlanks =
    " \\n\\u00a0\\u115f\\u1160\\u1680\\u2000-\\u200d\\u202f\\u205f\\u2060\\u2800\\u3000\\u3164\\uffa0";

std::string text_pattern(std::string_view controls) {
  return fmt::format("^(?![\\s\\S]*[{}{}])(?![{}]+(?![\\s\\S]))", controls, kNever, kBlanks);
}

constexpr const char* kId = "^[a-z][a-z0-9_]{0,39}$";
constexpr const char* kSha256 = "^[0-9a-f]{64}$";

/// Codes of IEC 60757:2021, one or two for a core (green-and-yellow: GNYE), "+" between cores that are joined to make
/// one conductor.
constexpr std::array<std::string_view, 14> kColours = {"BK", "BN", "RD", "OG", "YE", "GN", "BU",
                                                       "VT", "GY", "WH", "PK", "GD", "TQ", "SR"};

/// Where behind the colours of the core that begins at `at`; nothing where no colour stands there.
std::optional<std::size_t> behind_core(std::string_view text, std::size_t at) {
  const auto is_colour = [&](std::size_t from) {
    return std::find(kColours.begin(), kColours.end(), text.substr(std::min(from, text.size()), 2)) != kColours.end();
  };
  if (!is_colour(at)) return std::nullopt;
  return at + (is_colour(at + 2) ? 4 : 2);
}

bool are_core_colours(std::string_view text) {
  std::optional<std::size_t> at = behind_core(text, 0);
  while (at && *at < text.size() && text[*at] == '+') at = behind_core(text, *at + 1);
  return at == text.size();
}

constexpr const char* kV4Prefix = "(3[0-2]|[12]?[0-9])";
constexpr const char* kV6Prefix = "(12[0-8]|1[01][0-9]|[1-9]?[0-9])";
constexpr const char* kEnd = "(?![\\s\\S])";

/// IPv4address of RFC 3986 section 3.2.2.
std::string v4_pattern() {
  const std::string number = "(25[0-5]|2[0-4][0-9]|1[0-9]{2}|[1-9]?[0-9])";
  return fmt::format("{0}(\\.{0}){{3}}", number);
}

/// IPv6address of RFC 3986 section 3.2.2, an alternative for each number of groups behind "::".
std::string v6_pattern() {
  const std::string group = "[0-9A-Fa-f]{1,4}";
  const std::string last_two = fmt::format("({0}:{0}|{1})", group, v4_pattern());
  std::string out = fmt::format("({0}:){{6}}{1}|::({0}:){{5}}{1}|({0})?::({0}:){{4}}{1}", group, last_two);
  for (int before = 1; before <= 4; ++before) {
    out += fmt::format("|(({0}:){{0,{1}}}{0})?::({0}:){{{2}}}{3}", group, before, 4 - before, last_two);
  }
  return out + fmt::format("|(({0}:){{0,5}}{0})?::{0}|(({0}:){{0,6}}{0})?::", group);
}

std::string colours_pattern() {
  std::string one;
  for (const std::string_view colour : kColours) one += (one.empty() ? "" : "|") + std::string(colour);
  return fmt::format("^({0}){{1,2}}(\\+({0}){{1,2}})*{1}", one, kEnd);
}

std::string address_pattern() { return fmt::format("^({}|{}){}", v4_pattern(), v6_pattern(), kEnd); }

std::string network_pattern() {
  return fmt::format("^({}/{}|({})/{}){}", v4_pattern(), kV4Prefix, v6_pattern(), kV6Prefix, kEnd);
}

}  // namespace

std::optional<Message> form_fault(std::string_view text, TextForm form, std::string_view key) {
  const std::string found(text);
  const std::string name(key);
  switch (form) {
    case TextForm::line:
    case TextForm::lines: return std::nullopt;
    case TextForm::identifier:
      if (well_formed_id(text, IdForm::object)) return std::nullopt;
      return say::site_not_an_identifier(found, name);
    case TextForm::sha256:
      if (is_sha256(text)) return std::nullopt;
      return say::site_not_a_hash(found, name);
    case TextForm::core_colours:
      if (are_core_colours(text)) return std::nullopt;
      return say::site_not_core_colours(found, name);
    case TextForm::ip_address: return address_fault(found, name);
    case TextForm::ip_network: break;
  }
  return network_fault(found, name);
}

const std::string& pattern_of(TextForm form) {
  static const std::array<std::string, 7> patterns = {text_pattern("\\u0000-\\u001f"),
                                                      text_pattern("\\u0000-\\u0009\\u000b-\\u001f"),
                                                      kId,
                                                      kSha256,
                                                      address_pattern(),
                                                      network_pattern(),
                                                      colours_pattern()};
  return patterns[static_cast<std::size_t>(form)];
}

}  // namespace zoneproof::site
