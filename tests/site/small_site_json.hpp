#pragma once
#include <nlohmann/json.hpp>

#include "small_site.hpp"

namespace zoneproof::site {

/// The small site to change something in.
inline nlohmann::ordered_json small_site_json() { return nlohmann::ordered_json::parse(kSmallSite); }

}  // namespace zoneproof::site
