#pragma once
#include <string>

#include "site/model.hpp"

namespace zoneproof::field {

/// data/demo/NAME.site.json; throws std::runtime_error where it cannot be read.
site::Site demo_site(const std::string& name);

}  // namespace zoneproof::field
