#pragma once
#include <utility>
#include <vector>

#include "circuit/nodal.hpp"
#include "circuit/variation.hpp"

/// Inside of the engine: what ties each node of a solved network to the reference, and what a few changes cut off.
namespace zoneproof::circuit {

/// What a few changes cut off from the reference. A site has thousands of nodes, and a movement cuts off a few: only
/// these are kept.
struct CutOff {
  std::vector<std::pair<Node, int>> nodes;  ///< by node: which part it is cut off with, from 1
  std::vector<ElementIndex> kept;           ///< opened elements that may stay closed: one way out of each part, no loop

  bool any() const { return !nodes.empty(); }
  /// 0: it is tied down. Cost: log of what is cut off.
  int part(Node node) const;
};

class Ties {
 public:
  /// Both are referred to.
  Ties(const Network& network, const NodalSystem& system);

  /// Nothing (`any()` is false) where all that was tied down still is; what floated before is not spoken of. Exact:
  /// whether something conducts is asked, not how well. Cost: the way to the reference for each end of what is opened,
  /// and the nodes that are cut off.
  CutOff cut_off(const std::vector<Change>& changes) const;

 private:
  struct Way {
    Node other = -1;
    ElementIndex element = -1;
  };
  class Search;

  const Network& network_;
  const NodalSystem& system_;
  std::vector<std::vector<Way>> ways_;  ///< per node: what conducts there
  std::vector<Way> up_;                 ///< per node: towards the reference; other -1: it is the reference, or floats
};

}  // namespace zoneproof::circuit
