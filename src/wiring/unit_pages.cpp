#include "wiring/unit_pages.hpp"

#include <algorithm>
#include <limits>

#include "base/message.hpp"
#include "messages/wiring.hpp"
#include "site/relations.hpp"
#include "wiring/loop_network.hpp"
#include "wiring/rows.hpp"

namespace zoneproof::wiring {

namespace {

using site::TriggerSource;

bool from_contact(const site::Trigger& trigger) {
  return trigger.source.is(TriggerSource::spare_contact) || trigger.source.is(TriggerSource::receiver_relay);
}

/// The zone whose loop a trigger taps; empty where it taps none.
std::string tapped(const site::Site& site, const site::Trigger& trigger) {
  return trigger.source.is(TriggerSource::loop_tap) ? site::tapped_zone(site, trigger) : std::string();
}

std::vector<std::string> in_order(std::vector<std::string> ids) {
  std::sort(ids.begin(), ids.end(), before);
  return ids;
}

/// A unit's triggers by their inputs; without one last.
std::vector<std::string> triggers_in_order(const site::Site& site, const std::string& unit) {
  std::vector<std::string> ids = in_order(site::triggers_of_unit(site, unit));
  const auto input = [&](const std::string& id) {
    const site::Trigger& trigger = site.triggers.at(id);
    return site::has_wire(trigger) ? trigger.input.value.value_or(std::numeric_limits<long long>::max() - 1)
                                   : std::numeric_limits<long long>::max();
  };
  std::stable_sort(ids.begin(), ids.end(), [&](const auto& a, const auto& b) { return input(a) < input(b); });
  return ids;
}

std::vector<std::string> bonds_of(const site::Site& site, const std::string& unit) {
  const std::string supply = site::supply_of(site, site.units.at(unit).feed);
  std::vector<std::string> ids;
  for (const auto& [id, bond] : site.bonds)
    if (bond.a.id == unit || bond.b.id == unit || (!supply.empty() && (bond.a.id == supply || bond.b.id == supply)))
      ids.push_back(id);
  return in_order(std::move(ids));
}

Rows unit_rows(const Context& context, const std::string& unit) {
  const site::Site& site = context.site;
  Rows rows;
  rows.push_back(feed_row(context, unit));
  for (const std::string& bond : bonds_of(site, unit)) rows.push_back(bond_row(context, bond));
  if (!site.units.at(unit).arming.output.none()) rows.push_back(arming_row(context, unit));
  const std::vector<std::string> triggers = triggers_in_order(site, unit);
  std::set<std::string> drawn;
  for (const std::string& id : triggers) {
    const site::Trigger& trigger = site.triggers.at(id);
    const std::string zone = tapped(site, trigger);
    if (!zone.empty()) {
      if (!drawn.insert(zone).second) continue;
      std::vector<std::string> all;
      std::copy_if(triggers.begin(), triggers.end(), std::back_inserter(all),
                   [&](const std::string& other) { return tapped(site, site.triggers.at(other)) == zone; });
      rows.push_back(loop_row(context, zone, all));
    } else if (from_contact(trigger)) {
      rows.push_back(contact_row(context, id));
    } else if (site::has_wire(trigger)) {
      rows.push_back(output_row(context, id));
    } else {
      rows.push_back(wireless_row(context, id));
    }
  }
  return rows;
}

/// Wired zones with a loop of their own that no trigger of a unit taps.
std::vector<std::string> untapped(const site::Site& site) {
  std::set<std::string> taken;
  for (const auto& [id, trigger] : site.triggers)
    if (site.units.count(trigger.unit.id) != 0) taken.insert(tapped(site, trigger));
  std::vector<std::string> ids;
  for (const auto& [id, zone] : site.zones) {
    const bool wired = !zone.medium.known() || zone.medium.is(site::Medium::wired);
    const bool own = site::loop_owner(site, id) == id && (wired || !zone.loop.contacts.empty());
    if (own && taken.count(id) == 0) ids.push_back(id);
  }
  return in_order(std::move(ids));
}

std::vector<std::string> key(const Context& context, bool unit) {
  std::vector<std::string> says = {text(say::wiring_key()), text(say::wiring_key_contacts())};
  if (unit) says.push_back(text(say::wiring_key_relay()));
  says.push_back(text(say::wiring_key_tag()));
  says.push_back(text(say::wiring_key_part()));
  if (unit) says.push_back(text(say::wiring_key_poles()));
  says.push_back(text(say::wiring_key_colours()));
  if (!context.options.readings_are.empty()) says.push_back(context.options.readings_are);
  return says;
}

}  // namespace

RowSet rows_of_unit(const Context& context, const std::string& unit) {
  RowSet set;
  set.id = "wiring-" + unit;
  set.title = text(say::wiring_title_unit(site::called(context.site.units, unit)));
  set.key = key(context, true);
  set.rows = [unit](const Context& own) { return unit_rows(own, unit); };
  set.things = {"unit:" + unit};
  return set;
}

RowSet rows_of_untapped(const Context& context) {
  RowSet set;
  set.id = "wiring-loops";
  set.title = text(say::wiring_title_loops());
  set.key = key(context, false);
  const std::vector<std::string> zones = untapped(context.site);
  set.rows = [zones](const Context& own) {
    Rows rows;
    for (const std::string& zone : zones) rows.push_back(loop_row(own, zone, {}));
    return rows;
  };
  return set;
}

std::map<std::string, std::string> feed_homes(const site::Site& site) {
  std::map<std::string, std::string> homes;
  const auto settle = [&](const std::string& detector, const std::string& home) {
    const auto found = site.detectors.find(detector);
    if (found != site.detectors.end() && found->second.feed.from.known()) homes.emplace(detector, home);
  };
  std::vector<std::string> zones, triggers;
  for (const auto& [id, zone] : site.zones)
    if (site::loop_owner(site, id) == id) zones.push_back(id);
  for (const std::string& id : in_order(zones))
    for (const std::string& detector : detectors_on_loop(site.zones.at(id).loop)) settle(detector, "zone-" + id);
  for (const auto& [id, trigger] : site.triggers)
    if (from_contact(trigger) && site.units.count(trigger.unit.id) != 0) triggers.push_back(id);
  for (const std::string& id : in_order(triggers)) settle(site.triggers.at(id).detector.id, "trigger-" + id);
  return homes;
}

}  // namespace zoneproof::wiring
