#pragma once
#include <vector>

#include "circuit/worst_case.hpp"

/// Inside of the engine: a smaller network with the same extremes.
///
/// What no quantity can depend on is left out (reach.hpp). Resistors in series, with nothing else at the nodes between
/// them that anybody asks for, are one resistor: their sum, over the sum of their ranges; a resistor that leads nowhere
/// carries nothing; one in series with a current source changes nothing beyond it; and current sources side by side are
/// one. All hold exactly for every value of the box, so an extreme over the reduced box is one over the whole. It
/// matters because ten contacts of a door line are ten switches to a search that takes each for itself, 2^10 cases, and
/// one switch together; and because a detector with its feed is one current instead of two nodes.
namespace zoneproof::circuit {

struct Reduced {
  Network network;                                 ///< nameless
  std::vector<Quantity> quantities;                ///< in the nodes of the reduced network
  std::vector<std::vector<ElementIndex>> made_of;  ///< per element: those of the original that add up to it
  std::vector<Node> original;                      ///< per node: that of the original network
};

/// Cost: linear in nodes and elements.
Reduced reduced(const Network& network, const std::vector<Quantity>& quantities);

/// A corner of the reduced network in the elements of the original: at an end of its range all that add up to an
/// element stand at that end; inside it they share alike.
Corner expanded(const Network& network, const Reduced& reduced, const Corner& corner);

}  // namespace zoneproof::circuit
