#include "carriage/addressing.hpp"

#include <map>

#include "base/ip_kind.hpp"
#include "carriage/declared.hpp"
#include "carriage/naming.hpp"
#include "carriage/site_addresses.hpp"
#include "messages/carriage.hpp"
#include "site/relations.hpp"

namespace zoneproof::carriage {

using chain::Evidence;
using chain::Gap;
using chain::Verdict;
using site::AddressBy;
using std::string;

namespace {

/// Kinds of addresses that no device has for others to call it by.
bool stands_for_no_device(IpKind kind) {
  switch (kind) {
    case IpKind::unspecified:
    case IpKind::this_network:
    case IpKind::loopback:
    case IpKind::multicast:
    case IpKind::reserved:
    case IpKind::broadcast: return true;
    default: return false;
  }
}

/// What a network is known by, read once.
struct Known {
  string name;
  std::optional<IpNetwork> range;
  std::optional<IpRange> pool;
  std::vector<Gap> pool_gaps;  ///< why there is none, though the network has one or may have
};

Known known_of(const string& id, const site::Network& network) {
  Known known{site::name_or_id(network.name, id), value_of(network), std::nullopt, {}};
  if (!network.has_pool.known()) known.pool_gaps.push_back({network.has_pool.pointer, "unknown"});
  if (!network.has_pool.yes()) return known;
  const auto first = read_ip_address(network.pool_first), last = read_ip_address(network.pool_last);
  for (const auto& [read, key] : {std::pair(&first, "pool_first"), {&last, "pool_last"}})
    if (std::holds_alternative<IpFault>(*read)) known.pool_gaps.push_back({network_pointer(id, key), "unknown"});
  if (!known.pool_gaps.empty()) return known;
  known.pool = make_range(std::get<IpAddress>(first), std::get<IpAddress>(last));
  if (!known.pool) known.pool_gaps.push_back({network_pointer(id, "pool_last"), "undecided"});  // ends too early
  return known;
}

class Addressing {
 public:
  explicit Addressing(const site::Site& site) : site_(site), routes_(site), talkers_(talkers(site)) {
    for (const auto& [id, network] : site.networks) networks_.emplace(id, known_of(id, network));
    for (const auto& [id, address] : site.addresses) {
      const std::optional<IpAddress> value = value_of(address);
      if (value) holders_[*value].push_back(id);
      if (!value && !address.given_by.is(AddressBy::pool))
        missing_[address.network.id].push_back({address_pointer(id), "unknown"});
      if (talkers_.count(address.device.id) != 0 && networks_.count(address.network.id) != 0)
        used_.insert(address.network.id);
    }
  }

  std::vector<Evidence> all() && {
    for (const auto& [id, address] : site_.addresses) {
      if (used_.count(address.network.id) != 0)
        of_address(id, address);
      else if (address.network.unknown() && talkers_.count(address.device.id) != 0)
        add(unknown("address_in_network", id, {{address.network.pointer, "unknown"}}));
    }
    for (const string& id : used_) {
      if (auto pool = pool_in_network(id)) add(std::move(*pool));
      add(networks_overlap(id));
    }
    return std::move(answers_);
  }

 private:
  void add(Evidence evidence) { answers_.push_back(std::move(evidence)); }

  string device(const string& address) const { return device_words(site_, site_.addresses.at(address).device.id); }

  static Asked asked(const char* check, const string& subject) { return {check, subject, "address", "", ""}; }

  Evidence unknown(const char* check, const string& id, std::vector<Gap> gaps) const {
    return undeclared(asked(check, id), std::move(gaps), say::address_not_known(device(id)));
  }

  void of_address(const string& id, const site::Address& address) {
    const bool talks = talkers_.count(address.device.id) != 0;
    if (!address.given_by.is(AddressBy::pool)) {
      const std::optional<IpAddress> value = value_of(address);
      const Known& network = networks_.at(address.network.id);
      const std::vector<Gap> missing{{address_pointer(id), "unknown"}};
      add(value ? in_network(id, *value, network) : unknown("address_in_network", id, missing));
      add(value ? clash(id, *value, address) : unknown("address_clash", id, missing));
      add(value || address.given_by.is(AddressBy::reserved) ? in_pool(id, value, address)
                                                            : unknown("address_in_pool", id, missing));
    }
    if (talks || site_.routers.count(address.device.id) != 0) add(changes(id, address));
    if (talks && !address.gateway.none()) add(gateway(id, address));
  }

