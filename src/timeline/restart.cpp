#include "timeline/restart.hpp"

#include <algorithm>
#include <set>

#include "carriage/route.hpp"
#include "site/relations.hpp"

namespace zoneproof::timeline {

using std::string;

namespace {

template <class Spec, class Thing>
Told boot_of(const site::Site& site, const site::Map<Thing>& things, const string& id,
             std::optional<Spec> site::Part::*kind) {
  const site::Ref& part = things.at(id).part;
  const Spec* spec = site::spec_of(site, part, kind);
  return spec == nullptr ? not_told(part.pointer) : told(spec->boot_s);
}

/// From power at the thing itself.
Told own_boot(const site::Site& site, const string& id) {
  using site::Part;
  if (site.cameras.count(id) != 0) return boot_of(site, site.cameras, id, &Part::camera);
  if (site.switches.count(id) != 0) return boot_of(site, site.switches, id, &Part::network_switch);
  if (site.injectors.count(id) != 0) return boot_of(site, site.injectors, id, &Part::injector);
  if (site.routers.count(id) != 0) return boot_of(site, site.routers, id, &Part::router);
  if (site.recorders.count(id) != 0) return boot_of(site, site.recorders, id, &Part::recorder);
  return boot_of(site, site.units, id, &Part::unit);
}

/// What gives a camera its power over its data link; empty where nothing does.
string power_giver(const site::Site& site, const string& camera) {
  const auto found = site.cameras.find(camera);
  if (found == site.cameras.end()) return "";
  const auto link = site.data_links.find(found->second.powered_by.id);
  if (link == site.data_links.end()) return "";
  return link->second.a.id == camera ? link->second.b.id : link->second.a.id;
}

Told boot(const site::Site& site, const string& id) {
  const string giver = power_giver(site, id);
  const Told own = own_boot(site, id);
  const bool gives = site.switches.count(giver) != 0 || site.injectors.count(giver) != 0;
  return gives ? after(own_boot(site, giver), own) : own;
}

Told later(const Told& a, const Told& b) {
  Told both = either(a, b);
  both.span.low = std::max(a.span.low, b.span.low);
  return both;
}

class Way {
 public:
  explicit Way(const site::Site& site) : routes_(site) {}

  /// From one device to the next, both included, each thing once.
  void go(const string& from, const string& to) {
    add(from);
    const carriage::Route route = routes_.route(from, to);
    for (const chain::Gap& gap : route.gaps) chain::add_gap(gaps_, gap);
    for (const carriage::Leg& leg : route.legs) add(leg.to);
    add(to);
  }
  const std::vector<string>& things() const { return things_; }
  const std::vector<chain::Gap>& gaps() const { return gaps_; }

 private:
  void add(const string& id) {
    if (seen_.insert(id).second) things_.push_back(id);
  }

  carriage::Routes routes_;
  std::set<string> seen_;
  std::vector<string> things_;
  std::vector<chain::Gap> gaps_;
};

Told panel_boot(const site::Site& site, const string& zone) {
  const auto found = site.zones.find(zone);
  const auto panel = found == site.zones.end() ? site.panels.end() : site.panels.find(found->second.panel.id);
  if (panel == site.panels.end()) return not_told("/zones/" + zone + "/panel");
  const site::PanelSpec* spec = site::panel_spec(site, panel->first);
  return spec == nullptr ? not_told(panel->second.part.pointer) : told(spec->boot_s);
}

}  // namespace

Restart restart(const site::Site& site, const string& trigger_id, const string& channel_id) {
  const site::Trigger& trigger = site.triggers.at(trigger_id);
  const site::Channel& channel = site.channels.at(channel_id);
  const auto unit = site.units.find(trigger.unit.id);
  Restart restart;
  restart.panel = panel_boot(site, trigger.zone.id);
  Way way(site);
  if (site.cameras.count(channel.camera.id) == 0 || unit == site.units.end()) {
    restart.all = restart.without_clip = not_told("/channels/" + channel_id);
    return restart;
  }
  const bool recorded = site.recorders.count(channel.recorder.id) != 0;
  way.go(channel.camera.id, recorded ? channel.recorder.id : unit->first);
  if (recorded) way.go(channel.recorder.id, unit->first);
  const auto path = site.monitoring_paths.find(unit->second.monitoring.id);
  const auto uplink =
      path == site.monitoring_paths.end() ? site.uplinks.end() : site.uplinks.find(path->second.uplink.id);
  if (uplink != site.uplinks.end() && site.routers.count(uplink->second.router.id) != 0)
    way.go(unit->first, uplink->second.router.id);
  else
    restart.all = not_told("/units/" + unit->first + "/monitoring");
  for (const string& id : way.things()) {
    restart.things.push_back({id, boot(site, id)});
    restart.all = later(restart.all, restart.things.back().works);
  }
  for (const chain::Gap& gap : way.gaps()) chain::add_gap(restart.all.gaps, gap);
  restart.all.known = restart.all.known && way.gaps().empty();
  restart.without_clip = before(restart.all, restart.panel);
  for (double* end : {&restart.without_clip.span.low, &restart.without_clip.span.high}) *end = std::max(0.0, *end);
  return restart;
}

}  // namespace zoneproof::timeline
