#include "electric/excerpt.hpp"

#include <map>
#include <mutex>
#include <set>
#include <utility>
#include <vector>

#include "electric/excerpt_graph.hpp"
#include "site/relations.hpp"
#include "site/walk.hpp"

namespace zoneproof::electric {

namespace {

using site::Site;

template <class T>
void copy(const site::Map<T>& from, const Ids& ids, site::Map<T>& to) {
  for (const std::string& id : ids) {
    const auto found = from.find(id);
    if (found != from.end()) to.emplace_hint(to.end(), id, found->second);
  }
}

}  // namespace

class Excerpts::Inside {
 public:
  explicit Inside(const Site& site) : site_(site), graph_(site) {
    for (const auto& [id, trigger] : site.triggers) {
      by_unit_[trigger.unit.id].insert(id);
      by_zone_[trigger.zone.id].insert(id);
      if (trigger.at_input.known()) by_terminal_[{trigger.at_panel.id, *trigger.at_input.value}].insert(id);
    }
    for (const auto& [id, zone] : site.zones) {
      if (zone.input.known()) on_terminal_[{zone.panel.id, *zone.input.value}].insert(id);
      if (zone.loop.shared_return.known()) on_return_[zone.loop.shared_return.id].insert(id);
      if (zone.doubled_with.known()) doubled_[zone.doubled_with.id].insert(id);
    }
    for (const auto& [id, detector] : site.detectors) {
      if (detector.zone.known()) of_zone_[detector.zone.id].insert(id);
    }
  }

  Site of_zone(const std::string& zone) const {
    Kept kept = surroundings(zone);
    const Kept& around = around_of(touched_by(kept));
    const Ids named = kept.detectors;
    add(around, kept);
    Site part = made_of(kept);
    for (const std::string& id : named) {  // kept for its contacts: what it draws, and from where, is not felt here
      const auto detector = part.detectors.find(id);
      if (detector != part.detectors.end() && around.detectors.count(id) == 0) detector->second.feed = unfelt_feed();
    }
    return part;
  }

  Site of_supply(const std::string& supply) const { return made_of(around_of({supply})); }

  Site of_arming(const std::string& unit) const {
    Kept kept;
    kept.units.insert(unit);
    const std::string& output = site_.units.at(unit).arming.output.id;
    if (const auto found = site_.outputs.find(output); found != site_.outputs.end()) {
      kept.outputs.insert(output);
      kept.panels.insert(found->second.panel.id);
      for (const auto& [id, other] : site_.units) {
        if (other.arming.output.id == output) kept.units.insert(id);
      }
    }
    add(around_of(touched_by(kept)), kept);
    return made_of(kept);
  }

  Site of_supplies() const {
    Kept kept;
    const auto all = [](const auto& collection, Ids& ids) {
      for (const auto& entry : collection) ids.insert(entry.first);
    };
    all(site_.supplies, kept.supplies);
    all(site_.junctions, kept.junctions);
    all(site_.panels, kept.panels);
    all(site_.detectors, kept.detectors);
    all(site_.loads, kept.loads);
    all(site_.units, kept.units);
    all(site_.bonds, kept.bonds);
    Site part = made_of(kept);
    for (const auto& [id, trigger] : site_.triggers) {
      site::Trigger& wire = part.triggers[id];
      wire.unit = trigger.unit;
      wire.at_panel = trigger.at_panel;
    }
    return part;
  }

 private:
  static void add(const Kept& around, Kept& kept) {
    for (Ids Kept::*collection :
         {&Kept::supplies, &Kept::junctions, &Kept::panels, &Kept::detectors, &Kept::loads, &Kept::units, &Kept::bonds})
      (kept.*collection).insert((around.*collection).begin(), (around.*collection).end());
  }

  using Screw = std::pair<std::string, long long>;

  template <class Key>
  static void join(const std::map<Key, Ids>& index, const Key& key, Ids& ids) {
    if (const auto found = index.find(key); found != index.end())
      ids.insert(found->second.begin(), found->second.end());
  }

