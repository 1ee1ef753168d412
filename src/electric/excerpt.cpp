#include "electric/excerpt.hpp"

#include <map>
#include <mutex>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "circuit/reach.hpp"
#include "site/relations.hpp"
#include "site/walk.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Node;
using site::Site;
using Ids = std::set<std::string>;

/// Objects of a site by collection.
struct Kept {
  Ids supplies, junctions, panels, detectors, loads, units, bonds, zones, whole_zones, triggers, outputs;
};

/// The site as a graph, with resistors of 1 ohm for edges. The reference node is the zone that is looked at.
class Graph {
 public:
  explicit Graph(const Site& site) : site_(site) {
    for (const auto& [id, supply] : site.supplies) add_supply(id, supply);
    for (const auto& [id, junction] : site.junctions) poles_of(id, junction.feed, &Kept::junctions);
    for (const auto& [id, panel] : site.panels) add_load(id, panel.feed, &Kept::panels);
    for (const auto& [id, detector] : site.detectors) {
      if (!detector.feed.from.none()) add_load(id, detector.feed, &Kept::detectors);
    }
    for (const auto& [id, load] : site.loads) add_load(id, load.feed, &Kept::loads);
    for (const auto& [id, unit] : site.units) add_load(id, unit.feed, &Kept::units);
    for (const auto& [id, bond] : site.bonds) add_bond(id, bond);
  }

  /// Everything in a block with the zone, where the zone touches both poles of all that `touched` names.
  Kept around(const Ids& touched) const {
    circuit::Network network = network_;
    std::vector<circuit::Quantity> asked;
    for (const std::string& id : touched) {
      const auto found = poles_.find(id);
      if (found == poles_.end()) continue;
      for (const Node pole : {found->second.first, found->second.second}) {
        network.resistor("zone" + std::to_string(network.elements().size()), circuit::reference, pole,
                         circuit::Range::exactly(1.0));
        asked.push_back(circuit::Quantity::voltage(pole));
      }
    }
    const std::vector<bool> in_reach = circuit::within_reach(network, asked);
    Kept kept = always_;
    for (std::size_t e = 0; e < owners_.size(); ++e) {
      if (in_reach[e]) (kept.*owners_[e].collection).insert(owners_[e].id);
    }
    for (const std::string& id : touched) keep_way_to(id, kept);
    for (const std::string& id : kept.bonds) {  // its ends may stand on poles of another thing
      keep_way_to(site_.bonds.at(id).a.id, kept);
      keep_way_to(site_.bonds.at(id).b.id, kept);
    }
    return kept;
  }

 private:
  using Collection = Ids Kept::*;
  using Poles = std::pair<Node, Node>;  // plus, minus
  struct Owner {
    Collection collection;
    std::string id;
  };

  void edge(Node a, Node b, Collection collection, const std::string& id) {
    network_.resistor("e" + std::to_string(owners_.size()), a, b, circuit::Range::exactly(1.0));
    owners_.push_back({collection, id});
  }

  void add_supply(const std::string& id, const site::Supply& supply) {
    const Poles poles{network_.node(id + ".rail"), network_.node(id + ".neg")};
    poles_[id] = poles;
    edge(poles.first, poles.second, &Kept::supplies, id);
    const site::SupplySpec* spec = site::spec_of(site_, supply.part, &site::Part::supply);
    if (spec == nullptr) return;
    for (const auto& output : spec->outputs)
      edge(poles.first, network_.node(id + "." + output.first), &Kept::supplies, id);
  }

  /// The poles at the far end of a feed, with its conductors; nothing where it is not known what feeds it, or the
  /// junctions go in a circle.
  std::optional<Poles> poles_of(const std::string& id, const site::Feed& feed, Collection collection) {
    if (const auto known = poles_.find(id); known != poles_.end()) return known->second;
    if (site::supply_of(site_, feed).empty()) {
      (always_.*collection).insert(id);
      return std::nullopt;
    }
    const Poles root = root_of(feed);
    Poles poles = root;
    if (!feed.cable.none()) {
      poles = {network_.node(id + ".p"), network_.node(id + ".n")};
      edge(root.first, poles.first, collection, id);
      edge(root.second, poles.second, collection, id);
    }
    return poles_[id] = poles;
  }

  Poles root_of(const site::Feed& feed) {
    const auto junction = site_.junctions.find(feed.from.id);
    if (junction != site_.junctions.end())
      return *poles_of(junction->first, junction->second.feed, &Kept::junctions);  // its supply was found
    const Poles rail = poles_.at(feed.from.id);
    const std::optional<Node> output = network_.find_node(feed.from.id + "." + feed.output);
    return {feed.output.empty() || !output ? rail.first : *output, rail.second};
  }

  void add_load(const std::string& id, const site::Feed& feed, Collection collection) {
    if (const auto poles = poles_of(id, feed, collection)) edge(poles->first, poles->second, collection, id);
  }

