#include "circuit/network.hpp"

#include <cmath>
#include <stdexcept>
#include <utility>

namespace zoneproof::circuit {
namespace {

void require(bool holds, const std::string& element, const char* what) {
  if (!holds) throw std::invalid_argument("element " + element + ": " + what);
}

void require_ordered(const Range& range, const std::string& element) {
  require(range.low <= range.nominal && range.nominal <= range.high, element, "range is not low <= nominal <= high");
}

void require_finite(const Range& range, const std::string& element) {
  require(std::isfinite(range.low) && std::isfinite(range.high), element, "range is not finite");
}

}  // namespace

Network::Network() : node_names_{"0"} { node_index_.emplace("0", reference); }

Node Network::node(std::string_view name) {
  const auto [entry, is_new] = node_index_.try_emplace(std::string(name), node_count());
  if (is_new) node_names_.emplace_back(name);
  return entry->second;
}

Node Network::nameless_node() {
  node_names_.emplace_back();
  return node_count() - 1;
}

std::optional<Node> Network::find_node(std::string_view name) const {
  const auto found = node_index_.find(std::string(name));
  if (found == node_index_.end()) return std::nullopt;
  return found->second;
}

const std::string& Network::node_name(Node node) const { return node_names_.at(static_cast<std::size_t>(node)); }

int Network::node_count() const { return static_cast<int>(node_names_.size()); }

ElementIndex Network::add(Element element) {
  const auto known = [this](Node node) { return node >= 0 && node < node_count(); };
  require(known(element.from) && known(element.to), element.name, "node is not of this network");
  require_ordered(element.value, element.name);
  const auto index = static_cast<ElementIndex>(elements_.size());
  if (!element.name.empty())
    require(element_index_.emplace(element.name, index).second, element.name, "name is used twice");
  elements_.push_back(std::move(element));
  return index;
}

ElementIndex Network::resistor(std::string name, Node a, Node b, Range ohm) {
  require(ohm.low >= 0.0, name, "resistance is negative");
  Element element;
  element.name = std::move(name);
  element.from = a;
  element.to = b;
  element.value = ohm;
  return add(std::move(element));
}

ElementIndex Network::voltage(std::string name, Node minus, Node plus, Range volt) {
  require_finite(volt, name);
  Element element;
  element.kind = Kind::voltage;
  element.name = std::move(name);
  element.from = minus;
  element.to = plus;
  element.value = volt;
  return add(std::move(element));
}

ElementIndex Network::current(std::string name, Node from, Node to, Range ampere) {
  require_finite(ampere, name);
  Element element;
  element.kind = Kind::current;
  element.name = std::move(name);
  element.from = from;
  element.to = to;
  element.value = ampere;
  return add(std::move(element));
}

ElementIndex Network::constant_power(std::string name, Node plus, Node minus, Range watt, double lockout_volts) {
  require_finite(watt, name);
  require(watt.low >= 0.0, name, "power is negative");
  require(std::isfinite(lockout_volts) && lockout_volts >= 0.0, name, "lockout voltage is negative");
  Element element;
  element.kind = Kind::constant_power;
  element.name = std::move(name);
  element.from = minus;
  element.to = plus;
  element.value = watt;
  element.lockout_volts = lockout_volts;
  return add(std::move(element));
}

ElementIndex Network::diode(std::string name, Node anode, Node cathode, Range forward_volts, Range on_ohm) {
  require_finite(forward_volts, name);
  require_finite(on_ohm, name);
  require(forward_volts.low >= 0.0, name, "forward voltage is negative");
  require_ordered(on_ohm, name);
  require(on_ohm.low > 0.0, name, "a diode needs a resistance above zero when it conducts");
  Element element;
  element.kind = Kind::diode;
  element.name = std::move(name);
  element.from = anode;
  element.to = cathode;
  element.value = forward_volts;
  element.on_ohm = on_ohm;
  return add(std::move(element));
}

ElementIndex Network::limited_source(std::string name, Node minus, Node plus, Range volt, double limit_amps,
                                     Limit limit, double foldback_amps) {
  require_finite(volt, name);
  require(volt.low > 0.0, name, "a limited source needs a voltage above zero");
  require(limit_amps > 0.0, name, "the limit is not above zero");
  const bool folds = limit == Limit::foldback;
  require(!folds || (foldback_amps >= 0.0 && foldback_amps < limit_amps && std::isfinite(limit_amps)), name,
          "foldback current is not from zero to below the limit");
  Element element;
  element.kind = Kind::limited_source;
  element.name = std::move(name);
  element.from = minus;
  element.to = plus;
  element.value = volt;
  element.limit_amps = limit_amps;
  element.limit = limit;
  element.foldback_amps = foldback_amps;
  return add(std::move(element));
}

const std::vector<Element>& Network::elements() const { return elements_; }
Element& Network::element(ElementIndex index) { return elements_.at(static_cast<std::size_t>(index)); }
const Element& Network::element(ElementIndex index) const { return elements_.at(static_cast<std::size_t>(index)); }

std::optional<ElementIndex> Network::find_element(std::string_view name) const {
  const auto found = element_index_.find(std::string(name));
  if (found == element_index_.end()) return std::nullopt;
  return found->second;
}

Quantity Quantity::voltage(Node plus, Node minus) {
  Quantity quantity;
  quantity.terms.push_back({plus, 1.0});
  if (minus != reference) quantity.terms.push_back({minus, -1.0});
  return quantity;
}

}  // namespace zoneproof::circuit