  /// Zones on the terminal of `zone`, on its pair, and on its return conductor.
  void add_neighbours(const std::string& zone, Ids& zones) const {
    const auto found = site_.zones.find(zone);
    if (found == site_.zones.end()) return;
    const site::Zone& own = found->second;
    if (own.input.known()) join(on_terminal_, Screw{own.panel.id, *own.input.value}, zones);
    if (own.loop.shared_return.known()) join(on_return_, own.loop.shared_return.id, zones);
    if (own.doubled_with.known()) zones.insert(own.doubled_with.id);
    join(doubled_, zone, zones);
  }

  /// Zones, triggers, units, outputs and detectors that have to do with the zone by what the file says of them.
  Kept surroundings(const std::string& zone) const {
    Kept kept;
    kept.own_zones.insert(zone);
    const std::string owner = site::loop_owner(site_, zone);
    if (!owner.empty()) kept.own_zones.insert(owner);
    kept.zones = kept.own_zones;
    for (const std::string& own : kept.own_zones) {
      add_neighbours(own, kept.zones);
      join(by_zone_, own, kept.triggers);
      const auto found = site_.zones.find(own);
      if (found != site_.zones.end() && found->second.input.known())
        join(by_terminal_, Screw{found->second.panel.id, *found->second.input.value}, kept.triggers);
    }
    kept.own_triggers = kept.triggers;
    for (const std::string& id : Ids(kept.triggers)) {
      const std::string& unit = site_.triggers.at(id).unit.id;
      if (site_.units.count(unit) == 0) continue;
      kept.units.insert(unit);
      join(by_unit_, unit, kept.triggers);
    }
    for (const std::string& id : kept.triggers) add_trigger(site_.triggers.at(id), kept);
    for (const std::string& own : kept.own_zones) {
      add_detectors(own, kept.detectors);
      add_return(own, kept.panels);
    }
    for (const std::string& unit : kept.units) kept.outputs.insert(site_.units.at(unit).arming.output.id);
    for (const std::string& output : kept.outputs) {
      const auto found = site_.outputs.find(output);
      if (found != site_.outputs.end()) kept.panels.insert(found->second.panel.id);
    }
    for (const std::string& id : kept.zones) {
      if (const auto found = site_.zones.find(id); found != site_.zones.end())
        kept.panels.insert(found->second.panel.id);
    }
    return kept;
  }

  void add_trigger(const site::Trigger& trigger, Kept& kept) const {
    kept.zones.insert(trigger.zone.id);
    kept.panels.insert(trigger.at_panel.id);
    kept.detectors.insert(trigger.detector.id);
    kept.outputs.insert(trigger.output.id);
    if (trigger.at_input.known()) join(on_terminal_, Screw{trigger.at_panel.id, *trigger.at_input.value}, kept.zones);
  }

  void add_detectors(const std::string& zone, Ids& detectors) const {
    join(of_zone_, zone, detectors);
    const auto found = site_.zones.find(zone);
    if (found == site_.zones.end()) return;
    for (const auto& entry : found->second.loop.contacts) detectors.insert(entry.second.detector.id);
  }

  /// The panel at which the return conductor of the zone ends, which need not be the zone's own.
  void add_return(const std::string& zone, Ids& panels) const {
    const auto found = site_.zones.find(zone);
    if (found == site_.zones.end()) return;
    const auto shared = site_.shared_returns.find(found->second.loop.shared_return.id);
    if (shared != site_.shared_returns.end()) panels.insert(shared->second.panel.id);
  }

  static Ids touched_by(const Kept& kept) {
    Ids touched = kept.panels;
    touched.insert(kept.units.begin(), kept.units.end());
    return touched;
  }

  const Kept& around_of(const Ids& touched) const {
    {
      const std::lock_guard<std::mutex> lock(mutex_);
      if (const auto known = around_.find(touched); known != around_.end()) return known->second;
    }
    Kept made = graph_.around(touched);
    const std::lock_guard<std::mutex> lock(mutex_);
    return around_.emplace(touched, std::move(made)).first->second;
  }

