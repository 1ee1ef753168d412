#include "proof/terminals.hpp"

#include <optional>

#include "messages/proof.hpp"
#include "proof/rule.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

namespace {

using site::Site;
using site::Zone;

Rule rule(const std::string& zone, const char* check) {
  return {zone, chain::Link::loop, check, say::rule_of_terminals()};
}

/// Wireless and addressable zones have a number in the panel, and no terminal.
bool without_terminal(const Zone& zone) { return zone.medium.known() && !zone.medium.is(site::Medium::wired); }

/// How many terminals the zone's panel has, or where it is missing what tells.
struct Terminals {
  std::optional<long long> inputs;
  std::string missing;
};
Terminals terminals_of(const Site& site, const Zone& zone) {
  const auto panel = site.panels.find(zone.panel.id);
  if (panel == site.panels.end()) return {std::nullopt, zone.panel.pointer};
  const site::PanelSpec* spec = site::panel_spec(site, zone.panel.id);
  if (spec == nullptr) return {std::nullopt, panel->second.part.pointer};
  return {spec->inputs.value, spec->inputs.pointer};
}

bool share_a_pair(const std::string& a, const Zone& zone_a, const std::string& b, const Zone& zone_b) {
  return zone_a.doubled_with.id == b || zone_b.doubled_with.id == a;
}

/// The first datum of a zone without which it is not known on which terminal it is; null where it is known. Whether it
/// has one at all comes first.
const std::string* missing_of(const Zone& zone) {
  if (zone.panel.known() && zone.input.known()) return nullptr;
  if (!zone.medium.known()) return &zone.medium.pointer;
  return zone.panel.known() ? &zone.input.pointer : &zone.panel.pointer;
}

/// Whether the zone is on its terminal alone. Another whose terminal is not known may be on the same one.
chain::Evidence own(const Site& site, const std::string& id, const Zone& zone) {
  const Rule is_own = rule(id, "terminal_own");
  if (const std::string* missing = missing_of(zone)) return open_question(is_own, *missing);
  const std::string* may_share = nullptr;
  for (const auto& [other_id, other] : site.zones) {
    if (other_id == id || without_terminal(other) || share_a_pair(id, zone, other_id, other)) continue;
    const bool elsewhere = (other.panel.known() && other.panel.id != zone.panel.id) ||
                           (other.input.known() && other.input.value != zone.input.value);
    if (elsewhere) continue;
    const std::string* missing = missing_of(other);
    for (const Zone* one : {&zone, &other}) {
      if (missing == nullptr && !one->medium.known()) missing = &one->medium.pointer;
    }
    if (missing == nullptr) {
      return breaks(is_own, say::terminal_used_twice(*zone.input.value, site::name_or_id(other.name, other_id)));
    }
    may_share = missing;
  }
  return may_share == nullptr ? holds(is_own) : open_question(is_own, *may_share);
}

chain::Evidence exists(const Site& site, const std::string& id, const Zone& zone) {
  const Rule is_there = rule(id, "terminal_exists");
  if (const std::string* missing = missing_of(zone)) return open_question(is_there, *missing);
  const Terminals terminals = terminals_of(site, zone);
  if (!terminals.inputs) return open_question(is_there, terminals.missing);
  if (*zone.input.value >= 1 && *zone.input.value <= *terminals.inputs) return holds(is_there);
  if (!zone.medium.known()) return open_question(is_there, zone.medium.pointer);
  return breaks(is_there, say::no_such_terminal(*zone.input.value, zone.panel.id, *terminals.inputs));
}

}  // namespace

std::vector<chain::Evidence> check_terminals(const Site& site) {
  std::vector<chain::Evidence> all;
  for (const auto& [id, zone] : site.zones) {
    if (without_terminal(zone)) continue;
    all.push_back(own(site, id, zone));
    all.push_back(exists(site, id, zone));
  }
  return all;
}

}  // namespace zoneproof::proof
