#pragma once
#include <vector>

#include "circuit/nodal.hpp"
#include "circuit/variation.hpp"

/// Inside of the engine: what ties each node of a solved network to the reference, and what a few changes cut off.
namespace zoneproof::circuit {

/// What a few changes cut off from the reference.
struct CutOff {
  std::vector<int> part;           ///< per node: which part it is cut off with, from 1; 0: it is tied down
  std::vector<ElementIndex> kept;  ///< opened elements that may stay closed: one way out of each part, no loop
  bool any() const { return !part.empty(); }
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
