#include "carriage/naming.hpp"

#include "site/relations.hpp"

namespace zoneproof::carriage {

std::string device_words(const site::Site& site, const std::string& id) {
  for (const std::string& name :
       {site::called(site.cameras, id), site::called(site.recorders, id), site::called(site.units, id),
        site::called(site.switches, id), site::called(site.injectors, id), site::called(site.routers, id),
        site::called(site.uplinks, id), site::called(site.backups, id), site::called(site.loads, id),
        site::called(site.data_links, id)})
    if (name != id) return name;
  return id;
}

}  // namespace zoneproof::carriage
