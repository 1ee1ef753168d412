#include "carriage/site_addresses.hpp"

#include "base/json_pointer.hpp"
#include "carriage/route.hpp"

namespace zoneproof::carriage {

using std::string;

namespace {

template <class Value>
std::optional<Value> value_or_nothing(const std::variant<Value, IpFault>& read) {
  const auto* value = std::get_if<Value>(&read);
  return value == nullptr ? std::nullopt : std::optional<Value>(*value);
}

string not_known(const site::Ref& ref, std::vector<chain::Gap>& gaps) {
  chain::add_gap(gaps, {ref.pointer, "unknown"});
  return "";
}

bool keeps_clips(const site::Site& site, const site::Channel& channel) {
  return !channel.live_only.yes() && site.cameras.count(channel.camera.id) != 0;
}

}  // namespace

std::optional<IpAddress> value_of(const site::Address& address) {
  return value_or_nothing(read_ip_address(address.address));
}

std::optional<IpNetwork> value_of(const site::Network& network) {
  return value_or_nothing(read_ip_network(network.range));
}

string address_pointer(const string& id) { return pointer_child(pointer_child("/addresses", id), "address"); }

string network_pointer(const string& id, const char* key) { return pointer_child(pointer_child("/networks", id), key); }

bool has_address_in(const site::Site& site, const Routes& routes, const string& device, const string& network,
                    std::vector<chain::Gap>& gaps) {
  const std::vector<string>& own = routes.addresses_of(device);
  std::vector<chain::Gap> hidden;
  if (own.empty()) hidden.push_back({"/addresses", "unknown"});
  for (const string& id : own) {
    const site::Ref& in = site.addresses.at(id).network;
    if (in.id == network) return true;
    if (!in.known()) hidden.push_back({in.pointer, "unknown"});
  }
  for (const chain::Gap& gap : hidden) chain::add_gap(gaps, gap);
  return false;
}

std::set<string> talkers(const site::Site& site) {
  std::set<string> found;
  for (const auto& entry : site.units) found.insert(entry.first);
  for (const auto& [id, channel] : site.channels) {
    if (!keeps_clips(site, channel)) continue;
    found.insert(channel.camera.id);
    if (channel.recorder.known()) found.insert(channel.recorder.id);
  }
  return found;
}

std::set<Talk> talks(const site::Site& site) {
  std::set<Talk> found;
  for (const auto& [id, channel] : site.channels) {
    if (!keeps_clips(site, channel)) continue;
    const string& camera = channel.camera.id;
    if (channel.recorder.known()) found.insert({camera, channel.recorder.id});
    if (channel.recorder.known() && channel.unit.known()) found.insert({channel.recorder.id, channel.unit.id});
    if (channel.recorder.none() && channel.unit.known()) found.insert({camera, channel.unit.id});
    for (const auto& [stream, sent] : site.cameras.at(camera).streams)
      if (sent.to.known()) found.insert({camera, sent.to.id});
  }
  for (const auto& entry : site.units) {
    std::vector<chain::Gap> unknown;
    if (const string router = way_out_of(site, entry.first, unknown); !router.empty())
      found.insert({entry.first, router});
  }
  return found;
}

string way_out_of(const site::Site& site, const string& unit, std::vector<chain::Gap>& gaps) {
  const site::Ref& monitoring = site.units.at(unit).monitoring;
  const auto path = site.monitoring_paths.find(monitoring.id);
  if (path == site.monitoring_paths.end()) return not_known(monitoring, gaps);
  const site::Ref& uplink = path->second.uplink;
  const auto line = site.uplinks.find(uplink.id);
  if (line == site.uplinks.end()) return not_known(uplink, gaps);
  const site::Ref& router = line->second.router;
  return router.known() ? router.id : not_known(router, gaps);
}

}  // namespace zoneproof::carriage
