#pragma once
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "site/findings.hpp"
#include "site/model.hpp"

/// What the cores of the cables of a site are used for: the one place that counts them.
namespace zoneproof::site {

/// One use of cores of a cable. `from` and `to` are the ids of what it joins; empty: not known.
struct CableUse {
  enum class Kind { feed, loop, shared_return, trigger, arming, bond, data };
  Kind kind = Kind::feed;
  std::string from, to;
  std::string of;  ///< id of what is fed, of the zone, shared return, trigger, unit, bond or data link
  /// Conductors, before cores in parallel, where nothing shares what the file does not say that it shares; 0: all of a
  /// data cable, a screen, or cores that are counted already.
  long long cores = 0;
  /// Those of them that it takes for certain: without a way back, a minus or a wire that it may share with another use.
  long long at_least = 0;
};
const char* word(CableUse::Kind kind);

/// By cable, every use that the file gives one; what hangs on a cable twice is there twice. Cost: linear in the site.
std::map<std::string, std::vector<CableUse>> cable_uses(const Site& site);

/// The conductors of them together.
long long conductors(const std::vector<CableUse>& uses);

/// Cores that `uses` take of `cable`; nothing where it is not known how many cores make one conductor of it.
std::optional<long long> cores_taken(const Cable& cable, const std::vector<CableUse>& uses);

/// Cores of the cable by its part; nothing where unknown.
std::optional<long long> cores_there(const Site& site, const Cable& cable);

/// No cable carries more conductors than it has cores: an error where it certainly would, a warning where it would if
/// nothing is shared in it. Nothing is said of a cable whose cores nobody has counted.
void check_cores(const Site& site, Findings& findings);

}  // namespace zoneproof::site