  void add_bond(const std::string& id, const site::Bond& bond) {
    const auto a = poles_.find(bond.a.id), b = poles_.find(bond.b.id);
    if (a == poles_.end() || b == poles_.end()) {
      always_.bonds.insert(id);
    } else {
      edge(a->second.second, b->second.second, &Kept::bonds, id);
    }
  }

  /// A thing that is touched is there even where no current goes through it, with all that feeds it.
  void keep_way_to(const std::string& id, Kept& kept) const {
    const site::Feed* feed = nullptr;
    if (const auto panel = site_.panels.find(id); panel != site_.panels.end()) {
      kept.panels.insert(id);
      feed = &panel->second.feed;
    } else if (const auto unit = site_.units.find(id); unit != site_.units.end()) {
      kept.units.insert(id);
      feed = &unit->second.feed;
    } else if (site_.supplies.count(id) != 0) {
      kept.supplies.insert(id);
    }
    if (feed == nullptr) return;
    for (const std::string& junction : site::junctions_of(site_, *feed)) kept.junctions.insert(junction);
    const std::string supply = site::supply_of(site_, *feed);
    if (!supply.empty()) kept.supplies.insert(supply);
  }

  const Site& site_;
  circuit::Network network_;
  std::vector<Owner> owners_;  ///< per element
  std::map<std::string, Poles> poles_;
  Kept always_;  ///< whatever the zone: nobody knows where it hangs
};

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
    add(around_of(touched_by(kept)), kept);
    return made_of(kept);
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
    Site part = site_;
    part.revision = 0;
    part.name.clear();
    part.note.clear();
    part.partitions.clear();
    part.zones.clear();
    part.shared_returns.clear();
    part.outputs.clear();
    for (auto& entry : part.triggers) {
      site::Trigger wire;
      wire.unit = entry.second.unit;
      wire.at_panel = entry.second.at_panel;
      entry.second = std::move(wire);
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
    kept.whole_zones.insert(zone);
    const std::string owner = site::loop_owner(site_, zone);
    if (!owner.empty()) kept.whole_zones.insert(owner);
    kept.zones = kept.whole_zones;
    for (const std::string& whole : kept.whole_zones) {
      add_neighbours(whole, kept.zones);
      join(by_zone_, whole, kept.triggers);
      const auto found = site_.zones.find(whole);
      if (found != site_.zones.end() && found->second.input.known())
        join(by_terminal_, Screw{found->second.panel.id, *found->second.input.value}, kept.triggers);
    }
    for (const std::string& id : Ids(kept.triggers)) {
      const std::string& unit = site_.triggers.at(id).unit.id;
      if (site_.units.count(unit) == 0) continue;
      kept.units.insert(unit);
      join(by_unit_, unit, kept.triggers);
    }
    for (const std::string& id : kept.triggers) add_trigger(site_.triggers.at(id), kept);
    for (const std::string& whole : kept.whole_zones) add_detectors(whole, kept.detectors);
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
    part.rulebooks = site_.rulebooks;
    part.partitions = site_.partitions;
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
      if (kept.whole_zones.count(id) == 0) zone.loop.contacts.clear();
    }
    for (const auto& [id, battery] : site_.batteries) {
      if (!battery.supply.known() || kept.supplies.count(battery.supply.id) != 0) part.batteries.emplace(id, battery);
    }
    copy_named(part);
    return part;
  }

  /// Parts, areas, cables and return conductors that anything kept names; the latter name some themselves.
  void copy_named(Site& part) const {
    std::map<std::string_view, Ids> named = names_in(part);
    copy(site_.shared_returns, named["shared_returns"], part.shared_returns);
    named = names_in(part);
    copy(site_.cables, named["cables"], part.cables);
    named = names_in(part);
    copy(site_.parts, named["parts"], part.parts);
    copy(site_.areas, named["areas"], part.areas);
  }

  /// Ids that the references of a site hold, by the collection that they may stand in.
  static std::map<std::string_view, Ids> names_in(const Site& part) {
    std::map<std::string_view, Ids> named;
    site::walk(site::record_of<Site>(), &part, "",
               [&](const site::Record& record, const void* object, const std::string&) {
                 for (const site::Field& field : record.fields) {
                   if (field.shape == site::Shape::reference) {
                     const auto& ref = *static_cast<const site::Ref*>(field.member_of(object));
                     for (const std::string_view collection : field.targets) named[collection].insert(ref.id);
                   } else if (field.shape == site::Shape::references) {
                     for (const site::Ref& ref : *static_cast<const std::vector<site::Ref>*>(field.member_of(object))) {
                       for (const std::string_view collection : field.targets) named[collection].insert(ref.id);
                     }
                   }
                 }
               });
    return named;
  }

  const Site& site_;
  Graph graph_;
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
