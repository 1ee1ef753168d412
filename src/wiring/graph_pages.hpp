#pragma once
#include <string>
#include <vector>

#include "schematic/boxes.hpp"
#include "wiring/page.hpp"

namespace zoneproof::wiring {

/// Boxes and single lines between them.
struct GraphNode {
  std::string id, name, link;
  std::vector<std::string> notes;
  int column = 0;
  bool small = false;  ///< a line of text where its name is short and one line comes to it
};
struct GraphEdge {
  std::string id;
  std::size_t a = 0, b = 0;      ///< by their places among the nodes
  schematic::CableOf over;       ///< its words and mark; cores are set here
  std::string label_a, label_b;  ///< of its terminals
};
struct Graph {
  std::vector<GraphNode> nodes;
  std::vector<GraphEdge> edges;
};

struct GraphSet {
  std::string id, title, heading, description;  ///< `heading`: where it shares a sheet
  std::vector<std::string> key;
  Graph graph;
};

/// Each node's distance from the nearest root, over edges; nodes that no root leads to: one more than the largest.
void set_columns(Graph& graph, const std::vector<std::size_t>& roots);

/// On one sheet where that or the next larger paper holds it; else in parts on several, edge by edge in the order that
/// is given, with the boxes that a part needs. None for a graph without nodes.
std::vector<Page> graph_pages(const Context& context, const GraphSet& set);

/// Drawings that have a sheet each, on one if it holds all of them, each under its heading; else as they are.
std::vector<Page> on_one_sheet(const Context& context, std::vector<std::vector<Page>> sets);

}  // namespace zoneproof::wiring
