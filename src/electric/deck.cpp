#include "electric/deck.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <set>

#include "circuit/solve.hpp"
#include "electric/element_name.hpp"
#include "electric/site_circuit.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Element;
using circuit::Kind;

constexpr double open_ohm = 1e15;      // a wire that is not there, in a deck that must keep its shape
constexpr double short_ohm = 1e-4;     // a short that is there only in some states
constexpr double steep_siemens = 1e6;  // how ideal the voltage branch of a limited source is: 1 uV at 1 A

/// A network in one state with the name of its operating point.
struct Point {
  std::string name;
  std::vector<std::string> nodes;  // to print
  SiteCircuit circuit;
};

/// All operating points that share one circuit of the deck.
struct Family {
  std::string title;
  std::vector<Point> points;
};

std::vector<std::string> watched_nodes(const SiteCircuit& circuit, const std::string& zone) {
  std::vector<std::string> nodes;
  const auto name = [&](circuit::Node node) { nodes.push_back(circuit.wiring.network.node_name(node)); };
  for (const auto& [id, terminal] : circuit.terminals) {
    if (zone.empty() || id == zone) name(terminal.point);
  }
  for (const auto& [id, input] : circuit.inputs) name(input.point);
  for (const auto& [id, poles] : circuit.backbone.poles) {
    if (!zone.empty()) break;
    for (circuit::Node node : {poles.plus, poles.minus}) name(node);
    if (const auto arm = circuit.wiring.network.find_node(part_name(id, "arm"))) name(*arm);
  }
  std::set<std::string> once(nodes.begin(), nodes.end());
  once.erase(circuit.wiring.network.node_name(circuit::reference));
  return {once.begin(), once.end()};
}

Point point_of(const site::Site& site, SupplyCondition supply, bool armed, const std::string& zone,
               const ZoneState& state) {
  std::map<std::string, ZoneState> states;
  if (!zone.empty()) states[zone] = state;
  Point point;
  point.name =
      fmt::format("{}/{}/{}/{}", word(supply), armed ? "armed" : "disarmed", zone.empty() ? "all" : zone, state.name());
  point.circuit = build_site_circuit(site, whole_site(site, supply, states, armed));
  point.nodes = watched_nodes(point.circuit, zone);
  return point;
}

/// A supply condition in which every supply is without battery leaves nothing to solve.
bool anything_alive(const site::Site& site, SupplyCondition supply) {
  for (const auto& [id, entry] : site.supplies) {
    if (alive(site, id, supply)) return true;
  }
  return false;
}

std::vector<std::string> zones_in(const Point& point) {
  std::vector<std::string> zones;
  for (const auto& [id, terminal] : point.circuit.terminals) zones.push_back(id);
  return zones;
}

std::vector<Family> families(const site::Site& site) {
  std::vector<Family> all;
  for (SupplyCondition supply : supply_conditions(site)) {
    if (!anything_alive(site, supply)) continue;
    for (bool armed : {true, false}) {
      Family family;
      family.title = fmt::format("{}/{}", word(supply), armed ? "armed" : "disarmed");
      family.points.push_back(point_of(site, supply, armed, "", {}));
      // The states of the zones are the same disarmed: only the arming inputs differ.
      for (const std::string& zone : armed ? zones_in(family.points.front()) : std::vector<std::string>{}) {
        for (const ZoneState& state : reachable_states(site, zone)) {
          if (state.happening != Happening::rest) family.points.push_back(point_of(site, supply, armed, zone, state));
        }
      }
      all.push_back(std::move(family));
    }
  }
  return all;
}

// --- text of a circuit
// ------------------------------------------------------------------------------------------------

/// An element as it stands in one point: none where the state takes it out of the network.
const Element* element_in(const Point& point, const std::string& name) {
  const auto index = point.circuit.wiring.network.find_element(name);
  return index ? &point.circuit.wiring.network.element(*index) : nullptr;
}

/// Nominal resistance as the deck states it, in a family where it is a resistor throughout.
double deck_ohm(const Element* element) {
  if (element == nullptr || element->value.nominal > open_ohm) return open_ohm;
  return std::max(element->value.nominal, short_ohm);
}

/// All element names of a family, each with a point in which it is there.
std::map<std::string, const Point*> element_names(const Family& family) {
  std::map<std::string, const Point*> names;
  for (const Point& point : family.points) {
    for (const Element& element : point.circuit.wiring.network.elements()) names.emplace(element.name, &point);
  }
  return names;
}

