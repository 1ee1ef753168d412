#pragma once
#include <string>

#include "site/file.hpp"

namespace zoneproof::electric {

/// A demo site by the name of its file.
inline site::Site demo_site(const std::string& name) {
  return *site::load_site(std::string(ZONEPROOF_SOURCE_DIR "/data/demo/") + name + ".site.json").site;
}

}  // namespace zoneproof::electric
