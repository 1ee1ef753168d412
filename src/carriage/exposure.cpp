#include "carriage/exposure.hpp"

#include <map>
#include <set>

#include "base/ip_kind.hpp"
#include "carriage/declared.hpp"
#include "carriage/naming.hpp"
#include "carriage/route.hpp"
#include "carriage/site_addresses.hpp"
#include "messages/carriage.hpp"
#include "site/words.hpp"

namespace zoneproof::carriage {

using chain::Evidence;
using chain::Gap;
using chain::Verdict;
using electric::Tracked;
using site::ReachedFrom;
using std::string;

namespace {

string port_words(const site::Word<site::Transport>& transport, const site::Count& port) {
  const string number = port.known() ? std::to_string(*port.value) : "?";
  return transport.known() ? string(site::word_of(*transport.value)) + " " + number : number;
}

/// Things found, and what may hide more of them.
struct Found {
  std::vector<string> sure;
  std::vector<Term> hidden;

  void may_be(const string& pointer, const char* lacks = nullptr) {
    hidden.push_back({anything(pointer, lacks), true, ""});
  }
  Number count() const {
    std::vector<Term> terms = hidden;
    terms.push_back({Tracked::fact(static_cast<double>(sure.size())), true, ""});
    return sum_of(terms);
  }
};

bool from_anywhere(const site::Service& service) { return service.reached_from.is(ReachedFrom::anywhere); }

class Exposure {
 public:
  explicit Exposure(const site::Site& site) : site_(site), routes_(site) {
    for (const auto& [id, address] : site.addresses)
      if (address.device.known()) devices_.insert(address.device.id);
    for (const string& id : talkers(site)) devices_.insert(id);
    for (const auto& entry : site.routers) devices_.insert(entry.first);
    for (const Talk& talk : talks(site)) {
      crosses(talk.from, talk.to);
      crosses(talk.to, talk.from);
    }
  }

  std::vector<Evidence> all() && {
    for (const auto& [id, router] : site_.routers) add(forwarded(id, router));
    for (const string& id : devices_) {
      add(password(id));
      add(open_services(id));
      add(plain_services(id));
    }
    for (const auto& [id, address] : site_.addresses) {
      if (site_.routers.count(address.device.id) == 0) add(public_address(id, address));
      if (site_.cameras.count(address.device.id) != 0 || site_.recorders.count(address.device.id) != 0)
        add(way_out(id, address));
    }
    return std::move(answers_);
  }

 private:
  void add(Evidence evidence) { answers_.push_back(std::move(evidence)); }

  void crosses(const string& from, const string& to) {
    const Reach by = routes_.reach(from, to);
    if (by.how == Reach::How::by_router) needed_.insert({from, by.router});
    for (const Gap& gap : by.gaps) chain::add_gap(may_need_[from], gap);
  }

  Evidence counted(const Asked& asked, const Found& found, const char* rule) const {
    return held(asked, found.count(), Side::at_most, limit_from(chain::limit_of(site_, rule)));
  }

  static long long limit_in(const Evidence& evidence) { return static_cast<long long>(evidence.limit.value_or(0.0)); }

  Evidence forwarded(const string& id, const site::Router& router) const {
    Found found;
    for (const auto& entry : router.forwarded) {
      const site::Forwarding& one = entry.second;
      const string port = port_words(one.transport, one.outside_port);
      found.sure.push_back(one.to.known() ? port + " > " + device_words(site_, one.to.id) : port);
    }
    if (!router.forwarded_complete.yes()) found.may_be(router.forwarded_complete.pointer, "incomplete_list");
    Evidence evidence = counted({"forwarded_ports", id, "count", "", ""}, found, "forwarded_ports_most");
    const string name = device_words(site_, id);
    const auto ports = static_cast<long long>(found.sure.size());
    evidence.says =
        evidence.value ? say::ports_forwarded(name, ports, limit_in(evidence)) : say::forwarding_not_known(name);
    if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::take_forwarding_out(name, found.sure));
    return evidence;
  }

  /// Of all addresses of a device; one that has none in the file may have anything.
  template <class Look>
  Found look_through(const string& device, const Look& look) const {
    Found found;
    const std::vector<string>& own = routes_.addresses_of(device);
    if (own.empty()) found.may_be("/addresses");
    for (const string& id : own) look(site_.addresses.at(id), found);
    return found;
  }

  Evidence password(const string& id) const {
    Found found = look_through(id, [](const site::Address& address, Found& to) {
      if (!address.own_password.known())
        to.may_be(address.own_password.pointer);
      else if (!address.own_password.yes())
        to.sure = {address.device.id};
    });
    Evidence evidence = counted({"delivered_password", id, "count", "", ""}, found, "delivered_passwords_most");
    const string name = device_words(site_, id);
    evidence.says = !evidence.value      ? say::password_not_known(name)
                    : found.sure.empty() ? say::password_is_own(name)
                                         : say::password_as_delivered(name);
    if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::set_own_password(name));
    return evidence;
  }

