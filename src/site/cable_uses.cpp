#include "site/cable_uses.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "base/json_pointer.hpp"
#include "messages/site.hpp"
#include "site/output_kind.hpp"
#include "site/relations.hpp"

namespace zoneproof::site {

namespace {

using std::string;
using Kind = CableUse::Kind;
constexpr long long kPair = 2;

class Uses {
 public:
  explicit Uses(const Site& site) : site_(site) {}

  std::map<string, std::vector<CableUse>> find() {
    feeds(site_.junctions);
    feeds(site_.panels);
    feeds(site_.detectors);
    feeds(site_.loads);
    feeds(site_.units);
    for (const auto& [id, zone] : site_.zones) add_loop(id, zone);
    for (const auto& [id, shared] : site_.shared_returns)
      add(shared.cable, {Kind::shared_return, shared.panel.id, "", id, 1, first({"minus", shared.cable.id}) ? 1 : 0});
    for (const auto& [id, bond] : site_.bonds) add_bond(id, bond);
    for (const auto& [id, unit] : site_.units) add_arming(id, unit.arming);
    for (const auto& [id, trigger] : site_.triggers) add_trigger(id, trigger);
    for (const auto& [id, link] : site_.data_links) add(link.cable, {Kind::data, link.a.id, link.b.id, id, 0, 0});
    return std::move(uses_);
  }

 private:
  void add(const Ref& cable, CableUse use) {
    if (cable.known()) uses_[cable.id].push_back(std::move(use));
  }

  /// Whether nothing was told of that conductor yet; one after the other hangs on the same.
  bool first(std::vector<string> conductor) { return told_.insert(std::move(conductor)).second; }

  /// Outputs of a supply have their minus in common, and may have it in one core; so may supplies that are joined.
  template <class Fed>
  void feeds(const Map<Fed>& all) {
    for (const auto& [id, fed] : all) {
      const Feed& feed = fed.feed;
      if (feed.from.none()) continue;
      const string &cable = feed.cable.id, &from = feed.from.id;
      const bool own = first({"pair", cable, from, feed.output, feed.core_colour, feed.return_core_colour});
      const long long plus = first({"plus", cable, from, feed.output}) ? 1 : 0;
      const long long minus = first({"minus", cable}) ? 1 : 0;
      add(feed.cable, {Kind::feed, from, id, id, own ? kPair : 0, plus + minus});
    }
  }

  /// The way back of loops that do not say which they have may be one for all, and the core of a feed's minus.
  void add_loop(const string& id, const Zone& zone) {
    const Loop& loop = zone.loop;
    const string far = loop.contacts.empty() ? "" : loop.contacts.begin()->second.detector.id;
    const bool back = loop.shared_return.none() || (loop.shared_return.unknown() && first({"minus", loop.cable.id}));
    add(loop.cable, {Kind::loop, zone.panel.id, far, id, loop.shared_return.known() ? 1 : kPair, back ? kPair : 1});
  }

  /// A screen is no core.
  void add_bond(const string& id, const Bond& bond) {
    const bool screen = bond.kind.is(BondKind::coaxial_screen) || bond.kind.is(BondKind::data_screen);
    add(bond.cable, {Kind::bond, bond.a.id, bond.b.id, id, screen ? 0 : 1, screen || !bond.kind.known() ? 0 : 1});
  }

  void add_arming(const string& id, const Arming& arming) {
    const bool own = !arming.output.known() || first({"arming", arming.cable.id, arming.output.id});
    add(arming.cable, {Kind::arming, panel_of_output(site_, arming.output), id, id, 1, own ? 1 : 0});
  }

  /// A contact, of a detector or of a relay output, needs its way back in the same cable; contacts of one device may
  /// have it in common, and somebody may have bridged it to a supply core. Triggers on one input have one wire.
  void add_trigger(const string& id, const Trigger& trigger) {
    const bool contact = has_way_back(site_, trigger);
    const string &cable = trigger.cable.id, source = source_of(site_, trigger), input = number_of(trigger.input);
    const bool own_wire = input.empty() || !trigger.unit.known() || first({"input", cable, trigger.unit.id, input});
    const bool own_back = contact && own_wire &&
                          (trigger.return_core_colour.empty() ||
                           first({"contact", cable, source, trigger.unit.id, trigger.return_core_colour}));
    const bool own_source =
        first({"source", cable, source, trigger.output.id, trigger.contact, number_of(trigger.at_input)});
    add(trigger.cable, {Kind::trigger, source, trigger.unit.id, id, (own_wire ? 1 : 0) + (own_back ? 1 : 0),
                        own_wire && own_source ? 1 : 0});
  }

