#include "circuit/series.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "circuit/nodal.hpp"
#include "circuit/reach.hpp"

namespace zoneproof::circuit {

namespace {

class Reduction {
 public:
  Reduction(const Network& network, const std::vector<Quantity>& quantities)
      : elements_(nameless(network.elements())),
        members_(elements_.size()),
        at_node_(static_cast<std::size_t>(network.node_count())),
        kept_(at_node_.size(), false) {
    kept_[at(reference)] = true;
    for (const Quantity& quantity : quantities) {
      for (const Quantity::Term& term : quantity.terms) kept_[at(term.node)] = true;
    }
    const std::vector<bool> reaches = within_reach(network, quantities);
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      if (!reaches[e]) continue;
      members_[e] = {static_cast<ElementIndex>(e)};
      at_node_[at(elements_[e].from)].push_back(e);
      at_node_[at(elements_[e].to)].push_back(e);
    }
  }

  Reduced run(const std::vector<Quantity>& quantities) {
    for (std::size_t n = 0; n < at_node_.size(); ++n) pending_.push_back(n);
    while (!pending_.empty()) {
      const std::size_t n = pending_.back();
      pending_.pop_back();
      shorten(n);
    }
    add_up_sources();
    return rebuilt(quantities);
  }

 private:
  /// Copying names would cost more than all the rest.
  static std::vector<Element> nameless(const std::vector<Element>& named) {
    std::vector<Element> elements;
    elements.reserve(named.size());
    for (const Element& element : named) elements.push_back(without_name(element));
    return elements;
  }

  bool is_resistor(std::size_t e) const { return elements_[e].kind == Kind::resistor; }
  bool is_closed(std::size_t e) const { return is_resistor(e) && std::isfinite(elements_[e].value.high); }
  bool is_source(std::size_t e) const { return elements_[e].kind == Kind::current; }

  void shorten(std::size_t n) {
    if (kept_[n]) return;
    const std::vector<std::size_t>& here = at_node_[n];
    if (here.size() == 1 && is_resistor(here.front())) return drop(here.front());
    if (here.size() != 2) return;
    if (is_resistor(here[0]) && here[0] == here[1]) return drop(here[0]);  // both ends at this node
    if (is_resistor(here[0]) && is_resistor(here[1])) return join(n, here[0], here[1]);
    if (is_closed(here[0]) && is_source(here[1])) return pass(n, here[0], here[1]);
    if (is_source(here[0]) && is_closed(here[1])) return pass(n, here[1], here[0]);
  }

  /// The current of a source flows through the resistor whatever that is: past node `n` it is the source's alone.
  void pass(std::size_t n, std::size_t resistor, std::size_t source) {
    const Node far = other_end(resistor, n);
    (at(elements_[source].from) == n ? elements_[source].from : elements_[source].to) = far;
    members_[resistor].clear();
    at_node_[n].clear();
    auto& there = at_node_[at(far)];
    std::replace(there.begin(), there.end(), resistor, source);
    pending_.push_back(at(far));
    if (elements_[source].from == elements_[source].to) drop(source);  // it flows in a circle of its own
  }

  /// Current sources between the same nodes, the same way round.
  void add_up_sources() {
    std::map<std::pair<Node, Node>, std::size_t> first;
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      if (!is_source(e) || members_[e].empty()) continue;
      const auto [found, fresh] = first.emplace(std::pair(elements_[e].from, elements_[e].to), e);
      if (!fresh) add_to(found->second, e);
    }
  }

  /// The value of `gone` is added to that of `stays`, which stands for both.
  void add_to(std::size_t stays, std::size_t gone) {
    Range& sum = elements_[stays].value;
    const Range& more = elements_[gone].value;
    sum = {sum.nominal + more.nominal, sum.low + more.low, sum.high + more.high};
    members_[stays].insert(members_[stays].end(), members_[gone].begin(), members_[gone].end());
    members_[gone].clear();
  }

  void drop(std::size_t e) {
    for (const Node node : {elements_[e].from, elements_[e].to}) detach(e, at(node));
    members_[e].clear();
  }

