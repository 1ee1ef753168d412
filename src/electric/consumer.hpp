#pragma once
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::electric {

/// Something that is fed and has a voltage range to live in: panel, expander, detector, unit or other load.
struct Consumer {
  std::string id;
  const site::Feed* feed = nullptr;
  const site::Value* min_V = nullptr;  ///< null where its part is unknown
  const site::Value* max_V = nullptr;
  std::string part;              ///< id of the part
  std::string part_pointer;      ///< where the reference to it stands
  const char* margin_rule = "";  ///< rulebook entry of the margin asked for
  chain::Link link = chain::Link::deliver;
};

/// All consumers of the site, by id. Detectors that need no supply are left out.
std::vector<Consumer> consumers(const site::Site& site);

/// Whether the feed of `consumer` comes from `supply`, through any junctions.
bool fed_by(const site::Site& site, const Consumer& consumer, const std::string& supply);

}  // namespace zoneproof::electric
