#include "carriage/undeclared_streams.hpp"

#include <set>

namespace zoneproof::carriage {

std::vector<chain::Gap> undeclared_streams(const site::Site& site) {
  std::set<std::string> linked;
  for (const auto& entry : site.data_links) linked.insert({entry.second.a.id, entry.second.b.id});
  std::vector<chain::Gap> gaps;
  for (const auto& [id, camera] : site.cameras)
    if (linked.count(id) != 0 && !camera.streams_complete.yes())
      chain::add_gap(gaps, {camera.streams_complete.pointer, "unknown"});
  return gaps;
}

}  // namespace zoneproof::carriage
