#include "circuit/reach.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

#include "circuit/nodal.hpp"

namespace zoneproof::circuit {

namespace {

/// Nodes that are one point, by disjoint sets.
class Points {
 public:
  /// `loose`: sorted elements that tie nothing, whatever they are.
  Points(const Network& network, const std::vector<ElementIndex>& loose)
      : parent_(static_cast<std::size_t>(network.node_count())) {
    std::iota(parent_.begin(), parent_.end(), std::size_t{0});
    for (std::size_t e = 0; e < network.elements().size(); ++e) {
      const Element& element = network.elements()[e];
      if (ties(element) && !std::binary_search(loose.begin(), loose.end(), static_cast<ElementIndex>(e)))
        parent_[of(element.from)] = of(element.to);
    }
  }

  static bool ties(const Element& element) {
    return element.kind == Kind::voltage || (element.kind == Kind::resistor && element.value.high == 0.0);
  }

  std::size_t of(Node node) {
    std::size_t root = at(node);
    while (parent_[root] != root) root = parent_[root] = parent_[parent_[root]];
    return root;
  }

  std::size_t count() const { return parent_.size(); }

 private:
  std::vector<std::size_t> parent_;
};

/// Depth-first walk over the points, that tells for each block whether anybody asks beyond it.
class Walk {
 public:
  Walk(const Network& network, const std::vector<Quantity>& quantities, Open open = {})
      : elements_(network.elements()),
        points_(network, sorted(open.elements)),
        free_(std::move(open.elements)),
        kept_(elements_.size() + open.bridges.size(), false),
        edges_(points_.count()),
        asked_(points_.count(), 0),
        seen_(points_.count(), 0),
        low_(points_.count(), 0) {
    for (std::size_t e = 0; e < elements_.size(); ++e) join(e, elements_[e].from, elements_[e].to);
    for (std::size_t b = 0; b < open.bridges.size(); ++b)
      join(elements_.size() + b, open.bridges[b].first, open.bridges[b].second);
    for (const Quantity& quantity : quantities) {
      for (const Quantity::Term& term : quantity.terms) asked_[points_.of(term.node)] = 1;
    }
  }

  std::vector<bool> run() {
    const std::size_t root = points_.of(reference);
    asked_[root] = 1;
    walk(root);
    for (std::size_t p = 0; p < edges_.size(); ++p) {
      if (asked_[p] != 0 && seen_[p] == 0) keep_part(p);
    }
    keep_ties();
    return kept_;
  }

  /// Per node, whether a block with anything free in it stands between it and the reference.
  std::vector<bool> moved() {
    walk(points_.of(reference));
    std::vector<bool> is(points_.count());
    for (std::size_t node = 0; node < is.size(); ++node) {
      const std::size_t when = seen_[points_.of(static_cast<Node>(node))];
      is[node] = when == 0 || std::any_of(behind_.begin(), behind_.end(),
                                          [&](const auto& span) { return span.first <= when && when <= span.second; });
    }
    return is;
  }

 private:
  struct Edge {
    std::size_t element, far;
  };
  struct Step {
    std::size_t point;
    std::size_t by;  ///< element over which the walk came
    std::size_t next = 0;
  };
  static constexpr std::size_t nothing = static_cast<std::size_t>(-1);

  static const std::vector<ElementIndex>& sorted(std::vector<ElementIndex>& elements) {
    std::sort(elements.begin(), elements.end());
    return elements;
  }

  void join(std::size_t element, Node a, Node b) {
    const std::size_t from = points_.of(a), to = points_.of(b);
    if (from == to) return;
    edges_[from].push_back({element, to});
    edges_[to].push_back({element, from});
  }

  bool is_free(std::size_t element) const {
    return element >= elements_.size() ||
           std::binary_search(free_.begin(), free_.end(), static_cast<ElementIndex>(element));
  }

