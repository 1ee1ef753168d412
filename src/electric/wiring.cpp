#include "electric/wiring.hpp"

#include <algorithm>
#include <utility>

namespace zoneproof::electric {

using circuit::ElementIndex;
using circuit::Node;

ElementIndex Wiring::resistor(const std::string& name, Node a, Node b, const Tracked& ohm) {
  const ElementIndex index = network.resistor(name, a, b, ohm.range);
  rest_on(index, ohm);
  return index;
}

ElementIndex Wiring::voltage(const std::string& name, Node minus, Node plus, const Tracked& volt) {
  const ElementIndex index = network.voltage(name, minus, plus, volt.range);
  rest_on(index, volt);
  return index;
}

ElementIndex Wiring::current(const std::string& name, Node from, Node to, const Tracked& ampere) {
  const ElementIndex index = network.current(name, from, to, ampere.range);
  rest_on(index, ampere);
  return index;
}

ElementIndex Wiring::constant_power(const std::string& name, Poles poles, const Tracked& watt, double lockout_volts) {
  const ElementIndex index = network.constant_power(name, poles.plus, poles.minus, watt.range, lockout_volts);
  rest_on(index, watt);
  return index;
}

ElementIndex Wiring::diode(const std::string& name, Node anode, Node cathode, const Tracked& forward_volts,
                           const Tracked& on_ohm) {
  const ElementIndex index = network.diode(name, anode, cathode, forward_volts.range, on_ohm.range);
  rest_on(index, forward_volts);
  forward_bases_[index] = forward_volts.bases.size();
  bases_.back().insert(bases_.back().end(), on_ohm.bases.begin(), on_ohm.bases.end());
  return index;
}

std::vector<Basis> Wiring::bases(const circuit::CornerEntry& entry) const {
  const std::vector<Basis>& all = bases(entry.element);
  const auto forward = forward_bases_.find(entry.element);
  if (forward == forward_bases_.end()) return all;
  const auto border = all.begin() + static_cast<std::ptrdiff_t>(forward->second);
  return entry.on_ohm ? std::vector<Basis>(border, all.end()) : std::vector<Basis>(all.begin(), border);
}

Tracked Wiring::core_ohm(const site::Site& site, const site::Ref& cable) {
  if (site.cables.count(cable.id) != 0) return conductor_ohm(site, cable.id);
  if (!cable.none()) missing(cable.pointer, "unknown");
  return Tracked::fact(0.0);
}

void Wiring::missing(const std::string& pointer, const char* reason) { chain::add_gap(gaps_, {pointer, reason}); }

std::vector<Node> Wiring::keep_only(const std::vector<bool>& kept, const std::vector<Node>& asked) {
  constexpr int gone = -1;
  const circuit::Network whole = std::exchange(network, {});
  std::vector<Node> node_now(static_cast<std::size_t>(whole.node_count()), gone);
  std::vector<ElementIndex> element_now(kept.size(), gone);
  const auto now = [&](Node node) {
    Node& here = node_now.at(static_cast<std::size_t>(node));
    if (here == gone) here = network.node(whole.node_name(node));
    return here;
  };
  now(circuit::reference);
  std::vector<std::vector<Basis>> bases = std::exchange(bases_, {});
  bases.resize(kept.size());
  const std::map<ElementIndex, std::size_t> forward = std::exchange(forward_bases_, {});
  for (std::size_t e = 0; e < kept.size(); ++e) {
    if (!kept[e]) {
      for (const Basis& basis : bases[e]) weakest_left_out_ = std::max(weakest_left_out_, basis.origin);
      continue;
    }
    circuit::Element element = whole.elements()[e];
    element.from = now(element.from);
    element.to = now(element.to);
    element_now[e] = network.add(std::move(element));
    bases_.push_back(std::move(bases[e]));
    const auto diode = forward.find(static_cast<ElementIndex>(e));
    if (diode != forward.end()) forward_bases_[element_now[e]] = diode->second;
  }
  for (const Node node : asked) now(node);
  for (JointSource& joint : std::exchange(joints_, {})) {
    joint.source = element_now.at(static_cast<std::size_t>(joint.source));
    joint.pullup = element_now.at(static_cast<std::size_t>(joint.pullup));
    joint.between = node_now.at(static_cast<std::size_t>(joint.between));
    if (joint.source != gone && joint.pullup != gone) joints_.push_back(std::move(joint));
  }
  return node_now;
}

void Wiring::rest_on(ElementIndex index, const Tracked& value) {
  bases_.resize(static_cast<std::size_t>(index) + 1);
  bases_.back() = value.bases;
}

}  // namespace zoneproof::electric
