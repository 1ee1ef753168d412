#include "carriage/route.hpp"

#include <algorithm>
#include <deque>
#include <limits>
#include <set>

namespace zoneproof::carriage {

using std::string;

namespace {

void append(Route& all, const Route& more) {
  all.legs.insert(all.legs.end(), more.legs.begin(), more.legs.end());
  for (const chain::Gap& gap : more.gaps) chain::add_gap(all.gaps, gap);
}

}  // namespace

Routes::Routes(const site::Site& site) : site_(site) {
  for (const auto& entry : site.switches) number_of(entry.first);
  for (const auto& entry : site.injectors) number_of(entry.first);
  for (const auto& entry : site.routers) number_of(entry.first);
  passing_ = things_.size();
  for (auto link = site.data_links.begin(); link != site.data_links.end(); ++link) {
    if (!link->second.a.known() || !link->second.b.known()) continue;
    const std::size_t a = number_of(link->second.a.id), b = number_of(link->second.b.id);
    things_[a].leaving.push_back({link, b});
    things_[b].leaving.push_back({link, a});
    if (b < passing_) things_[a].onward.push_back({link, b});
    if (a < passing_) things_[b].onward.push_back({link, a});
  }
  for (const auto& [id, address] : site.addresses) addresses_[address.device.id].push_back(id);
}

std::size_t Routes::number_of(const string& id) {
  const auto [found, fresh] = numbers_.emplace(id, things_.size());
  if (fresh) things_.push_back({id, {}, {}});
  return found->second;
}

/// Found breadth first; links in the order of their ids, so that it is always the same one. Cameras and the like are at
/// the ends of a way only, and most links lead to them: they are not looked at, but for `to`, which knows its links.
std::vector<Routes::Way> Routes::shortest(std::size_t from, std::size_t to, Link without) const {
  constexpr std::size_t nobody = std::numeric_limits<std::size_t>::max();
  struct Came {
    Way by;
    std::size_t from;
  };
  const Way nowhere = {site_.data_links.end(), nobody};
  std::vector<Came> all(passing_ + 1, {nowhere, nobody});
  const auto came = [&](std::size_t thing) -> Came& { return all[std::min(thing, passing_)]; };  // the last is `to`
  std::deque<std::size_t> waiting = {from};
  const auto visit = [&](std::size_t at, const Way& way) {
    if (way.link == without || way.to == from || came(way.to).from != nobody) return;
    came(way.to) = {way, at};
    waiting.push_back(way.to);
  };
  while (!waiting.empty() && waiting.front() != to) {
    const std::size_t at = waiting.front();
    waiting.pop_front();
    for (const Way& way : things_[at].onward) visit(at, way);
    if (to < passing_) continue;
    for (const Way& back : things_[to].leaving)
      if (back.to == at) visit(at, {back.link, to});
  }
  std::vector<Way> way;
  for (std::size_t at = to; at != from; at = came(at).from) {
    if (came(at).from == nobody) return {};
    way.push_back(came(at).by);
  }
  std::reverse(way.begin(), way.end());
  return way;
}

Route Routes::wired_way(const string& from, const string& to) const {
  Route route;
  if (from == to) return route;
  const auto start = numbers_.find(from), end = numbers_.find(to);
  std::vector<Way> found;
  if (start != numbers_.end() && end != numbers_.end())
    found = shortest(start->second, end->second, site_.data_links.end());
  if (found.empty()) {
    route.gaps.push_back({"/data_links", "unknown"});
    return route;
  }
  const string* at = &from;
  for (const Way& way : found) {
    const string& next = things_[way.to].id;
    route.legs.push_back({way.link->first, *at, next});
    at = &next;
    if (!shortest(start->second, end->second, way.link).empty())
      chain::add_gap(route.gaps, {"/data_links/" + way.link->first, "undecided"});
  }
  return route;
}

const std::vector<string>& Routes::addresses_of(const string& device) const {
  static const std::vector<string> none;
  const auto found = addresses_.find(device);
  return found == addresses_.end() ? none : found->second;
}

Reach Routes::reach(const string& from, const string& to) const {
  Reach answer;
  const std::vector<string>&own = addresses_of(from), &others = addresses_of(to);
  for (const auto* side : {&own, &others})
    if (side->empty()) chain::add_gap(answer.gaps, {"/addresses", "unknown"});
  std::set<string> networks;
  for (const string& id : others) {
    const site::Ref& network = site_.addresses.at(id).network;
    if (network.known())
      networks.insert(network.id);
    else
      chain::add_gap(answer.gaps, {network.pointer, "unknown"});
  }
  for (const string& id : own) {
    const site::Address& address = site_.addresses.at(id);
    if (address.network.unknown()) chain::add_gap(answer.gaps, {address.network.pointer, "unknown"});
    if (networks.count(address.network.id) != 0) return {Reach::How::same_network, {}, {}};
  }
  for (const string& id : own) {
    const site::Address& address = site_.addresses.at(id);
    if (address.gateway.unknown()) chain::add_gap(answer.gaps, {address.gateway.pointer, "unknown"});
    if (!address.gateway.known()) continue;
    for (const string& inside : addresses_of(address.gateway.id))
      if (networks.count(site_.addresses.at(inside).network.id) != 0)
        return {Reach::How::by_router, address.gateway.id, {}};
  }
  if (answer.gaps.empty()) answer.how = Reach::How::no_way;
  return answer;
}

Route Routes::route(const string& from, const string& to) const {
  const Reach by = reach(from, to);
  Route all;
  switch (by.how) {
    case Reach::How::same_network: return wired_way(from, to);
    case Reach::How::by_router:
      append(all, wired_way(from, by.router));
      append(all, wired_way(by.router, to));
      return all;
    case Reach::How::no_way: all.gaps.push_back({"/addresses", "undecided"}); return all;
    case Reach::How::open: break;
  }
  all.gaps = by.gaps;
  return all;
}

}  // namespace zoneproof::carriage
