#include "carriage/reached.hpp"

#include "base/ip_kind.hpp"
#include "base/json_pointer.hpp"
#include "carriage/declared.hpp"
#include "carriage/naming.hpp"
#include "carriage/route.hpp"
#include "carriage/site_addresses.hpp"
#include "messages/carriage.hpp"

namespace zoneproof::carriage {

using chain::Evidence;
using chain::Gap;
using chain::Verdict;
using std::string;

namespace {

std::vector<Gap> gateways_of(const site::Site& site, const Routes& routes, const string& device) {
  std::vector<Gap> gaps;
  for (const string& id : routes.addresses_of(device))
    gaps.push_back({site.addresses.at(id).gateway.pointer, "undecided"});
  return gaps;
}

/// As reach(), which looks one router far: where that router sends on to another, the way is open.
Reach by_all_routers(const site::Site& site, const Routes& routes, const string& from, const string& to) {
  Reach found = routes.reach(from, to);
  if (found.how != Reach::How::no_way) return found;
  for (const string& id : routes.addresses_of(from))
    for (const string& next : routes.addresses_of(site.addresses.at(id).gateway.id))
      if (const site::Ref& on = site.addresses.at(next).gateway; !on.none())
        chain::add_gap(found.gaps, {on.pointer, on.known() ? "undecided" : "unknown"});
  if (!found.gaps.empty()) found.how = Reach::How::open;
  return found;
}

Evidence check_talk(const site::Site& site, const Routes& routes, const Talk& talk) {
  const Asked asked{"reached", talk.from, "way", "", talk.to};
  const string from = device_words(site, talk.from), to = device_words(site, talk.to);
  const Reach there = by_all_routers(site, routes, talk.from, talk.to);
  // What a router sends back goes its own ways, which the file does not tell.
  const Reach back = site.routers.count(talk.to) != 0 ? there : by_all_routers(site, routes, talk.to, talk.from);
  std::vector<Gap> gaps = there.gaps;
  for (const Gap& gap : back.gaps) chain::add_gap(gaps, gap);
  const bool none_there = there.how == Reach::How::no_way, none_back = back.how == Reach::How::no_way;
  if (none_there && none_back)
    return declared(asked, {Verdict::broken, say::devices_apart(from, to), {say::join_devices(from, to)}});
  if (gaps.empty() && none_there != none_back) {
    Evidence one_way =
        undeclared(asked, gateways_of(site, routes, none_there ? talk.from : talk.to),
                   none_there ? say::devices_reach_one_way(to, from) : say::devices_reach_one_way(from, to));
    one_way.remedies.push_back(say::join_devices(from, to));
    return one_way;
  }
  if (gaps.empty()) gaps = routes.route(talk.from, talk.to).gaps;
  return declared_unless(std::move(gaps), asked, say::reach_not_known(from, to),
                         {Verdict::proven, say::devices_reach(from, to), {}});
}

Evidence check_way_out(const site::Site& site, const Routes& routes, const string& id) {
  const Asked asked{"way_out", id, "way", "", ""};
  const string unit = device_words(site, id);
  std::vector<Gap> gaps;
  const string router = way_out_of(site, id, gaps);
  if (router.empty()) return undeclared(asked, std::move(gaps), say::way_out_not_known(unit));
  const string name = device_words(site, router);
  const std::vector<string>& own = routes.addresses_of(id);
  if (own.empty()) gaps.push_back({"/addresses", "unknown"});
  for (const string& entry : own) {
    const site::Address& address = site.addresses.at(entry);
    const std::optional<IpAddress> value = value_of(address);
    const bool stays = value && ip_kind(*value) == IpKind::link_local;  // no router sends it on (RFC 3927, RFC 4291)
    if (address.gateway.none() || stays) continue;
    if (address.gateway.id != router)
      gaps.push_back({address.gateway.pointer, address.gateway.known() ? "undecided" : "unknown"});
    else if (!address.network.known())
      gaps.push_back({address.network.pointer, "unknown"});
    else if (has_address_in(site, routes, router, address.network.id, gaps))
      return declared(asked, {Verdict::proven, say::unit_gets_out(unit, name), {}});
  }
  return declared_unless(std::move(gaps), asked, say::way_out_not_known(unit),
                         {Verdict::broken, say::unit_stays_in(unit, name), {say::set_gateway(unit, name)}});
}

Evidence check_stream(const site::Site& site, const string& id, const site::Channel& channel) {
  const Asked asked{"stream_to", id, "way", "", ""};
  const auto open_at = [&](const string& pointer) {
    return undeclared(asked, {{pointer, "unknown"}}, say::stream_not_known(id));
  };
  const auto camera = site.cameras.find(channel.camera.id);
  if (camera == site.cameras.end()) return open_at(channel.camera.pointer);
  if (channel.recorder.unknown()) return open_at(channel.recorder.pointer);
  const site::Ref& wanted = channel.recorder.known() ? channel.recorder : channel.unit;
  if (!wanted.known()) return open_at(wanted.pointer);
  const auto stream = camera->second.streams.find(channel.stream);
  if (stream == camera->second.streams.end()) return open_at(pointer_child(pointer_child("/channels", id), "stream"));
  const site::Ref& to = stream->second.to;
  if (!to.known()) return open_at(to.pointer);
  const string name = device_words(site, camera->first), goes = device_words(site, to.id),
               should = device_words(site, wanted.id);
  if (to.id == wanted.id) return declared(asked, {Verdict::proven, say::stream_goes_to(name, goes), {}});
  return declared(
      asked, {Verdict::broken, say::stream_goes_elsewhere(name, goes, should), {say::send_stream_to(name, should)}});
}

}  // namespace

std::vector<Evidence> check_reached(const site::Site& site) {
  const Routes routes(site);
  std::vector<Evidence> all;
  for (const Talk& talk : talks(site)) all.push_back(check_talk(site, routes, talk));
  for (const auto& entry : site.units) all.push_back(check_way_out(site, routes, entry.first));
  for (const auto& [id, channel] : site.channels)
    if (!channel.live_only.yes()) all.push_back(check_stream(site, id, channel));
  return all;
}

}  // namespace zoneproof::carriage
