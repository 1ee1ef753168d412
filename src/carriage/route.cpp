#include "carriage/route.hpp"

#include <algorithm>
#include <deque>
#include <map>
#include <set>

namespace zoneproof::carriage {

using std::string;

namespace {

bool passes_on(const site::Site& site, const string& device) {
  return site.switches.count(device) != 0 || site.injectors.count(device) != 0 || site.routers.count(device) != 0;
}

/// The shortest way, found breadth first; links in the order of their ids, so that it is always the same one.
std::vector<Leg> shortest(const site::Site& site, const string& from, const string& to, const string& without) {
  std::map<string, std::vector<Leg>> leaving;
  for (const auto& [id, link] : site.data_links) {
    if (id == without || !link.a.known() || !link.b.known()) continue;
    leaving[link.a.id].push_back({id, link.a.id, link.b.id});
    leaving[link.b.id].push_back({id, link.b.id, link.a.id});
  }
  std::map<string, Leg> came_by;
  std::deque<string> waiting = {from};
  while (!waiting.empty()) {
    const string at = waiting.front();
    waiting.pop_front();
    if (at == to) break;
    if (at != from && !passes_on(site, at)) continue;
    for (const Leg& leg : leaving[at])
      if (leg.to != from && came_by.emplace(leg.to, leg).second) waiting.push_back(leg.to);
  }
  std::vector<Leg> way;
  for (string at = to; at != from; at = way.back().from) {
    const auto leg = came_by.find(at);
    if (leg == came_by.end()) return {};
    way.push_back(leg->second);
  }
  std::reverse(way.begin(), way.end());
  return way;
}

void append(Route& all, const Route& more) {
  all.legs.insert(all.legs.end(), more.legs.begin(), more.legs.end());
  for (const chain::Gap& gap : more.gaps) chain::add_gap(all.gaps, gap);
}

}  // namespace

Route wired_way(const site::Site& site, const string& from, const string& to) {
  Route route;
  if (from == to) return route;
  route.legs = shortest(site, from, to, "");
  if (route.legs.empty()) {
    route.gaps.push_back({"/data_links", "unknown"});
    return route;
  }
  for (const Leg& leg : route.legs)
    if (!shortest(site, from, to, leg.link).empty())
      chain::add_gap(route.gaps, {"/data_links/" + leg.link, "undecided"});
  return route;
}

std::vector<string> addresses_of(const site::Site& site, const string& device) {
  std::vector<string> found;
  for (const auto& [id, address] : site.addresses)
    if (address.device.id == device) found.push_back(id);
  return found;
}

Reach reach(const site::Site& site, const string& from, const string& to) {
  Reach answer;
  const std::vector<string> own = addresses_of(site, from), others = addresses_of(site, to);
  for (const auto* side : {&own, &others})
    if (side->empty()) chain::add_gap(answer.gaps, {"/addresses", "unknown"});
  std::set<string> networks;
  for (const string& id : others) {
    const site::Ref& network = site.addresses.at(id).network;
    if (network.known())
      networks.insert(network.id);
    else
      chain::add_gap(answer.gaps, {network.pointer, "unknown"});
  }
  for (const string& id : own) {
    const site::Address& address = site.addresses.at(id);
    if (address.network.unknown()) chain::add_gap(answer.gaps, {address.network.pointer, "unknown"});
    if (networks.count(address.network.id) != 0) return {Reach::How::same_network, {}, {}};
  }
  for (const string& id : own) {
    const site::Address& address = site.addresses.at(id);
    if (address.gateway.unknown()) chain::add_gap(answer.gaps, {address.gateway.pointer, "unknown"});
    if (!address.gateway.known()) continue;
    for (const string& inside : addresses_of(site, address.gateway.id))
      if (networks.count(site.addresses.at(inside).network.id) != 0)
        return {Reach::How::by_router, address.gateway.id, {}};
  }
  if (answer.gaps.empty()) answer.how = Reach::How::no_way;
  return answer;
}

Route route(const site::Site& site, const string& from, const string& to) {
  const Reach by = reach(site, from, to);
  Route all;
  switch (by.how) {
    case Reach::How::same_network: return wired_way(site, from, to);
    case Reach::How::by_router:
      append(all, wired_way(site, from, by.router));
      append(all, wired_way(site, by.router, to));
      return all;
    case Reach::How::no_way: all.gaps.push_back({"/addresses", "undecided"}); return all;
    case Reach::How::open: break;
  }
  all.gaps = by.gaps;
  return all;
}

}  // namespace zoneproof::carriage
