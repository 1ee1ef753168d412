#include "results/zone_named.hpp"

#include <vector>

#include "messages/results.hpp"

namespace zoneproof::results {

ZoneFound find_zone(const site::Site& site, const std::string& named) {
  if (named.empty() || site.zones.count(named) != 0) return {named, std::nullopt};
  std::vector<std::string> found;
  for (const auto& [id, zone] : site.zones) {
    if (zone.number.known() && std::to_string(*zone.number.value) == named) found.push_back(id);
  }
  if (found.size() == 1) return {found.front(), std::nullopt};
  if (found.empty()) return {"", say::no_such_zone(named)};
  return {"", say::zone_number_twice(named, found)};
}

}  // namespace zoneproof::results