  /// `judge` puts one service where it belongs: sure, hidden or neither.
  template <class Judge>
  Found services(const string& device, const Judge& judge) const {
    return look_through(device, [&](const site::Address& address, Found& to) {
      for (const auto& entry : address.services) judge(entry.second, to);
      if (!address.services_complete.yes()) to.may_be(address.services_complete.pointer, "incomplete_list");
    });
  }

  static string port_of(const site::Service& service) { return port_words(service.transport, service.port); }

  Evidence open_services(const string& id) const {
    const Found found = services(id, [](const site::Service& service, Found& to) {
      if (from_anywhere(service)) to.sure.push_back(port_of(service));
      if (!service.reached_from.known()) to.may_be(service.reached_from.pointer);
    });
    Evidence evidence = counted({"open_services", id, "count", "", ""}, found, "open_services_most");
    const string name = device_words(site_, id);
    const auto ports = static_cast<long long>(found.sure.size());
    evidence.says =
        evidence.value ? say::services_open(name, ports, limit_in(evidence)) : say::services_not_known(name);
    if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::close_services(name, found.sure));
    return evidence;
  }

  Evidence plain_services(const string& id) const {
    const Found found = services(id, [](const site::Service& service, Found& to) {
      if (service.encrypted.yes() || service.reached_from.is(ReachedFrom::own_network)) return;
      if (service.encrypted.known() && service.reached_from.known()) to.sure.push_back(port_of(service));
      if (!service.encrypted.known()) to.may_be(service.encrypted.pointer);
      if (!service.reached_from.known()) to.may_be(service.reached_from.pointer);
    });
    Evidence evidence = counted({"plain_services", id, "count", "", ""}, found, "plain_services_most");
    const string name = device_words(site_, id);
    const auto ports = static_cast<long long>(found.sure.size());
    evidence.says =
        evidence.value ? say::services_plain(name, ports, limit_in(evidence)) : say::services_not_known(name);
    if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::encrypt_services(name, found.sure));
    return evidence;
  }

  /// The only kind that the address can be of, and a gap where there is none.
  std::optional<IpKind> kind_of(const string& id, const site::Address& address, std::vector<Gap>& gaps) const {
    if (const auto value = value_of(address)) return ip_kind(*value);
    if (!address.given_by.is(site::AddressBy::pool)) gaps.push_back({address_pointer(id), "unknown"});
    const auto network = site_.networks.find(address.network.id);
    if (network == site_.networks.end()) gaps.push_back({address.network.pointer, "unknown"});
    if (!gaps.empty()) return std::nullopt;
    const std::optional<IpNetwork> range = value_of(network->second);
    if (!range) gaps.push_back({network_pointer(network->first, "range"), "unknown"});
    if (range && ip_kind(range->first()) == ip_kind(range->last())) return ip_kind(range->first());
    if (range) gaps.push_back({network_pointer(network->first, "range"), "undecided"});
    return std::nullopt;
  }

  Evidence public_address(const string& id, const site::Address& address) const {
    const Asked asked{"public_address", id, "address", "", ""};
    const string name = device_words(site_, address.device.id);
    std::vector<Gap> gaps;
    const std::optional<IpKind> kind = kind_of(id, address, gaps);
    if (kind == IpKind::global && !address.device.known()) gaps.push_back({address.device.pointer, "unknown"});
    if (!gaps.empty()) return undeclared(asked, std::move(gaps), say::address_not_known(name));
    if (kind != IpKind::global) return declared(asked, {Verdict::proven, say::address_not_public(name), {}});
    const auto value = value_of(address);
    const string shown = value ? text(*value) : site_.networks.at(address.network.id).range;
    return declared(asked, {Verdict::broken, say::address_public(name, shown), {say::take_inside(name)}});
  }

  Evidence way_out(const string& id, const site::Address& address) const {
    const Asked asked{"way_out_not_needed", id, "way", "", ""};
    const string name = device_words(site_, address.device.id);
    if (address.gateway.none()) return declared(asked, {Verdict::proven, say::no_way_out(name), {}});
    if (address.gateway.unknown())
      return undeclared(asked, {{address.gateway.pointer, "unknown"}}, say::way_out_of_device_not_known(name));
    if (needed_.count({address.device.id, address.gateway.id}) != 0)
      return declared(asked, {Verdict::proven, say::way_out_needed(name), {}});
    if (const auto open = may_need_.find(address.device.id); open != may_need_.end() && !open->second.empty())
      return undeclared(asked, open->second, say::way_out_of_device_not_known(name));
    return declared(asked, {Verdict::thin, say::way_out_not_needed(name), {say::take_gateway_out(name)}});
  }

  const site::Site& site_;
  Routes routes_;
  std::set<string> devices_;
  std::set<std::pair<string, string>> needed_;  ///< devices that talk beyond their network, and their gateways to there
  std::map<string, std::vector<Gap>> may_need_;
  std::vector<Evidence> answers_;
};

}  // namespace

std::vector<Evidence> check_exposure(const site::Site& site) { return Exposure(site).all(); }

}  // namespace zoneproof::carriage
