#include "carriage/clip_way.hpp"

#include "carriage/route.hpp"

namespace zoneproof::carriage {

namespace {

class Ways {
 public:
  explicit Ways(const site::Site& site) : site_(site), routes_(site) {}

  ClipWays all() {
    for (const auto& [id, channel] : site_.channels)
      if (!channel.live_only.yes()) of_channel(id, channel);
    for (const auto& [id, unit] : site_.units) to_outside(id, unit);
    return found_;
  }

 private:
  void of_channel(const std::string& id, const site::Channel& channel) {
    if (site_.cameras.count(channel.camera.id) == 0) return open("/channels/" + id + "/camera", channel.unit.id);
    found_.devices.insert(channel.camera.id);
    if (!channel.unit.known()) return open("/channels/" + id + "/unit", channel.camera.id);
    if (channel.recorder.unknown()) return open("/channels/" + id + "/recorder", channel.camera.id);
    if (channel.recorder.none()) return along(channel.camera.id, channel.camera.id, channel.unit.id);
    found_.devices.insert(channel.recorder.id);
    along(channel.camera.id, channel.camera.id, channel.recorder.id);
    along(channel.camera.id, channel.recorder.id, channel.unit.id);
  }

  void to_outside(const std::string& id, const site::Unit& unit) {
    const auto path = site_.monitoring_paths.find(unit.monitoring.id);
    if (path == site_.monitoring_paths.end()) return open("/units/" + id + "/monitoring", id);
    const auto uplink = site_.uplinks.find(path->second.uplink.id);
    if (uplink == site_.uplinks.end()) return open("/monitoring_paths/" + path->first + "/uplink", id);
    found_.uplinks.insert(uplink->first);
    const site::Ref& router = uplink->second.router;
    if (!router.known()) return open("/uplinks/" + uplink->first + "/router", id);
    found_.devices.insert(router.id);
    along(id, id, router.id);
  }

  void along(const std::string& subject, const std::string& from, const std::string& to) {
    const Route way = routes_.route(from, to);
    for (const chain::Gap& gap : way.gaps) chain::add_gap(found_.open[subject], gap);
    for (const Leg& leg : way.legs)
      for (const std::string& end : {leg.from, leg.to})
        if (site_.units.count(end) == 0) found_.devices.insert(end);
  }

  void open(const std::string& pointer, const std::string& subject) {
    chain::add_gap(found_.open[subject], {pointer, "unknown"});
  }

  const site::Site& site_;
  Routes routes_;
  ClipWays found_;
};

}  // namespace

ClipWays clip_ways(const site::Site& site) { return Ways(site).all(); }

}  // namespace zoneproof::carriage
