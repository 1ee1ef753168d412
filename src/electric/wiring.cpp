#include "electric/wiring.hpp"

#include <algorithm>

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

void Wiring::rest_on(ElementIndex index, const Tracked& value) {
  bases_.resize(static_cast<std::size_t>(index) + 1);
  bases_.back() = value.bases;
}

}  // namespace zoneproof::electric
