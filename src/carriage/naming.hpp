#pragma once
#include <string>

#include "site/model.hpp"

namespace zoneproof::carriage {

/// What people call a thing of the network, whatever collection it is in; its id where it has no name.
std::string device_words(const site::Site& site, const std::string& id);

}  // namespace zoneproof::carriage