  void walk(std::size_t root) {
    std::vector<Step> way;
    enter(way, root, nothing);
    while (!way.empty()) {
      Step& here = way.back();
      if (here.next < edges_[here.point].size()) {
        follow(way, edges_[here.point][here.next++]);
      } else {
        const Step done = here;
        way.pop_back();
        if (!way.empty()) leave(way.back().point, done);
      }
    }
  }

  void enter(std::vector<Step>& way, std::size_t point, std::size_t by) {
    seen_[point] = low_[point] = ++clock_;
    way.push_back({point, by});
  }

  void follow(std::vector<Step>& way, const Edge& edge) {
    const std::size_t here = way.back().point;
    if (edge.element == way.back().by) return;
    if (seen_[edge.far] == 0) {
      open_.push_back(edge.element);
      enter(way, edge.far, edge.element);
    } else if (seen_[edge.far] < seen_[here]) {
      open_.push_back(edge.element);
      low_[here] = std::min(low_[here], seen_[edge.far]);
    }
  }

  /// Back from `done` to the point before it. Where nothing behind reaches further back, a block is complete.
  void leave(std::size_t before, const Step& done) {
    low_[before] = std::min(low_[before], low_[done.point]);
    if (low_[done.point] >= seen_[before]) {
      bool any_free = false;
      for (std::size_t element = nothing; element != done.by;) {
        element = open_.back();
        open_.pop_back();
        kept_[element] = asked_[done.point] != 0;
        any_free = any_free || is_free(element);
      }
      if (any_free) behind_.emplace_back(seen_[done.point], clock_);
    }
    if (asked_[done.point] != 0) asked_[before] = 1;
  }

  /// All that hangs together with a point which no way leads to from the reference.
  void keep_part(std::size_t start) {
    std::vector<std::size_t> pending = {start};
    seen_[start] = 1;
    while (!pending.empty()) {
      const std::size_t here = pending.back();
      pending.pop_back();
      for (const Edge& edge : edges_[here]) {
        kept_[edge.element] = true;
        if (seen_[edge.far] != 0) continue;
        seen_[edge.far] = 1;
        pending.push_back(edge.far);
      }
    }
  }

  /// What makes a point of several nodes is kept where anything kept touches it, or where it is asked for.
  void keep_ties() {
    std::vector<bool> used(points_.count(), false);
    for (std::size_t p = 0; p < used.size(); ++p) used[p] = asked_[p] != 0;
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      if (kept_[e]) used[points_.of(elements_[e].from)] = used[points_.of(elements_[e].to)] = true;
    }
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      if (Points::ties(elements_[e]) && used[points_.of(elements_[e].from)]) kept_[e] = true;
    }
  }

  const std::vector<Element>& elements_;
  Points points_;
  const std::vector<ElementIndex> free_;  ///< elements of any value, sorted; with them all beyond the elements: bridges
  std::vector<bool> kept_;
  std::vector<std::vector<Edge>> edges_;  ///< per point
  std::vector<char> asked_;               ///< per point: it or, once walked, anything behind it
  std::vector<std::size_t> seen_, low_;   ///< per point: when it was come to; the earliest that it reaches back to
  std::vector<std::size_t> open_;         ///< elements of blocks that are not complete yet
  std::vector<std::pair<std::size_t, std::size_t>> behind_;  ///< when the points behind a block with those were come to
  std::size_t clock_ = 0;
};

}  // namespace

std::vector<bool> within_reach(const Network& network, const std::vector<Quantity>& quantities) {
  return Walk(network, quantities).run();
}

std::vector<bool> within_reach(const Network& network, const std::vector<Node>& asked, const Open& open) {
  Quantity all;
  for (const Node node : asked) all.terms.push_back({node, 1.0});
  return Walk(network, {all}, open).run();
}

std::vector<bool> moved_by(const Network& network, const Open& open) { return Walk(network, {}, open).moved(); }

}  // namespace zoneproof::circuit
