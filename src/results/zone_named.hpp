#pragma once
#include <optional>
#include <string>

#include "base/message.hpp"
#include "site/model.hpp"

namespace zoneproof::results {

/// The zone that a person named by id or by number; a message where there is none, or more than one of that number.
struct ZoneFound {
  std::string id;  ///< empty where none was named
  std::optional<Message> problem;
};

/// `named` empty: no zone is meant, and none is found.
ZoneFound find_zone(const site::Site& site, const std::string& named);

}  // namespace zoneproof::results
