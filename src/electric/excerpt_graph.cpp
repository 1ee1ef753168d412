#include "electric/excerpt_graph.hpp"

#include "circuit/reach.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using circuit::Node;
using site::Site;

ExcerptGraph::ExcerptGraph(const Site& site) : site_(site) {
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

Kept ExcerptGraph::around(const Ids& touched) const {
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

void ExcerptGraph::edge(Node a, Node b, Collection collection, const std::string& id) {
  network_.resistor("e" + std::to_string(owners_.size()), a, b, circuit::Range::exactly(1.0));
  owners_.push_back({collection, id});
}

void ExcerptGraph::add_supply(const std::string& id, const site::Supply& supply) {
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
std::optional<ExcerptGraph::Poles> ExcerptGraph::poles_of(const std::string& id, const site::Feed& feed,
                                                          Collection collection) {
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

ExcerptGraph::Poles ExcerptGraph::root_of(const site::Feed& feed) {
  const auto junction = site_.junctions.find(feed.from.id);
  if (junction != site_.junctions.end())
    return *poles_of(junction->first, junction->second.feed, &Kept::junctions);  // its supply was found
  const Poles rail = poles_.at(feed.from.id);
  const std::optional<Node> output = network_.find_node(feed.from.id + "." + feed.output);
  return {feed.output.empty() || !output ? rail.first : *output, rail.second};
}

void ExcerptGraph::add_load(const std::string& id, const site::Feed& feed, Collection collection) {
  if (const auto poles = poles_of(id, feed, collection)) edge(poles->first, poles->second, collection, id);
}

void ExcerptGraph::add_bond(const std::string& id, const site::Bond& bond) {
  const auto a = poles_.find(bond.a.id), b = poles_.find(bond.b.id);
  if (a == poles_.end() || b == poles_.end()) {
    always_.bonds.insert(id);
  } else {
    edge(a->second.second, b->second.second, &Kept::bonds, id);
  }
}

/// A thing that is touched is there even where no current goes through it, with all that feeds it.
void ExcerptGraph::keep_way_to(const std::string& id, Kept& kept) const {
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

}  // namespace zoneproof::electric
