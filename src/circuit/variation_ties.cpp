#include "circuit/variation_ties.hpp"

#include <algorithm>

namespace zoneproof::circuit {

int CutOff::part(Node node) const {
  const auto found = std::lower_bound(nodes.begin(), nodes.end(), std::pair(node, 0));
  return found == nodes.end() || found->first != node ? 0 : found->second;
}

Ties::Ties(const Network& network, const NodalSystem& system) : network_(network), system_(system) {
  ways_.resize(at(network.node_count()));
  up_.resize(at(network.node_count()));
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    if (!system.companions()[e].conducts()) continue;
    const Element& element = network.elements()[e];
    ways_[at(element.from)].push_back({element.to, static_cast<ElementIndex>(e)});
    ways_[at(element.to)].push_back({element.from, static_cast<ElementIndex>(e)});
  }
  std::vector<bool> reached(ways_.size(), false);
  std::vector<Node> queue = {reference};
  reached[at(reference)] = true;
  for (std::size_t next = 0; next < queue.size(); ++next) {
    for (const Way& way : ways_[at(queue[next])]) {
      if (reached[at(way.other)]) continue;
      reached[at(way.other)] = true;
      up_[at(way.other)] = {queue[next], way.element};
      queue.push_back(way.other);
    }
  }
}

/// One set of changes.
class Ties::Search {
 public:
  Search(const Ties& ties, const std::vector<Change>& changes) : ties_(ties) {
    for (const Change& change : changes) {
      if (!change.element) {
        if (change.value != infinite) closed_.emplace_back(change.a, change.b);
        continue;
      }
      const Element& element = ties.network_.element(*change.element);
      if (element.kind != Kind::resistor) continue;
      const bool conducted = ties.system_.companions()[at(*change.element)].conducts();
      if (conducted && change.value == infinite) opened_.push_back(*change.element);
      if (!conducted && change.value != infinite) closed_.emplace_back(element.from, element.to);
    }
  }

  CutOff run() {
    for (const ElementIndex e : opened_) {
      for (const Node end : {ties_.network_.element(e).from, ties_.network_.element(e).to}) {
        if (!floated(end) && !known(end) && !explore(end)) ++parts_;
      }
    }
    if (parts_ > 0) keep_ways_out();
    return std::move(result_);
  }

 private:
  bool floated(Node node) const { return ties_.system_.unknown(node) == NodalSystem::floats; }
  bool known(Node node) const { return result_.part(node) != 0; }
  bool is_opened(ElementIndex e) const { return std::find(opened_.begin(), opened_.end(), e) != opened_.end(); }

  /// Whether the way up from the node is as it was.
  bool anchored(Node node) const {
    while (node != reference) {
      const Way& up = ties_.up_[at(node)];
      if (up.other < 0 || is_opened(up.element)) return false;
      node = up.other;
    }
    return true;
  }

  /// Walks from the node to all that hangs together with it, until something is tied down: then true.
  bool explore(Node start) {
    if (anchored(start)) return true;
    std::vector<Node> found = {start};
    const auto reach = [&](Node node) {
      if (std::find(found.begin(), found.end(), node) != found.end()) return false;
      found.push_back(node);
      return anchored(node);
    };
    std::size_t next = 0;
    while (next < found.size()) {
      const Node node = found[next++];
      for (const Way& way : ties_.ways_[at(node)]) {
        if (!is_opened(way.element) && reach(way.other)) return true;
      }
      for (const auto& [a, b] : closed_) {
        if ((a == node && reach(b)) || (b == node && reach(a))) return true;
      }
    }
    for (const Node node : found) result_.nodes.emplace_back(node, parts_ + 1);
    std::sort(result_.nodes.begin(), result_.nodes.end());
    return false;
  }

  /// Among the opened elements, a tree from what is tied down (0) over all parts.
  void keep_ways_out() {
    std::vector<int> joined(at(parts_ + 1));
    for (std::size_t i = 0; i < joined.size(); ++i) joined[i] = static_cast<int>(i);
    for (const ElementIndex e : opened_) {
      const Element& element = ties_.network_.element(e);
      const int a = joined[at(result_.part(element.from))], b = joined[at(result_.part(element.to))];
      if (a == b) continue;
      std::replace(joined.begin(), joined.end(), std::max(a, b), std::min(a, b));
      result_.kept.push_back(e);
    }
  }

  const Ties& ties_;
  std::vector<ElementIndex> opened_;
  std::vector<std::pair<Node, Node>> closed_;  ///< what conducts now and did not
  int parts_ = 0;
  CutOff result_;
};

CutOff Ties::cut_off(const std::vector<Change>& changes) const { return Search(*this, changes).run(); }

}  // namespace zoneproof::circuit
