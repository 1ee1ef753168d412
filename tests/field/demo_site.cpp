#include "field/demo_site.hpp"

#include <stdexcept>

#include "site/file.hpp"

namespace zoneproof::field {

site::Site demo_site(const std::string& name) {
  const site::ReadResult read =
      site::load_site(std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/" + name + ".site.json");
  if (!read.site) throw std::runtime_error("cannot read " + name);
  return *read.site;
}

}  // namespace zoneproof::field
