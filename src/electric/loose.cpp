#include "electric/loose.hpp"

#include <numeric>

#include "electric/element_name.hpp"
#include "electric/terminal.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Node;

/// Which nodes hang together, in whatever state the elements between them are. A current source is no join, nor is a
/// resistor that is infinite in any case.
class Parts {
 public:
  explicit Parts(const circuit::Network& network) : parent_(static_cast<std::size_t>(network.node_count())) {
    std::iota(parent_.begin(), parent_.end(), 0);
    for (const circuit::Element& element : network.elements()) {
      const bool open = element.kind == circuit::Kind::resistor && element.value.low == circuit::infinite;
      if (element.kind != circuit::Kind::current && !open) parent(part_of(element.from)) = part_of(element.to);
    }
  }

  Node part_of(Node node) {
    Node root = node;
    while (parent(root) != root) root = parent(root) = parent(parent(root));
    return root;
  }

 private:
  Node& parent(Node node) { return parent_.at(static_cast<std::size_t>(node)); }

  std::vector<Node> parent_;
};

bool ends_in(const std::string& name, std::string_view ending) {
  return name.size() >= ending.size() && name.compare(name.size() - ending.size(), ending.size(), ending) == 0;
}

}  // namespace

std::map<std::string, int> join_loose_supplies(const Backbone& backbone, Wiring& wiring) {
  Parts parts(wiring.network);
  std::map<Node, int> numbers = {{parts.part_of(circuit::reference), 0}};
  std::map<std::string, int> part_of;
  for (const auto& [id, poles] : backbone.supplies) {
    const auto [number, loose] = numbers.emplace(parts.part_of(poles.minus), static_cast<int>(numbers.size()));
    part_of[id] = number->second;
    if (loose) wiring.resistor(part_name(id, "datum"), poles.minus, circuit::reference, Tracked::fact(0.0));
  }
  for (Node node = 1; node < wiring.network.node_count(); ++node) {
    const std::string name = wiring.network.node_name(node);
    if (!ends_in(name, part_name("", floating_reference))) continue;
    if (numbers.emplace(parts.part_of(node), static_cast<int>(numbers.size())).second) {
      wiring.resistor(part_name(name, "datum"), node, circuit::reference, Tracked::fact(0.0));
    }
  }
  return part_of;
}

}  // namespace zoneproof::electric
