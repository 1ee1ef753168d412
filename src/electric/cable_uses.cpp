#include "electric/cable_uses.hpp"

#include <array>
#include <set>

#include "electric/output.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using Kind = CableUse::Kind;
constexpr long long kPair = 2;

class Uses {
 public:
  explicit Uses(const site::Site& site) : site_(site) {}

  std::map<std::string, std::vector<CableUse>> find() {
    feeds(site_.junctions);
    feeds(site_.panels);
    feeds(site_.detectors);
    feeds(site_.loads);
    feeds(site_.units);
    for (const auto& [id, zone] : site_.zones) {
      const long long cores = zone.loop.shared_return.known() ? 1 : kPair;
      const std::string far = zone.loop.contacts.empty() ? "" : zone.loop.contacts.begin()->second.detector.id;
      add(zone.loop.cable, {Kind::loop, zone.panel.id, far, id, cores});
    }
    for (const auto& [id, shared] : site_.shared_returns)
      add(shared.cable, {Kind::shared_return, shared.panel.id, "", id, 1});
    for (const auto& [id, bond] : site_.bonds) add(bond.cable, {Kind::bond, bond.a.id, bond.b.id, id, 1});
    for (const auto& [id, unit] : site_.units)
      add(unit.arming.cable, {Kind::arming, site::panel_of_output(site_, unit.arming.output), id, id, 1});
    for (const auto& [id, trigger] : site_.triggers) add_trigger(id, trigger);
    for (const auto& [id, link] : site_.data_links) add(link.cable, {Kind::data, link.a.id, link.b.id, id, 0});
    return std::move(uses_);
  }

 private:
  void add(const site::Ref& cable, CableUse use) {
    if (cable.known()) uses_[cable.id].push_back(std::move(use));
  }

  template <class Fed>
  void feeds(const site::Map<Fed>& all) {
    for (const auto& [id, fed] : all) {
      const site::Feed& feed = fed.feed;
      const bool own =
          pairs_.insert({feed.cable.id, feed.from.id, feed.output, feed.core_colour, feed.return_core_colour}).second;
      add(feed.cable, {Kind::feed, feed.from.id, id, id, own ? kPair : 0});
    }
  }

  /// A contact, of a detector or of a relay output, needs its way back in the same cable.
  void add_trigger(const std::string& id, const site::Trigger& trigger) {
    const auto output = site_.outputs.find(trigger.output.id);
    const bool of_detector =
        trigger.source.is(site::TriggerSource::spare_contact) || trigger.source.is(site::TriggerSource::receiver_relay);
    const bool contact = of_detector || (output != site_.outputs.end() && is_relay(site_, output->second));
    add(trigger.cable, {Kind::trigger, site::source_of(site_, trigger), trigger.unit.id, id, contact ? kPair : 1});
  }

  const site::Site& site_;
  std::map<std::string, std::vector<CableUse>> uses_;
  /// Pairs that feed something already, by cable, source, output and colours: one after the other hangs on the same.
  std::set<std::array<std::string, 5>> pairs_;
};

}  // namespace

const char* word(Kind kind) {
  switch (kind) {
    case Kind::feed: return "feed";
    case Kind::loop: return "loop";
    case Kind::shared_return: return "shared_return";
    case Kind::trigger: return "trigger";
    case Kind::arming: return "arming";
    case Kind::bond: return "bond";
    default: return "data";
  }
}

std::map<std::string, std::vector<CableUse>> cable_uses(const site::Site& site) { return Uses(site).find(); }

}  // namespace zoneproof::electric
