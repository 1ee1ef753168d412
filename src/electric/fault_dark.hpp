#pragma once
#include <map>
#include <set>
#include <string>
#include <vector>

#include "base/message.hpp"
#include "chain/evidence.hpp"
#include "circuit/variation.hpp"
#include "electric/fault_watch.hpp"

/// Inside of the look at faults: what a fault leaves without supply, what the contacts of a detector do then, and who
/// misses a unit.
namespace zoneproof::electric {

/// What has supply without the fault and none with it.
struct Dark {
  std::set<std::string> detectors, units;
  /// What has more than its highest voltage: what it does then, no field of the file says.
  std::vector<chain::Gap> gaps;

  bool nothing() const { return detectors.empty() && units.empty() && gaps.empty(); }
};
Dark newly_dark(const site::Site& site, const Unsupplied& before, const Unsupplied& now);

/// Whether a contact of a detector that is dark certainly tells nothing any more.
bool tells_nothing(const site::Site& site, const Dark& dark, const site::Ref& detector, const std::string& contact);

/// Where the contacts of each detector stand, found once for many faults. The site is referred to.
struct WiredContact {
  std::size_t place = 0;  ///< in the order of zones, then triggers
  const site::Ref* detector = nullptr;
  std::string contact, element;
};
using WiredContacts = std::map<std::string, std::vector<WiredContact>>;  ///< by detector
WiredContacts wired_contacts(const site::Site& site);

/// The contacts of dark detectors, on loops and triggers, as they stand in `network`; those that need no supply are
/// left out. A gap names a contact of which it is not known, and a detector whose contacts stand nowhere.
struct DarkContacts {
  std::vector<circuit::Change> changes;
  std::vector<chain::Gap> gaps;
};
DarkContacts dark_contacts(const site::Site& site, const WiredContacts& wired, const circuit::Network& network,
                           const Dark& dark);

/// Who misses the dark units. A zone whose panel is among `unsupplied` shows nothing.
struct Missed {
  std::vector<Message> noticed;
  std::vector<chain::Gap> gaps;
};
Missed missed_units(const site::Site& site, const Dark& dark, const Unsupplied& unsupplied);

}  // namespace zoneproof::electric
