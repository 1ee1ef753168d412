#include "remedies/site_change.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "electric/excerpt.hpp"
#include "electric/levels.hpp"
#include "electric/naming.hpp"
#include "electric/threshold.hpp"
#include "electric/trigger_check.hpp"
#include "messages/remedies.hpp"
#include "site/cable_uses.hpp"
#include "site/relations.hpp"
#include "site/shelf.hpp"

namespace zoneproof::remedies {

using site::Site;
using site::Value;

Value stated(Value value) {
  value.stated_origin = value.origin;
  value.pointer.clear();
  return value;
}

Value sum(const Value& a, const Value& b) {
  if (a.unknown() || b.unknown()) return {};
  if (a.none() || b.none()) return stated(a.none() ? b : a);
  return Value::between(a.low + b.low, a.nominal + b.nominal, a.high + b.high, std::max(a.origin, b.origin));
}

bool take_part(Site& site, const std::string& id) {
  const std::optional<site::Part> copy = site::part_for_site(id);
  if (!copy) return false;
  const auto [at, made] = site.parts.emplace(id, *copy);
  return made || at->second.shelf_hash == copy->shelf_hash;
}

namespace {

bool taken(const Site& site, const std::string& id) {
  const auto in = [&](const auto& collection) { return collection.count(id) != 0; };
  return in(site.rulebooks) || in(site.parts) || in(site.areas) || in(site.partitions) || in(site.cables) ||
         in(site.supplies) || in(site.batteries) || in(site.junctions) || in(site.panels) || in(site.detectors) ||
         in(site.loads) || in(site.zones) || in(site.shared_returns) || in(site.outputs) || in(site.units) ||
         in(site.triggers) || in(site.bonds);
}

std::vector<ShelfResistor> read_resistors() {
  std::map<double, ShelfResistor> by_ohm;
  for (const auto& [id, part] : site::parts_shelf()) {
    if (!part.resistor || !part.resistor->resistance_ohm.known()) continue;
    const Value ohm = stated(part.resistor->resistance_ohm);  // in the site it stands where nobody else says so
    const auto [at, made] = by_ohm.emplace(ohm.nominal, ShelfResistor{id, ohm});
    if (!made && ohm.high - ohm.low < at->second.ohm.high - at->second.ohm.low) at->second = {id, ohm};
  }
  std::vector<ShelfResistor> all;
  for (auto& entry : by_ohm) all.push_back(std::move(entry.second));
  return all;
}

std::vector<std::string> read_batteries() {
  std::vector<std::pair<double, std::string>> found;
  for (const auto& [id, part] : site::parts_shelf()) {
    if (!part.battery || !part.battery->capacity_Ah.known() || part.origin != site::Origin::data_sheet) continue;
    found.emplace_back(part.battery->capacity_Ah.nominal, id);
  }
  std::sort(found.begin(), found.end());
  std::vector<std::string> ids;
  for (auto& entry : found) ids.push_back(std::move(entry.second));
  return ids;
}

std::vector<std::string> read_cables() {
  std::vector<std::tuple<double, long long, std::string>> found;
  for (const auto& [id, part] : site::parts_shelf()) {
    if (!part.cable || part.origin != site::Origin::standard || !part.cable->material.is(site::Material::copper) ||
        !part.cable->resistance_ohm_per_km.known())
      continue;
    found.emplace_back(-part.cable->resistance_ohm_per_km.high, part.cable->cores.value.value_or(0), id);
  }
  std::sort(found.begin(), found.end());
  std::vector<std::string> ids;
  for (const auto& entry : found) ids.push_back(std::get<std::string>(entry));
  return ids;
}

void set(Value& limit, std::optional<double> volts) {
  limit.replace_with(volts ? Value::exactly(*volts, site::Origin::data_sheet) : Value::absent());
}

}  // namespace

std::string fresh_id(const Site& site, const std::string& stem) {
  constexpr std::size_t room = 36;  // of the 40 that an id may have
  const std::string begin = stem.substr(0, room);
  if (!taken(site, begin)) return begin;
  for (int n = 2;; ++n) {
    std::string id = fmt::format("{}_{}", begin, n);
    if (!taken(site, id)) return id;
  }
}

site::Ref to(const std::string& id) {
  site::Ref ref;
  ref.id = id;
  return ref;
}

const std::vector<ShelfResistor>& shelf_resistors() {
  static const std::vector<ShelfResistor> all = read_resistors();
  return all;
}

const std::vector<std::string>& shelf_batteries() {
  static const std::vector<std::string> all = read_batteries();
  return all;
}

const std::vector<std::string>& shelf_cables() {
  static const std::vector<std::string> all = read_cables();
  return all;
}

namespace {

std::vector<site::CableUse> uses_of(const Site& site, const std::string& cable) {
  auto uses = site::cable_uses(site);
  const auto found = uses.find(cable);
  return found == uses.end() ? std::vector<site::CableUse>() : std::move(found->second);
}

}  // namespace

long long used_cores(const Site& site, const std::string& cable) { return site::conductors(uses_of(site, cable)); }

std::optional<long long> spare_cores(const Site& site, const std::string& cable) {
  const auto found = site.cables.find(cable);
  if (found == site.cables.end()) return std::nullopt;
  const std::optional<long long> there = site::cores_there(site, found->second);
  const std::optional<long long> taken = site::cores_taken(found->second, uses_of(site, cable));
  return there && taken ? std::optional(*there - *taken) : std::nullopt;
}

void take_off_loop(site::Trigger& trigger) {
  trigger.at_panel.id.clear();
  trigger.at_input.value = std::nullopt;
  trigger.series_ohm.replace_with(Value::absent());
  trigger.pulldown_ohm.replace_with(Value::absent());
}

void join_negatives(Site& site, const std::string& unit, const std::string& a, const std::string& b,
                    const std::string& cable) {
  site::Bond& bond = site.bonds[fresh_id(site, unit + "_negative")];
  bond.name = text(say::remedy_negative_cable(electric::thing_words(site, unit)));
  bond.kind.value = site::BondKind::wire;
  bond.a = to(a);
  bond.b = to(b);
  bond.cable = to(cable);
}

bool fit_setting(Site& site, const std::string& trigger) {
  const site::UnitSpec* spec = site::unit_spec(site, site.triggers.at(trigger).unit.id);
  if (spec == nullptr) return false;
  electric::LevelScope powered;
  powered.units = {electric::UnitCondition::powered};
  const std::string& zone = site.triggers.at(trigger).zone.id;
  const Site excerpt = electric::excerpt_of_zone(site, zone);
  const auto levels = electric::zone_levels(excerpt, zone, trigger, powered);
  const auto best = electric::best_range(electric::input_spans(site, levels), spec->input);
  if (!best || !(best->margin >= 0.0) || !std::isfinite(best->margin)) return false;
  for (const std::optional<double>& limit : {best->range.min_V, best->range.max_V}) {
    if (limit && !std::isfinite(*limit)) return false;  // levels without bounds: something is not known
  }
  site::InputSetting& setting = site.triggers.at(trigger).setting;
  if (!best->preset.empty()) {
    setting.preset = best->preset;
    return true;
  }
  set(setting.normal_min_V, best->range.min_V);
  set(setting.normal_max_V, best->range.max_V);
  for (Value* alarm : {&setting.alarm_min_V, &setting.alarm_max_V}) alarm->replace_with({});  // what is not normal
  return true;
}

}  // namespace zoneproof::remedies