/// No resistance in every state: a connection, not a resistor.
bool always_zero(const Family& family, const std::string& name) {
  for (const Point& point : family.points) {
    const Element* element = element_in(point, name);
    if (element == nullptr || element->kind != Kind::resistor || element->value.nominal != 0.0) return false;
  }
  return true;
}

std::string law_of(const Element& e, const std::string& a, const std::string& b) {
  switch (e.kind) {
    case Kind::constant_power: {
      const double lock = e.lockout_volts > 0.0 ? e.lockout_volts : 1e-3;
      return fmt::format("b{0} {2} {1} i = v({2},{1}) > {4:.17g} ? {3:.17g}/v({2},{1}) : {3:.17g}*v({2},{1})/{5:.17g}",
                         e.name, a, b, e.value.nominal, lock, lock * lock);
    }
    case Kind::diode:
      return fmt::format("b{0} {1} {2} i = v({1},{2}) > {3:.17g} ? (v({1},{2})-{3:.17g})/{4:.17g} : 0", e.name, a, b,
                         e.value.nominal, e.on_ohm.nominal);
    case Kind::limited_source:
      return fmt::format("b{0} {1} {2} i = min({3:.17g}, ({4:.17g}-v({2},{1}))*{5:.17g})", e.name, a, b, e.limit_amps,
                         e.value.nominal, steep_siemens);
    case Kind::voltage: return fmt::format("v{} {} {} {:.17g}", e.name, b, a, e.value.nominal);
    default: return fmt::format("i{} {} {} {:.17g}", e.name, a, b, e.value.nominal);
  }
}

void write_circuit(const Family& family, std::string& out) {
  out += fmt::format("circbyline {}\n", family.title);
  for (const auto& [name, holder] : element_names(family)) {
    const circuit::Network& network = holder->circuit.wiring.network;
    const Element& element = *element_in(*holder, name);
    const std::string& a = network.node_name(element.from);
    const std::string& b = network.node_name(element.to);
    if (element.kind != Kind::resistor) {
      out += "circbyline " + law_of(element, a, b) + "\n";
    } else if (always_zero(family, name)) {
      out += fmt::format("circbyline v{} {} {} 0\n", name, a, b);
    } else {
      out +=
          fmt::format("circbyline r{} {} {} {:.17g}\n", name, a, b, deck_ohm(element_in(family.points.front(), name)));
    }
  }
  out += "circbyline .options reltol=1e-9 abstol=1e-15 vntol=1e-12 gmin=1e-18 rshunt=1e15 itl1=500\ncircbyline .end\n";
}

/// The resistors that differ between two states.
void write_changes(const Family& family, const Point& from, const Point& to, std::string& out) {
  for (const auto& [name, holder] : element_names(family)) {
    if (element_in(*holder, name)->kind != Kind::resistor || always_zero(family, name)) continue;
    const double before = deck_ohm(element_in(from, name));
    const double after = deck_ohm(element_in(to, name));
    if (before != after) out += fmt::format("alter r{} = {:.17g}\n", name, after);
  }
}

void write_point(const Point& point, std::string& out) {
  out += fmt::format("op\necho point {}\n", point.name);
  for (const std::string& node : point.nodes) out += fmt::format("print v({})\n", node);
  out += "destroy all\n";
}

}  // namespace

std::string deck(const site::Site& site) {
  std::string out = text(say::deck_title(site.name)) + "\n.control\nset noaskquit\nset numdgt=15\n";
  for (const Family& family : families(site)) {
    out += "* " + family.title + "\n";
    write_circuit(family, out);
    const Point* state = &family.points.front();
    for (const Point& point : family.points) {
      write_changes(family, *state, point, out);
      write_point(point, out);
      state = &point;
    }
    out += "remcirc\n";
  }
  return out + "quit\n.endc\n.end\n";
}

std::vector<DeckPoint> deck_points(const site::Site& site) {
  std::vector<DeckPoint> all;
  for (const Family& family : families(site)) {
    for (const Point& point : family.points) {
      const circuit::Network& network = point.circuit.wiring.network;
      const circuit::Solution solution = circuit::solve(network);
      DeckPoint result{point.name, {}};
      for (const std::string& node : point.nodes) {
        const double volts = solution.voltage.at(static_cast<std::size_t>(*network.find_node(node)));
        if (std::isfinite(volts)) result.voltages.push_back({node, volts});
      }
      all.push_back(std::move(result));
    }
  }
  return all;
}

}  // namespace zoneproof::electric
