#include "proof/loop_contact.hpp"

#include <optional>

#include "base/json_pointer.hpp"
#include "messages/proof.hpp"
#include "proof/contact.hpp"
#include "proof/rule.hpp"
#include "site/relations.hpp"
#include "site/words.hpp"

namespace zoneproof::proof {

namespace {

using site::ContactRole;
using site::LoopContact;
using site::Site;

/// What was found of the contacts of one loop under one check: a fault of one breaks it, whatever is open of another.
struct Found {
  std::optional<Message> fault;
  std::vector<chain::Gap> gaps;

  void lacks(const std::string& pointer) { chain::add_gap(gaps, {pointer, "unknown"}); }
  void breaks(Message says) {
    if (!fault) fault = std::move(says);
  }
};

chain::Evidence verdict_of(const Rule& rule, Found found) {
  if (found.fault) return breaks(rule, std::move(*found.fault));
  if (found.gaps.empty()) return holds(rule);
  chain::Evidence evidence = open_question(rule, "");
  evidence.gaps = std::move(found.gaps);
  return evidence;
}

/// The contact of an entry; nothing where it is not known which one it is.
std::optional<UsedContact> contact_of(const Site& site, const LoopContact& entry, const std::string& here,
                                      Found& found) {
  if (site.detectors.count(entry.detector.id) == 0) {
    found.lacks(entry.detector.pointer);
  } else if (entry.contact.empty()) {
    found.lacks(here + "/contact");
  } else {
    return UsedContact{entry.detector, entry.contact, here};
  }
  return std::nullopt;
}

void own(const Site& site, const std::string& owner, const UsedContact& contact, Found& found) {
  const OtherUse use = other_use(site, contact);
  const std::string detector = site::called(site.detectors, contact.detector.id);
  switch (use.by) {
    case OtherUse::By::loop:
      return found.breaks(
          use.zone == owner ? say::loop_contact_entered_twice(contact.id, detector)
                            : say::loop_contact_in_two_loops(contact.id, detector, site::called(site.zones, use.zone)));
    case OtherUse::By::trigger:
      return found.breaks(say::loop_contact_triggers_too(contact.id, detector, site::called(site.zones, use.zone)));
    case OtherUse::By::nobody: break;
  }
  if (!use.missing.empty()) found.lacks(use.missing);
}

/// An alarm contact is that of the zone that it is entered for: by the programming of a receiver, or by what is said of
/// its detector.
void of_its_zone(const Site& site, const std::string& zone, const LoopContact& entry, const UsedContact& contact,
                 bool programmable, Found& found) {
  const std::string& stated = site.detectors.at(contact.detector.id).zone.id;
  const FollowedZone follows = programmable ? followed_zone(site, contact) : FollowedZone{stated, ""};
  if (!follows.missing.empty()) return found.lacks(follows.missing);
  if (follows.zone.empty() || follows.zone == zone) return;
  if (zone.empty()) return found.lacks(entry.zone.pointer);
  found.breaks(say::loop_contact_of_other_zone(contact.id, site::called(site.detectors, contact.detector.id),
                                               site::called(site.zones, follows.zone)));
}

void role(const Site& site, const std::string& owner, const LoopContact& entry, const UsedContact& contact,
          Found& found) {
  const Reported reported = reported_by(site, contact);
  if (!entry.role.known()) found.lacks(entry.role.pointer);
  if (!reported.what) found.lacks(reported.missing);
  if (!entry.role.known() || !reported.what) return;
  const std::string zone = zone_of_contact(site, owner, entry);
  const bool alarm = entry.role.is(ContactRole::alarm);
  std::optional<bool> fits = entry.role.is(*reported.what);
  if (alarm && !*fits) {
    if (zone.empty()) return found.lacks(entry.zone.pointer);
    const site::Zone& whose = site.zones.at(zone);
    fits = is_alarm_of(*reported.what, whose);
    if (!fits) return found.lacks(whose.type.pointer);
  }
  if (!*fits) {
    return found.breaks(say::loop_contact_reports_other(contact.id, site::called(site.detectors, contact.detector.id),
                                                        std::string(word_of(*entry.role.value)),
                                                        std::string(word_of(*reported.what))));
  }
  if (alarm) of_its_zone(site, zone, entry, contact, reported.programmable, found);
}

void check_loop(const Site& site, const std::string& zone, const std::string& owner,
                std::vector<chain::Evidence>& all) {
  const site::Loop& loop = site.zones.at(owner).loop;
  Found owns, roles;
  const std::string contacts = "/zones/" + owner + "/loop/contacts";
  for (const auto& [id, entry] : loop.contacts) {
    const std::string here = pointer_child(contacts, id);
    if (const auto contact = contact_of(site, entry, here, owns)) own(site, owner, *contact, owns);
    if (const auto contact = contact_of(site, entry, here, roles)) role(site, owner, entry, *contact, roles);
  }
  if (!loop.contacts_complete.yes()) {
    for (Found* found : {&owns, &roles})
      chain::add_gap(found->gaps, {loop.contacts_complete.pointer, "incomplete_list"});
  }
  const auto rule = [&](const char* check) {
    return Rule{zone, chain::Link::loop, check, say::rule_of_loop_contacts()};
  };
  all.push_back(verdict_of(rule("loop_contact_own"), std::move(owns)));
  all.push_back(verdict_of(rule("loop_contact_role"), std::move(roles)));
}

}  // namespace

std::vector<chain::Evidence> check_loop_contacts(const Site& site) {
  std::vector<chain::Evidence> all;
  for (const auto& [id, zone] : site.zones) {
    if (zone.medium.known() && !zone.medium.is(site::Medium::wired)) continue;
    const std::string owner = site::loop_owner(site, id);
    if (!owner.empty()) check_loop(site, id, owner, all);
  }
  return all;
}

}  // namespace zoneproof::proof
