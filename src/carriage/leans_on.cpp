#include "carriage/leans_on.hpp"

#include "carriage/power_taken.hpp"
#include "carriage/route.hpp"
#include "chain/channels.hpp"

namespace zoneproof::carriage {

using std::string;

namespace {

class Leaning {
 public:
  Leaning(const site::Site& site, const Routes& routes) : site_(site), routes_(routes) {}

  void trigger(const string& id) {
    std::vector<chain::Gap> unknown;
    const site::Ref& unit = site_.triggers.at(id).unit;
    for (const string& channel : chain::channels_of_trigger(site_, id, unknown)) {
      const site::Channel& one = site_.channels.at(channel);
      if (one.live_only.yes()) continue;
      ids_.insert(channel);
      way(one.camera, one.recorder.known() ? one.recorder : unit);
      if (one.recorder.known()) way(one.recorder, unit);
    }
    out(unit);
  }

  std::set<string> all() && {
    forwarding();
    for (const string& id : std::set<string>(ids_)) power(id);
    ids_.erase("");
    return std::move(ids_);
  }

 private:
  void add(const string& id) {
    if (!ids_.insert(id).second) return;
    for (const string& address : routes_.addresses_of(id)) {
      ids_.insert(address);
      ids_.insert(site_.addresses.at(address).network.id);
    }
  }

  void way(const site::Ref& from, const site::Ref& to) {
    if (!from.known() || !to.known()) return;
    add(from.id);
    for (const Leg& leg : routes_.route(from.id, to.id).legs) {
      ids_.insert(leg.link);
      add(leg.to);
    }
    add(to.id);
  }

  void out(const site::Ref& unit) {
    const auto found = site_.units.find(unit.id);
    if (found == site_.units.end()) return;
    const auto path = site_.monitoring_paths.find(found->second.monitoring.id);
    if (path == site_.monitoring_paths.end()) return;
    ids_.insert(path->first);
    const auto uplink = site_.uplinks.find(path->second.uplink.id);
    if (uplink == site_.uplinks.end()) return;
    ids_.insert(uplink->first);
    way(unit, uplink->second.router);
  }

  /// A router that hands a port on to one of them from outside, wherever it is.
  void forwarding() {
    for (const auto& [id, router] : site_.routers)
      for (const auto& entry : router.forwarded)
        if (ids_.count(entry.second.to.id) != 0) add(id);
  }

  /// All that its power comes through, whether clips pass it or not. Entries of loads count too: with them the supply
  /// that feeds them, by the proof of that.
  void power(const string& id) {
    const site::Ref* from = powered_by(site_, id);
    if (from == nullptr || !from->known()) return;
    ids_.insert(from->id);
    const auto link = site_.data_links.find(from->id);
    if (link == site_.data_links.end()) return power(from->id);
    for (const site::Ref* end : {&link->second.a, &link->second.b}) {
      if (site_.switches.count(end->id) == 0 && site_.injectors.count(end->id) == 0) continue;
      add(end->id);
      power(end->id);
    }
  }

  const site::Site& site_;
  const Routes& routes_;
  std::set<string> ids_;
};

}  // namespace

std::set<string> clips_lean_on(const site::Site& site, const Routes& routes, const string& zone) {
  Leaning leaning(site, routes);
  for (const auto& [id, trigger] : site.triggers)
    if (trigger.zone.id == zone) leaning.trigger(id);
  return std::move(leaning).all();
}

}  // namespace zoneproof::carriage
