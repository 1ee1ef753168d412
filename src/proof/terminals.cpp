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

std::optional<long long> inputs_of(const Site& site, const Zone& zone) {
  const auto panel = site.panels.find(zone.panel.id);
  const site::Part* part = panel == site.panels.end() ? nullptr : site::part_of(site, panel->second.part);
  if (part == nullptr) return std::nullopt;
  const auto& spec = part->panel ? part->panel : part->expander;
  return spec ? spec->inputs.value : std::nullopt;
}

bool share_a_pair(const std::string& a, const Zone& zone_a, const std::string& b, const Zone& zone_b) {
  return zone_a.doubled_with.id == b || zone_b.doubled_with.id == a;
}

/// What another zone on the same terminal means for this one; nothing where there is none.
std::optional<chain::Evidence> shared(const Site& site, const std::string& id, const Zone& zone) {
  for (const auto& [other_id, other] : site.zones) {
    if (other_id == id || without_terminal(other) || other.panel.id != zone.panel.id) continue;
    if (other.input.value != zone.input.value || share_a_pair(id, zone, other_id, other)) continue;
    for (const Zone* one : {&zone, &other}) {
      if (!one->medium.known()) return open_question(rule(id, "terminal_own"), one->medium.pointer);
    }
    return breaks(rule(id, "terminal_own"),
                  say::terminal_used_twice(*zone.input.value, site::name_or_id(other.name, other_id)));
  }
  return std::nullopt;
}

}  // namespace

std::vector<chain::Evidence> check_terminals(const Site& site) {
  std::vector<chain::Evidence> all;
  for (const auto& [id, zone] : site.zones) {
    if (without_terminal(zone) || !zone.panel.known() || !zone.input.known()) continue;
    std::optional<chain::Evidence> other = shared(site, id, zone);
    all.push_back(other ? *std::move(other) : holds(rule(id, "terminal_own")));
    const std::optional<long long> inputs = inputs_of(site, zone);
    if (!inputs) continue;
    const Rule exists = rule(id, "terminal_exists");
    if (*zone.input.value >= 1 && *zone.input.value <= *inputs) {
      all.push_back(holds(exists));
    } else if (!zone.medium.known()) {
      all.push_back(open_question(exists, zone.medium.pointer));
    } else {
      all.push_back(breaks(exists, say::no_such_terminal(*zone.input.value, zone.panel.id, *inputs)));
    }
  }
  return all;
}

}  // namespace zoneproof::proof
