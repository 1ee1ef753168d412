#pragma once
#include <utility>
#include <vector>

#include "circuit/network.hpp"

/// The part of a network that quantities rest on.
///
/// Theory. Nodes tied together by ideal voltage sources, or by no resistance, are one point: whatever current is drawn
/// between them, the sources give it and their voltages stay. A part of the network that is joined to all the rest at
/// one such point only takes as much current out of it as it gives back (Kirchhoff, summed over the part), so no
/// voltage of the rest knows of it. What is left are the blocks of the graph of points (Hopcroft & Tarjan 1973: its
/// parts without a cut point) that lie on the ways from the reference to the nodes asked for. All holds exactly, for
/// every value of every element and whatever its law. It matters because the negatives of a site's supplies are joined
/// in a tree: the supplies, feeds and loads of every other cabinet hang on it by one wire.
namespace zoneproof::circuit {

/// Per element: whether any of `quantities` can depend on it. Parts without a way to the reference are kept whole where
/// a node of a quantity stands in them. Cost: linear in nodes and elements.
std::vector<bool> within_reach(const Network& network, const std::vector<Quantity>& quantities);

/// What may be of any value beside what the elements of a network are: some of them, and bridges between nodes.
struct Open {
  std::vector<ElementIndex> elements;
  std::vector<std::pair<Node, Node>> bridges;
};
/// The other way round: per node, whether its voltage can depend on any of these. A node that no way leads to from the
/// reference is told to. Cost: linear in nodes and elements.
std::vector<bool> moved_by(const Network& network, const Open& open);
/// Per element: whether a voltage of any of `asked` can depend on it, whatever is open.
std::vector<bool> within_reach(const Network& network, const std::vector<Node>& asked, const Open& open);

}  // namespace zoneproof::circuit
