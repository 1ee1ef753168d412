#include "proof/contact.hpp"

#include <algorithm>

#include "base/json_pointer.hpp"
#include "site/relations.hpp"

namespace zoneproof::proof {

namespace {

using site::ContactReports;
using site::ContactRole;
using site::Site;

std::string program_pointer(const UsedContact& contact, const char* key) {
  return "/detectors/" + contact.detector.id + "/programmed/" + contact.id + "/" + key;
}

const site::ContactProgram* program_of(const Site& site, const UsedContact& contact) {
  const auto& programmed = site.detectors.at(contact.detector.id).programmed;
  const auto found = programmed.find(contact.id);
  return found == programmed.end() ? nullptr : &found->second;
}

Reported by_program(const Site& site, const UsedContact& contact) {
  const site::ContactProgram* program = program_of(site, contact);
  if (program == nullptr || !program->reports.known()) return {std::nullopt, true, program_pointer(contact, "reports")};
  return {program->reports.value, true, ""};
}

/// One entry of a loop beside the contact.
void compare(const site::LoopContact& entry, const std::string& here, const std::string& zone,
             const UsedContact& contact, OtherUse& use) {
  const bool detector = entry.detector.id == contact.detector.id;
  if (detector && entry.contact == contact.id) {
    use.by = OtherUse::By::loop;
    use.zone = zone;
  } else if (entry.detector.unknown() && (entry.contact.empty() || entry.contact == contact.id)) {
    use.missing = entry.detector.pointer;
  } else if (detector && entry.contact.empty()) {
    use.missing = pointer_child(here, "contact");
  }
}

void compare(const site::Trigger& other, const std::string& here, const UsedContact& contact, OtherUse& use) {
  if (other.source.known() && !uses_contact(other)) return;
  const bool detector = other.detector.id == contact.detector.id;
  const bool same = other.contact == contact.id;
  if (uses_contact(other) && detector && same) {
    use.by = OtherUse::By::trigger;
    use.zone = other.zone.id;
    return;
  }
  if (!(detector || other.detector.unknown()) || !(same || other.contact.empty())) return;
  if (!other.source.known()) {
    if (detector || same) use.missing = other.source.pointer;  // else it says nothing of a contact at all
  } else {
    use.missing = other.detector.unknown() ? other.detector.pointer : pointer_child(here, "contact");
  }
}

}  // namespace

bool uses_contact(const site::Trigger& trigger) {
  return trigger.source.is(site::TriggerSource::spare_contact) ||
         trigger.source.is(site::TriggerSource::receiver_relay);
}

Reported reported_by(const Site& site, const UsedContact& contact) {
  const site::ContactSpec* spec = site::contact_spec(site, contact.detector, contact.id);
  if (spec == nullptr) return {std::nullopt, false, site.detectors.at(contact.detector.id).part.pointer};
  if (!spec->reports.known()) return {std::nullopt, false, spec->reports.pointer};
  switch (*spec->reports.value) {
    case ContactReports::alarm: return {ContactRole::alarm, false, ""};
    case ContactReports::tamper: return {ContactRole::tamper, false, ""};
    case ContactReports::mask: return {ContactRole::mask, false, ""};
    case ContactReports::fault: return {ContactRole::fault, false, ""};
    case ContactReports::programmable: break;
  }
  return by_program(site, contact);
}

FollowedZone followed_zone(const Site& site, const UsedContact& contact) {
  const site::ContactProgram* program = program_of(site, contact);
  if (program == nullptr || !program->zone.known()) return {"", program_pointer(contact, "zone")};
  return {program->zone.id, ""};
}

std::optional<bool> is_alarm_of(ContactRole reported, const site::Zone& zone) {
  if (reported == ContactRole::alarm) return true;
  if (!zone.type.known()) return std::nullopt;
  return zone.type.is(reported == ContactRole::tamper ? site::ZoneType::tamper : site::ZoneType::technical);
}

std::string zone_of_contact(const Site& site, const std::string& owner, const site::LoopContact& contact) {
  if (contact.zone.known()) return contact.zone.id;
  const bool shared = std::any_of(site.zones.begin(), site.zones.end(), [&](const auto& entry) {
    return entry.first != owner && entry.second.doubled_with.id == owner;
  });
  return shared ? std::string() : owner;
}

OtherUse other_use(const Site& site, const UsedContact& contact) {
  OtherUse use;
  for (const auto& [zone_id, zone] : site.zones) {
    const std::string contacts = "/zones/" + zone_id + "/loop/contacts";
    for (const auto& [id, entry] : zone.loop.contacts) {
      const std::string here = pointer_child(contacts, id);
      if (here != contact.place) compare(entry, here, zone_id, contact, use);
      if (use.by != OtherUse::By::nobody) return use;
    }
  }
  for (const auto& [id, other] : site.triggers) {
    const std::string here = "/triggers/" + id;
    if (here != contact.place) compare(other, here, contact, use);
    if (use.by != OtherUse::By::nobody) return use;
  }
  return use;
}

}  // namespace zoneproof::proof