  void detach(std::size_t e, std::size_t n) {
    auto& here = at_node_[n];
    here.erase(std::remove(here.begin(), here.end(), e), here.end());
    pending_.push_back(n);
  }

  Node other_end(std::size_t e, std::size_t n) const {
    return at(elements_[e].from) == n ? elements_[e].to : elements_[e].from;
  }

  /// `gone` becomes a part of `stays`, which then leads past node `n`.
  void join(std::size_t n, std::size_t stays, std::size_t gone) {
    const Node near = other_end(stays, n), far = other_end(gone, n);
    add_to(stays, gone);
    at_node_[n].clear();
    auto& there = at_node_[at(far)];
    std::replace(there.begin(), there.end(), gone, stays);
    elements_[stays].from = near;
    elements_[stays].to = far;
    pending_.push_back(at(near));
    pending_.push_back(at(far));
  }

  Reduced rebuilt(const std::vector<Quantity>& quantities) const {
    Reduced result;
    std::vector<Node> node_of(at_node_.size(), reference);
    result.original.push_back(reference);
    for (std::size_t n = 0; n < at_node_.size(); ++n) {
      const Node node = static_cast<Node>(n);
      if (node == reference || (at_node_[n].empty() && !kept_[n])) continue;
      node_of[n] = result.network.nameless_node();
      result.original.push_back(node);
    }
    for (std::size_t e = 0; e < elements_.size(); ++e) {
      if (members_[e].empty()) continue;
      Element element = elements_[e];
      element.from = node_of[at(element.from)];
      element.to = node_of[at(element.to)];
      result.network.add(std::move(element));
      result.made_of.push_back(members_[e]);
    }
    result.quantities = quantities;
    for (Quantity& quantity : result.quantities) {
      for (Quantity::Term& term : quantity.terms) term.node = node_of[at(term.node)];
    }
    return result;
  }

  std::vector<Element> elements_;
  std::vector<std::vector<ElementIndex>> members_;  ///< per element; empty: it is gone
  std::vector<std::vector<std::size_t>> at_node_;   ///< per node: elements, twice where both ends are there
  std::vector<bool> kept_;                          ///< per node: somebody asks for it
  std::vector<std::size_t> pending_;
};

double share_of(const Range& range, double share) {
  return std::isfinite(range.high) ? range.low + share * (range.high - range.low) : range.low;
}

/// Splits `value` of a series over its members, each within its range.
void expand(const Network& network, const std::vector<ElementIndex>& members, const CornerEntry& entry, Corner& out) {
  double low = 0.0, high = 0.0;
  for (const ElementIndex member : members) {
    low += network.element(member).value.low;
    high += network.element(member).value.high;
  }
  const double share = std::isfinite(high) && high > low ? (entry.value - low) / (high - low) : 0.0;
  double rest = entry.value - low;  // of a series without end: what the first that has none takes
  for (const ElementIndex member : members) {
    const Range& range = network.element(member).value;
    if (!range.wide()) continue;
    double value = share_of(range, share);
    if (!std::isfinite(high)) {
      if (entry.value == infinite) value = range.high;
      if (std::isfinite(entry.value) && !std::isfinite(range.high)) {
        value += rest;
        rest = 0.0;
      }
    }
    if (entry.value == low) value = range.low;
    if (entry.value == high) value = range.high;
    out.push_back({member, value, entry.high, false});
  }
}

}  // namespace

Reduced reduced(const Network& network, const std::vector<Quantity>& quantities) {
  return Reduction(network, quantities).run(quantities);
}

Corner expanded(const Network& network, const Reduced& reduced, const Corner& corner) {
  Corner out;
  for (const CornerEntry& entry : corner) {
    const std::vector<ElementIndex>& members = reduced.made_of.at(at(entry.element));
    if (members.size() == 1) {
      out.push_back(entry);
      out.back().element = members.front();
    } else {
      expand(network, members, entry, out);
    }
  }
  std::sort(out.begin(), out.end(), [](const CornerEntry& a, const CornerEntry& b) {
    return a.element != b.element ? a.element < b.element : a.on_ohm < b.on_ohm;
  });
  return out;
}

}  // namespace zoneproof::circuit