  Site made_of(const Kept& kept) const {
    Site part;
    part.version = site_.version;
    part.origin = site_.origin;
    part.rulebook = site_.rulebook;
    part.bonds_complete = site_.bonds_complete;
    copy(site_.supplies, kept.supplies, part.supplies);
    copy(site_.junctions, kept.junctions, part.junctions);
    copy(site_.panels, kept.panels, part.panels);
    copy(site_.detectors, kept.detectors, part.detectors);
    copy(site_.loads, kept.loads, part.loads);
    copy(site_.units, kept.units, part.units);
    copy(site_.bonds, kept.bonds, part.bonds);
    copy(site_.triggers, kept.triggers, part.triggers);
    copy(site_.outputs, kept.outputs, part.outputs);
    copy(site_.zones, kept.zones, part.zones);
    for (auto& [id, zone] : part.zones) {
      if (kept.own_zones.count(id) == 0) zone.loop = seen_from_beside(zone.loop);
    }
    for (auto& [id, trigger] : part.triggers) {
      if (kept.own_triggers.count(id) == 0) trigger.setting = {};
    }
    for (const auto& [id, battery] : site_.batteries) {
      if (!battery.supply.known() || kept.supplies.count(battery.supply.id) != 0) part.batteries.emplace(id, battery);
    }
    copy_named(part);
    part.rulebooks = site_.rulebooks;  // they name nothing
    return part;
  }

  static site::Feed unfelt_feed() {
    site::Feed feed;
    feed.from.id = "none";
    return feed;
  }

  static site::Loop seen_from_beside(const site::Loop& loop) {
    site::Loop seen;
    seen.arrangement = loop.arrangement;  // tells whose pair it is, of two zones on one
    seen.shared_return = loop.shared_return;
    return seen;
  }

  /// Ids that references hold, by the collection that they may stand in.
  using Named = std::map<std::string_view, Ids>;

  /// Parts, areas, cables and return conductors that anything kept names; the latter name some themselves.
  void copy_named(Site& part) const {
    Named named;
    add_names(part, named);
    copy(site_.shared_returns, named["shared_returns"], part.shared_returns);
    for (const auto& entry : part.shared_returns) add_names(entry.second, named);
    copy(site_.cables, named["cables"], part.cables);
    for (const auto& entry : part.cables) add_names(entry.second, named);
    copy(site_.parts, named["parts"], part.parts);
    copy(site_.areas, named["areas"], part.areas);
  }

  template <class T>
  static void add_names(const T& object, Named& named) {
    site::each_reference(site::record_of<T>(), &object, [&](const site::Field& field, const site::Ref& reference) {
      for (const std::string_view collection : field.targets) named[collection].insert(reference.id);
    });
  }

  const Site& site_;
  ExcerptGraph graph_;
  std::map<std::string, Ids> by_unit_, by_zone_;    ///< triggers
  std::map<Screw, Ids> by_terminal_;                ///< triggers
  std::map<Screw, Ids> on_terminal_;                ///< zones
  std::map<std::string, Ids> on_return_, doubled_;  ///< zones
  std::map<std::string, Ids> of_zone_;              ///< detectors
  mutable std::mutex mutex_;
  mutable std::map<Ids, Kept> around_;
};

Excerpts::Excerpts(const Site& site) : inside_(std::make_unique<Inside>(site)) {}
Excerpts::~Excerpts() = default;
Excerpts::Excerpts(Excerpts&&) noexcept = default;

Site Excerpts::of_zone(const std::string& zone) const { return inside_->of_zone(zone); }

Site Excerpts::of_supply(const std::string& supply) const { return inside_->of_supply(supply); }

Site Excerpts::of_arming(const std::string& unit) const { return inside_->of_arming(unit); }
Site Excerpts::of_supplies() const { return inside_->of_supplies(); }

Site excerpt_of_supply(const Site& site, const std::string& supply) { return Excerpts(site).of_supply(supply); }

Site excerpt_of_zone(const Site& site, const std::string& zone) { return Excerpts(site).of_zone(zone); }

}  // namespace zoneproof::electric