  static string number_of(const Count& count) { return count.known() ? std::to_string(*count.value) : ""; }

  const Site& site_;
  std::map<string, std::vector<CableUse>> uses_;
  std::set<std::vector<string>> told_;
};

/// The uses that a message names; a conduit of a cable that a whole site hangs on would fill the screen.
constexpr std::size_t kMostNamed = 12;

/// What the feed of which is meant, as people call it.
string fed_called(const Site& site, const string& id) {
  for (const string* name : {&called(site.junctions, id), &called(site.panels, id), &called(site.detectors, id),
                             &called(site.loads, id), &called(site.units, id)}) {
    if (*name != id) return *name;
  }
  return id;
}

string use_words(const Site& site, const CableUse& use, long long cores) {
  switch (use.kind) {
    case Kind::feed: return text(say::site_core_use_feed(fed_called(site, use.of), cores));
    case Kind::loop: return text(say::site_core_use_loop(called(site.zones, use.of), cores));
    case Kind::shared_return: return text(say::site_core_use_return(called(site.shared_returns, use.of), cores));
    case Kind::trigger: {
      const string& zone = site.triggers.at(use.of).zone.id;
      return text(say::site_core_use_trigger(zone.empty() ? use.of : called(site.zones, zone), cores));
    }
    case Kind::arming: return text(say::site_core_use_arming(called(site.units, use.of), cores));
    default: return text(say::site_core_use_bond(called(site.bonds, use.of), cores));
  }
}

/// A count of the cores of one cable, each use with its own.
struct Taken {
  long long cores = 0;
  std::vector<string> uses;
};

Taken taken(const Site& site, const Cable& cable, const std::vector<CableUse>& uses, long long CableUse::*count) {
  const long long parallel = cable.cores_in_parallel.value.value_or(1);
  Taken all;
  std::size_t unnamed = 0;
  for (const CableUse& use : uses) {
    const long long cores = use.*count * parallel;
    all.cores += cores;
    if (cores == 0) continue;
    if (all.uses.size() < kMostNamed)
      all.uses.push_back(use_words(site, use, cores));
    else
      ++unnamed;
  }
  if (unnamed > 0) all.uses.push_back(text(say::site_core_uses_more(static_cast<long long>(unnamed))));
  return all;
}

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

std::map<string, std::vector<CableUse>> cable_uses(const Site& site) { return Uses(site).find(); }

long long conductors(const std::vector<CableUse>& uses) {
  long long all = 0;
  for (const CableUse& use : uses) all += use.cores;
  return all;
}

std::optional<long long> cores_taken(const Cable& cable, const std::vector<CableUse>& uses) {
  if (!cable.cores_in_parallel.known()) return std::nullopt;
  return conductors(uses) * *cable.cores_in_parallel.value;
}

std::optional<long long> cores_there(const Site& site, const Cable& cable) {
  const CableSpec* spec = spec_of(site, cable.part, &Part::cable);
  return spec != nullptr ? spec->cores.value : std::nullopt;
}

void check_cores(const Site& site, Findings& findings) {
  for (const auto& [id, uses] : cable_uses(site)) {
    const auto cable = site.cables.find(id);
    if (cable == site.cables.end()) continue;
    const std::optional<long long> there = cores_there(site, cable->second);
    if (!there) continue;
    const string& name = name_or_id(cable->second.name, id);
    const string pointer = pointer_child("/cables", id);
    const Taken certain = taken(site, cable->second, uses, &CableUse::at_least);
    if (certain.cores > *there) {
      findings.add(say::site_cores_short(name, *there, certain.cores, certain.uses), pointer, true);
      continue;
    }
    const Taken all = taken(site, cable->second, uses, &CableUse::cores);
    if (all.cores > *there) findings.add(say::site_cores_tight(name, *there, all.cores, all.uses), pointer, true);
  }
}

}  // namespace zoneproof::site
