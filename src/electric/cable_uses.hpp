#pragma once
#include <map>
#include <string>
#include <vector>

#include "site/model.hpp"

/// What the cores of the cables of a site are used for.
namespace zoneproof::electric {

/// One use of cores of a cable. `from` and `to` are the ids of what it joins; empty: not known.
struct CableUse {
  enum class Kind { feed, loop, shared_return, trigger, arming, bond, data };
  Kind kind = Kind::feed;
  std::string from, to;
  std::string of;       ///< id of what is fed, of the zone, shared return, trigger, unit, bond or data link
  long long cores = 0;  ///< conductors, before cores in parallel; 0: all of a data cable, or a pair counted already
};
const char* word(CableUse::Kind kind);

/// By cable, every use that the file gives one; what hangs on a cable twice is there twice. Cost: linear in the site.
std::map<std::string, std::vector<CableUse>> cable_uses(const site::Site& site);

}  // namespace zoneproof::electric
