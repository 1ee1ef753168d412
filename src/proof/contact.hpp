#pragma once
#include <optional>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

/// What a contact of a detector reports, whose it is and what else uses it, as the site file tells. Nothing is read out
/// of a name. Pure; cost linear in zones, contacts and triggers.
namespace zoneproof::proof {

/// One contact at one place where it is used.
struct UsedContact {
  const site::Ref& detector;
  const std::string& id;  ///< in the detector's part
  std::string place;      ///< pointer of the trigger or of the loop's entry
};

/// What a contact reports: by its part, or by its programming where the part says that it is programmable.
struct Reported {
  std::optional<site::ContactRole> what;
  bool programmable = false;
  std::string missing;  ///< where `what` is not known: the datum that would tell
};

/// Of a contact whose detector the site holds and whose id is known. A part that is unknown, or without such a contact,
/// is asked for at the detector.
Reported reported_by(const site::Site& site, const UsedContact& contact);

/// The zone that a programmable contact is programmed to follow; `missing` where that is not stated.
struct FollowedZone {
  std::string zone;
  std::string missing;
};
FollowedZone followed_zone(const site::Site& site, const UsedContact& contact);

/// Whether what a contact reports is the alarm of `zone`: tamper is that of a tamper zone, mask and fault of a
/// technical one. Nothing where it depends on the zone's type and that is unknown.
std::optional<bool> is_alarm_of(site::ContactRole reported, const site::Zone& zone);

/// Whose a contact on the loop of zone `owner` is: the zone it names, else the owner. Empty where two zones share the
/// pair and it names none.
std::string zone_of_contact(const site::Site& site, const std::string& owner, const site::LoopContact& contact);

/// What else uses the same contact.
struct OtherUse {
  enum class By { nobody, loop, trigger } by = By::nobody;
  std::string zone;  ///< whose loop or trigger that is
  std::string
      missing;  ///< nobody certainly: what may be the same contact, if anything; a datum without which it is open
};
OtherUse other_use(const site::Site& site, const UsedContact& contact);

/// Whether the trigger takes its signal from a contact: a spare one of a detector, or the relay of a receiver.
bool uses_contact(const site::Trigger& trigger);

}  // namespace zoneproof::proof
