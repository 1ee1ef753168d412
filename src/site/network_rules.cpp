#include "site/network_rules.hpp"

#include "base/json_pointer.hpp"
#include "messages/site.hpp"
#include "site/contradiction.hpp"
#include "site/inside_part.hpp"

namespace zoneproof::site {

namespace {

using std::string;

void check_links(const Site& site, Findings& findings) {
  for (const auto& [id, link] : site.data_links)
    if (link.a.known() && link.a.id == link.b.id) findings.add(say::site_same_ends(link.a.id), link.b.pointer);
}

void check_power(const Site& site, const string& camera, const Ref& powered_by, Findings& findings) {
  const auto link = site.data_links.find(powered_by.id);
  if (link == site.data_links.end()) return;
  const Ref &a = link->second.a, &b = link->second.b;
  if (a.unknown() || b.unknown()) return;
  if (a.id != camera && b.id != camera) {
    findings.add(say::site_link_elsewhere(link->first, camera, a.id, b.id), powered_by.pointer);
    return;
  }
  const string& giver = a.id == camera ? b.id : a.id;
  if (site.switches.count(giver) == 0 && site.injectors.count(giver) == 0)
    findings.add(say::site_gives_no_power(giver, link->first), powered_by.pointer);
}

void check_stream(const Stream& stream, Findings& findings) {
  if (stream.rate_control.is(RateControl::free) && stream.rate_kbps.known())
    findings.add(say::site_contradiction("rate_kbps", "rate_control", "free"), stream.rate_kbps.pointer);
  if (stream.key_frame_s.none() && stream.frame_kB.known())
    findings.add(say::site_contradiction("frame_kB", "key_frame_s", "none"), stream.frame_kB.pointer);
}

void check_channel(const Site& site, const string& id, const Channel& channel, Findings& findings) {
  const Camera* camera = find(site.cameras, channel.camera);
  if (camera == nullptr || channel.stream.empty()) return;
  const string at = pointer_child(pointer_child("/channels", id), "stream");
  if (camera->streams.count(channel.stream) != 0) return;
  std::vector<string> known;
  for (const auto& entry : camera->streams) known.push_back(entry.first);
  findings.add(known.empty() ? say::site_no_streams(channel.camera.id, channel.stream)
                             : say::site_no_such_stream(channel.camera.id, channel.stream, known),
               at);
}

void check_address(const string& id, const Address& address, Findings& findings) {
  if (address.given_by.is(AddressBy::pool) && !address.address.empty())
    findings.add(say::site_contradiction("address", "given_by", "pool"),
                 pointer_child(pointer_child("/addresses", id), "address"));
}

void check_pool(const string& id, const Network& network, Findings& findings) {
  if (!network.has_pool.known() || network.has_pool.yes()) return;
  for (const auto& [key, value] : {std::pair("pool_first", &network.pool_first), {"pool_last", &network.pool_last}})
    if (!value->empty())
      findings.add(say::site_contradiction(key, "has_pool", "false"),
                   pointer_child(pointer_child("/networks", id), key));
}

}  // namespace

void check_network(const Site& site, Findings& findings) {
  check_links(site, findings);
  for (const auto& [id, camera] : site.cameras) {
    check_power(site, id, camera.powered_by, findings);
    for (const auto& stream : camera.streams) check_stream(stream.second, findings);
  }
  for (const auto& [id, channel] : site.channels) check_channel(site, id, channel, findings);
  for (const auto& [id, address] : site.addresses) check_address(id, address, findings);
  for (const auto& [id, network] : site.networks) check_pool(id, network, findings);
}

}  // namespace zoneproof::site