  /// RFC 4291, 2.6.1: the first address of an IPv6 network is one that its routers answer to.
  IpRange allowed_for(const string& device, const IpNetwork& network) const {
    const bool answers_to_first = network.version() == IpVersion::v6 && site_.routers.count(device) != 0;
    return answers_to_first ? range_of(network) : hosts(network);
  }

  Evidence in_network(const string& id, const IpAddress& value, const Known& network) const {
    const site::Address& address = site_.addresses.at(id);
    if (!network.range)
      return unknown("address_in_network", id, {{network_pointer(address.network.id, "range"), "unknown"}});
    const string name = device(id), range = text(*network.range);
    const IpRange allowed = allowed_for(address.device.id, *network.range);
    const auto broken = [&](Message sentence) {
      return Said{Verdict::broken,
                  std::move(sentence),
                  {say::give_address_inside(name, text(allowed.first), text(allowed.last))}};
    };
    const Asked question = asked("address_in_network", id);
    if (!contains(*network.range, value))
      return declared(question, broken(say::address_outside(name, text(value), network.name, range)));
    if (!contains(allowed, value) || stands_for_no_device(ip_kind(value)))
      return declared(question, broken(say::address_of_no_device(name, text(value), network.name, range)));
    return declared(question, {Verdict::proven, say::address_fits(name, text(value), network.name, range), {}});
  }

  Evidence clash(const string& id, const IpAddress& value, const site::Address& address) const {
    const string name = device(id);
    const Asked question = asked("address_clash", id);
    std::vector<string> others;
    std::vector<Gap> gaps;
    for (const string& other : holders_.at(value)) {
      const site::Ref& holder = site_.addresses.at(other).device;
      if (other == id || (holder.known() && holder.id == address.device.id)) continue;
      for (const site::Ref* either : {&address.device, &holder})
        if (!either->known()) chain::add_gap(gaps, {either->pointer, "unknown"});
      if (holder.known() && address.device.known()) others.push_back(device(other));
    }
    if (!others.empty())
      return declared(
          question, {Verdict::broken, say::address_shared(name, text(value), others), {say::give_other_address(name)}});
    const site::Network& network = site_.networks.at(address.network.id);
    if (!network.addresses_complete.yes())
      chain::add_gap(gaps, {network.addresses_complete.pointer, "incomplete_list"});
    for (const string& in : {address.network.id, string()})  // one whose network is not known may be in this
      if (const auto missing = missing_.find(in); missing != missing_.end())
        for (const Gap& gap : missing->second) chain::add_gap(gaps, gap);
    return declared_unless(std::move(gaps), question,
                           say::address_maybe_shared(name, text(value), networks_.at(address.network.id).name),
                           {Verdict::proven, say::address_alone(name, text(value)), {}});
  }

  /// `value`: of a reserved one it need not be known.
  Evidence in_pool(const string& id, const std::optional<IpAddress>& value, const site::Address& address) const {
    const string name = device(id), shown = value ? text(*value) : "?";
    const Known& network = networks_.at(address.network.id);
    const Asked question = asked("address_in_pool", id);
    const bool none_given = site_.networks.at(address.network.id).has_pool.value == false;
    if (address.given_by.is(AddressBy::reserved) && none_given)
      return declared(
          question, {Verdict::broken, say::address_given_by_nobody(name, network.name), {say::type_address_in(name)}});
    if (!address.given_by.known()) return unknown("address_in_pool", id, {{address.given_by.pointer, "unknown"}});
    if (address.given_by.is(AddressBy::fixed)) {
      if (!network.pool_gaps.empty()) return unknown("address_in_pool", id, network.pool_gaps);
      if (network.pool && contains(*network.pool, *value))
        return declared(question,
                        {Verdict::broken,
                         say::address_given_out(name, shown, text(network.pool->first), text(network.pool->last)),
                         {say::reserve_address(name)}});
    }
    return declared(question, {Verdict::proven, say::address_not_given_out(name, shown), {}});
  }

