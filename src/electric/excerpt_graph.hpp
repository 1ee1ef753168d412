#pragma once
#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "circuit/network.hpp"
#include "site/model.hpp"

/// Inside of the excerpts (excerpt.hpp): the site as a graph of poles, and what hangs together in it.
namespace zoneproof::electric {

using Ids = std::set<std::string>;

/// Objects of a site by collection.
struct Kept {
  Ids supplies, junctions, panels, detectors, loads, units, bonds, zones, triggers, outputs;
  Ids own_zones, own_triggers;  ///< of zones and triggers: those that are not merely beside
};

/// Its edges are resistors of 1 ohm; the reference node is the zone, or whatever else is looked at.
class ExcerptGraph {
 public:
  /// `site` must outlive it. Cost: linear in the site.
  explicit ExcerptGraph(const site::Site& site);

  /// Everything in a block with what is looked at, where that touches both poles of all that `touched` names.
  /// Cost: linear in the site.
  Kept around(const Ids& touched) const;

 private:
  using Collection = Ids Kept::*;
  using Poles = std::pair<circuit::Node, circuit::Node>;  ///< plus, minus
  struct Owner {
    Collection collection;
    std::string id;
  };

  void edge(circuit::Node a, circuit::Node b, Collection collection, const std::string& id);
  void add_supply(const std::string& id, const site::Supply& supply);
  std::optional<Poles> poles_of(const std::string& id, const site::Feed& feed, Collection collection);
  Poles root_of(const site::Feed& feed);
  void add_load(const std::string& id, const site::Feed& feed, Collection collection);
  void add_bond(const std::string& id, const site::Bond& bond);
  void keep_way_to(const std::string& id, Kept& kept) const;

  const site::Site& site_;
  circuit::Network network_;
  std::vector<Owner> owners_;  ///< per element
  std::map<std::string, Poles> poles_;
  Kept always_;  ///< whatever is looked at: nobody knows where it hangs
};

}  // namespace zoneproof::electric
