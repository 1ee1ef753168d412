#pragma once
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

/// A direct-current network of two-terminal elements. It knows no alarm system: callers give names, and read names
/// back.
namespace zoneproof::circuit {

/// Index of a node; 0 is the reference node, at 0 V by definition.
using Node = int;
inline constexpr Node reference = 0;

/// Index of an element in `Network::elements()`, in the order in which they were added.
using ElementIndex = int;

inline constexpr double infinite = std::numeric_limits<double>::infinity();

/// A value that is somewhere in [low, high]; low <= nominal <= high. Each Range is one independent parameter.
struct Range {
  double nominal = 0.0;
  double low = 0.0;
  double high = 0.0;

  static Range exactly(double value) { return {value, value, value}; }
  bool wide() const { return low < high; }
};

enum class Kind {
  resistor,  ///< value: ohm, 0 <= low; high may be infinite (open)
  voltage,   ///< ideal source, value: volt from `from` (minus) to `to` (plus)
  current,   ///< independent source, value: ampere driven through the element from `from` to `to` (leaves node from,
             ///< enters node to)
  constant_power,  ///< load, value: watt taken from `to` (plus) to `from` (minus); see `lockout_volts`
  diode,           ///< value: forward volt; anode `from`, cathode `to`; `on_ohm` in series when conducting, open below
  limited_source,  ///< voltage source (as `voltage`) whose delivered current never exceeds `limit_amps`: above it, a
                   ///< current source
};

/// What a limited source does at its limit.
enum class Limit { constant_current, foldback };

struct Element {
  Kind kind = Kind::resistor;
  std::string name;  ///< unique in the network, [a-z0-9_]+: it is the name in a corner and in an exported deck
  Node from = reference;
  Node to = reference;
  Range value;

  Range on_ohm;  ///< diode only
  double lockout_volts =
      0.0;  ///< constant_power: below this voltage the load draws anything from 0 to watt / lockout_volts
  double limit_amps = infinite;  ///< limited_source
  Limit limit = Limit::constant_current;
  double foldback_amps = 0.0;  ///< limited_source with foldback: current into a short, < limit_amps

  /// One of its two parameters: a diode's on_ohm, or the value.
  Range& range(bool of_on_ohm) { return of_on_ohm ? on_ohm : value; }
  const Range& range(bool of_on_ohm) const { return of_on_ohm ? on_ohm : value; }
};

/// The element without the one member that is costly to copy.
inline Element without_name(const Element& named) {
  Element element{named.kind, {}, named.from, named.to, named.value, named.on_ohm};
  element.lockout_volts = named.lockout_volts;
  element.limit_amps = named.limit_amps;
  element.limit = named.limit;
  element.foldback_amps = named.foldback_amps;
  return element;
}

/// Nodes and elements. Building refuses what no solver could mean (std::invalid_argument: a name used twice, an unknown
/// node, a range that is not low <= nominal <= high, a negative or NaN resistance, power or limit): such a network is a
/// defect of the code that builds it, not of the site. What cannot be solved as it stands (floating nodes, source
/// loops) is told by `solve`.
class Network {
 public:
  Network();

  /// The node of that name, made when it is new. Names are lower case, [a-z0-9_]+; "0" is the reference.
  Node node(std::string_view name);
  std::optional<Node> find_node(std::string_view name) const;
  /// A new node without a name: for networks inside of the engine, in which nobody looks anything up.
  Node nameless_node();
  const std::string& node_name(Node node) const;
  int node_count() const;  ///< the reference included

  ElementIndex resistor(std::string name, Node a, Node b, Range ohm);
  ElementIndex voltage(std::string name, Node minus, Node plus, Range volt);
  ElementIndex current(std::string name, Node from, Node to, Range ampere);
  ElementIndex constant_power(std::string name, Node plus, Node minus, Range watt, double lockout_volts);
  ElementIndex diode(std::string name, Node anode, Node cathode, Range forward_volts, Range on_ohm);
  ElementIndex limited_source(std::string name, Node minus, Node plus, Range volt, double limit_amps, Limit limit,
                              double foldback_amps);
  /// An element as another network has it, between nodes of this one. It may be nameless: then it is not found by name.
  ElementIndex add(Element element);

  const std::vector<Element>& elements() const;
  Element& element(ElementIndex index);
  const Element& element(ElementIndex index) const;
  std::optional<ElementIndex> find_element(std::string_view name) const;

 private:
  std::vector<std::string> node_names_;
  std::vector<Element> elements_;
  std::unordered_map<std::string, Node> node_index_;
  std::unordered_map<std::string, ElementIndex> element_index_;
};

/// A weighted sum of node voltages, e.g. V(terminal) - 0.45 V(rail): what a caller wants to know.
struct Quantity {
  struct Term {
    Node node;
    double weight;
  };
  std::vector<Term> terms;

  static Quantity voltage(Node plus, Node minus = reference);
};

}  // namespace zoneproof::circuit