  Evidence changes(const string& id, const site::Address& address) const {
    const string name = device(id);
    if (!address.given_by.known()) return unknown("address_changes", id, {{address.given_by.pointer, "unknown"}});
    const bool may = address.given_by.is(AddressBy::pool);
    return declared(asked("address_changes", id),
                    may ? Said{Verdict::broken, say::address_may_change(name), {say::keep_address(name)}}
                        : Said{Verdict::proven, say::address_stays(name), {}});
  }

  Evidence gateway(const string& id, const site::Address& address) const {
    const string name = device(id), router = device_words(site_, address.gateway.id);
    const Asked question{"gateway_reached", id, "way", "", ""};
    std::vector<Gap> gaps;
    if (address.gateway.unknown()) gaps.push_back({address.gateway.pointer, "unknown"});
    const bool near = gaps.empty() && has_address_in(site_, routes_, address.gateway.id, address.network.id, gaps);
    const string network = networks_.at(address.network.id).name;
    return declared_unless(
        std::move(gaps), question, say::gateway_not_known(name),
        near ? Said{Verdict::proven, say::gateway_near(name, router), {}}
             : Said{Verdict::broken, say::gateway_far(name, router, network), {say::set_near_gateway(name)}});
  }

  std::optional<Evidence> pool_in_network(const string& id) const {
    const site::Network& network = site_.networks.at(id);
    if (network.has_pool.value == false) return std::nullopt;
    const Known& known = networks_.at(id);
    const Asked question = asked("pool_in_network", id);
    const string &first = network.pool_first, &last = network.pool_last;
    const bool backwards = !known.pool_gaps.empty() && known.pool_gaps.front().reason == "undecided";
    std::vector<Gap> gaps = backwards ? std::vector<Gap>{} : known.pool_gaps;
    if (!known.range) gaps.push_back({network_pointer(id, "range"), "unknown"});
    if (!gaps.empty()) return undeclared(question, std::move(gaps), say::network_not_known(known.name));
    const IpRange allowed = hosts(*known.range);
    const Message remedy = say::set_pool(known.name, text(allowed.first), text(allowed.last));
    if (backwards) return declared(question, {Verdict::broken, say::pool_backwards(known.name, first, last), {remedy}});
    const string range = text(*known.range);
    if (!contains(allowed, known.pool->first) || !contains(allowed, known.pool->last))
      return declared(question, {Verdict::broken, say::pool_outside(known.name, first, last, range), {remedy}});
    return declared(question, {Verdict::proven, say::pool_fits(known.name, first, last, range), {}});
  }

  Evidence networks_overlap(const string& id) const {
    const Known& own = networks_.at(id);
    const Asked question = asked("networks_overlap", id);
    std::vector<string> others;
    std::vector<Gap> gaps;
    for (const auto& [other, known] : networks_) {
      if (!known.range) gaps.push_back({network_pointer(other, "range"), "unknown"});
      if (other != id && own.range && known.range && overlap(*own.range, *known.range)) others.push_back(known.name);
    }
    const string range = own.range ? text(*own.range) : "?";
    if (!others.empty())
      return declared(
          question,
          {Verdict::broken, say::network_overlaps(own.name, range, others), {say::give_other_range(own.name)}});
    return declared_unless(std::move(gaps), question, say::network_not_known(own.name),
                           {Verdict::proven, say::network_apart(own.name, range), {}});
  }

  const site::Site& site_;
  Routes routes_;
  std::set<string> talkers_, used_;  ///< devices; networks
  std::map<string, Known> networks_;
  std::map<IpAddress, std::vector<string>> holders_;
  std::map<string, std::vector<Gap>> missing_;  ///< by network: addresses that somebody has and nobody has entered
  std::vector<Evidence> answers_;
};

}  // namespace

std::vector<Evidence> check_addressing(const site::Site& site) { return Addressing(site).all(); }

}  // namespace zoneproof::carriage
