#include "electric/fault_dark.hpp"

#include <algorithm>

#include "electric/element_name.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

constexpr double kSecondsPerMinute = 60.0, kMinutesPerHour = 60.0;

/// A time that somebody waits, in a unit that he would say.
Measure in_words(double seconds) {
  const double minutes = seconds / kSecondsPerMinute;
  if (minutes < 1.0) return {seconds, "s"};
  return minutes < 2.0 * kMinutesPerHour ? Measure{minutes, "min"} : Measure{minutes / kMinutesPerHour, "h"};
}

class ContactsOf {
 public:
  ContactsOf(const site::Site& site, const circuit::Network& network) : site_(site), network_(network) {}

  DarkContacts run(const WiredContacts& wired, const Dark& dark) {
    std::vector<const WiredContact*> contacts;
    for (const std::string& id : dark.detectors) {
      const auto found = wired.find(id);
      if (found == wired.end()) continue;
      for (const WiredContact& contact : found->second) contacts.push_back(&contact);
    }
    std::sort(contacts.begin(), contacts.end(), [](const auto* a, const auto* b) { return a->place < b->place; });
    for (const WiredContact* contact : contacts) one(*contact);
    for (const std::string& id : dark.detectors) {
      if (wired_.count(id) == 0) chain::add_gap(made_.gaps, {"/detectors/" + id, "later_issue"});
    }
    return std::move(made_);
  }

 private:
  void one(const WiredContact& contact) {
    const site::ContactSpec* spec = site::contact_spec(site_, *contact.detector, contact.contact);
    const auto index = network_.find_element(contact.element);
    if (spec == nullptr || !index) return;
    wired_.insert(contact.detector->id);
    if (!spec->without_supply.known()) {
      chain::add_gap(made_.gaps, {spec->without_supply.pointer, "unknown"});
    } else if (!spec->without_supply.is(site::WithoutSupply::unaffected)) {
      const bool closed = spec->without_supply.is(site::WithoutSupply::closed);
      made_.changes.push_back(circuit::Change::of(*index, closed ? closed_ohm(*spec) : open_ohm(*spec)));
    }
  }

  static double closed_ohm(const site::ContactSpec& spec) {
    return spec.closed_ohm.known() ? spec.closed_ohm.nominal : 0.0;
  }
  static double open_ohm(const site::ContactSpec& spec) {
    return spec.open_ohm.known() ? spec.open_ohm.nominal : circuit::infinite;
  }

  const site::Site& site_;
  const circuit::Network& network_;
  DarkContacts made_;
  std::set<std::string> wired_;  ///< detectors with a contact in the network
};

}  // namespace

Dark newly_dark(const site::Site& site, const Unsupplied& before, const Unsupplied& now) {
  Dark dark;
  for (const std::string& id : now.all) {
    const bool unit = site.units.count(id) != 0;
    if (before.all.count(id) != 0 || (!unit && site.detectors.count(id) == 0)) continue;
    if (now.too_high.count(id) != 0) {
      dark.gaps.push_back({(unit ? "/units/" : "/detectors/") + id, "later_issue"});
    } else {
      (unit ? dark.units : dark.detectors).insert(id);
    }
  }
  return dark;
}

bool tells_nothing(const site::Site& site, const Dark& dark, const site::Ref& detector, const std::string& contact) {
  if (dark.detectors.count(detector.id) == 0) return false;
  const site::ContactSpec* spec = site::contact_spec(site, detector, contact);
  return spec != nullptr && spec->without_supply.known() && !spec->without_supply.is(site::WithoutSupply::unaffected);
}

WiredContacts wired_contacts(const site::Site& site) {
  WiredContacts wired;
  std::size_t place = 0;
  const auto add = [&](const site::Ref& detector, const std::string& contact, std::string element) {
    wired[detector.id].push_back({place++, &detector, contact, std::move(element)});
  };
  for (const auto& [zone, entry] : site.zones) {
    for (const auto& [id, contact] : entry.loop.contacts)
      add(contact.detector, contact.contact, part_name(zone, "contact", id));
  }
  for (const auto& [id, trigger] : site.triggers) {
    if (site::has_wire(trigger)) add(trigger.detector, trigger.contact, part_name(id, "contact"));
  }
  return wired;
}

DarkContacts dark_contacts(const site::Site& site, const WiredContacts& wired, const circuit::Network& network,
                           const Dark& dark) {
  return dark.detectors.empty() ? DarkContacts{} : ContactsOf(site, network).run(wired, dark);
}

Missed missed_units(const site::Site& site, const Dark& dark, const Unsupplied& unsupplied) {
  Missed missed;
  const auto unknown = [&](const std::string& pointer) { chain::add_gap(missed.gaps, {pointer, "unknown"}); };
  for (const std::string& id : dark.units) {
    const site::Unit& unit = site.units.at(id);
    if (!unit.missed_by.known()) {
      unknown(unit.missed_by.pointer);
    } else if (unit.missed_by.is(site::MissedBy::station)) {
      if (!unit.poll_s.known()) {
        unknown(unit.poll_s.pointer);
      } else {
        missed.noticed.push_back(say::notice_station_misses(thing_words(site, id), in_words(unit.poll_s.high)));
      }
    } else if (unit.missed_by.is(site::MissedBy::zone)) {
      const auto zone = site.zones.find(unit.missed_zone.id);
      if (zone == site.zones.end()) {
        unknown(unit.missed_zone.pointer);
      } else if (unsupplied.all.count(zone->second.panel.id) == 0) {
        missed.noticed.push_back(say::notice_zone_misses(zone_words(site, zone->first), thing_words(site, id)));
      }
    }
  }
  return missed;
}

}  // namespace zoneproof::electric
