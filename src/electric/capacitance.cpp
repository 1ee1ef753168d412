#include "electric/capacitance.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "circuit/solve.hpp"
#include "circuit/worst_case.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

namespace {

using circuit::Kind;
using circuit::Node;

constexpr double farad_per_nF = 1e-9;
constexpr double probe_A = 1e-3;

/// Two nodes with a capacitance between them.
struct Port {
  Node point = circuit::reference, minus = circuit::reference;
  double farad = 0.0;
  double behind_ohm = 0.0;  ///< in series with it, at the most
};

/// The network with its sources at rest.
circuit::Network at_rest(const circuit::Network& live) {
  circuit::Network rest;
  for (Node node = 1; node < live.node_count(); ++node) rest.node(live.node_name(node));
  for (const circuit::Element& element : live.elements()) {
    if (element.kind == Kind::resistor) rest.add(element);
    if (element.kind == Kind::voltage || element.kind == Kind::limited_source)
      rest.voltage(element.name, element.from, element.to, circuit::Range::exactly(0.0));
  }
  return rest;
}

class Charging {
 public:
  Charging(const site::Site& site, const ZoneSituation& situation, const ZoneCircuit& circuit)
      : site_(site), situation_(situation), circuit_(circuit), rest_(at_rest(circuit.wiring.network)) {}

  PairTimes run() {
    panel_ports();
    for (const auto& [id, input] : circuit_.taps) tap_port(id, input);
    if (!times_.known) {
      times_.total_s = circuit::infinite;
      return times_;
    }
    for (const Port& port : ports_) {
      if (port.farad > 0.0) times_.total_s += (most_ohm(port) + port.behind_ohm) * port.farad;
    }
    nominal();
    return times_;
  }

 private:
  double farads(const Tracked& nF) {
    for (const Basis& basis : nF.bases) {
      if (const char* reason = basis.weakness()) chain::add_gap(times_.gaps, {basis.pointer, reason});
      times_.known = times_.known && !(basis.weakness() != nullptr && chain::nothing_known(basis.weakness()));
    }
    return nF.range.high * farad_per_nF;
  }

  double of_cable(const site::Ref& cable) {
    const auto found = site_.cables.find(cable.id);
    if (found == site_.cables.end()) {
      if (!cable.none()) unknown(cable.pointer);
      return 0.0;
    }
    const site::CableSpec* spec = site::spec_of(site_, found->second.part, &site::Part::cable);
    if (spec == nullptr || !found->second.cores_in_parallel.known()) {
      unknown(spec == nullptr ? found->second.part.pointer : found->second.cores_in_parallel.pointer);
      return 0.0;
    }
    const Tracked per_m =
        scaled(tracked_or_envelope(site_, spec->capacitance_nF_per_km, "cable_capacitance_nF_per_km", 0.0), 1e-3);
    return farads(per_m * tracked(found->second.length_m, 0.0)) *
           static_cast<double>(*found->second.cores_in_parallel.value);
  }

  void unknown(const std::string& pointer) {
    chain::add_gap(times_.gaps, {pointer, "unknown"});
    times_.known = false;
  }

  void panel_ports() {
    const Terminal& terminal = *circuit_.terminal;
    Port own{terminal.point, terminal.common, farads(tracked(terminal.spec->capacitance_nF, 0.0)), 0.0};
    ports_.push_back(own);
    const std::string owner = site::loop_owner(site_, situation_.zone);
    if (owner.empty()) return;
    const site::Ref& cable = site_.zones.at(owner).loop.cable;
    Port pair{terminal.point, terminal.common, of_cable(cable), 0.0};
    if (site_.cables.count(cable.id) != 0) pair.behind_ohm = 2.0 * conductor_ohm(site_, cable.id).range.high;
    ports_.push_back(pair);
  }

  void tap_port(const std::string& id, const UnitInput& input) {
    Port port{input.point, input.minus, of_cable(site_.triggers.at(id).cable), 0.0};
    if (inputs_.insert(input.point).second) port.farad += farads(tracked(input.spec->input.capacitance_nF, 0.0));
    ports_.push_back(port);
  }

  circuit::Network probed(const Port& port) const {
    circuit::Network network = rest_;
    network.current("settling_probe", port.minus, port.point, circuit::Range::exactly(probe_A));
    return network;
  }

  double most_ohm(const Port& port) const {
    const circuit::WorstCase worst =
        circuit::worst_case(probed(port), {circuit::Quantity::voltage(port.point, port.minus)}).front();
    const bool solved = worst.trouble == circuit::Trouble::none || worst.trouble == circuit::Trouble::leakage_defined;
    return solved && std::isfinite(worst.high.bound) ? worst.high.bound / probe_A : circuit::infinite;
  }

  void nominal() {
    std::vector<std::vector<double>> ohm(ports_.size());
    std::vector<double> farad;
    for (std::size_t k = 0; k < ports_.size(); ++k) {
      farad.push_back(ports_[k].farad);
      const circuit::Solution solution = circuit::solve(probed(ports_[k]));
      if (!solution.usable()) return;
      for (const Port& at : ports_)
        ohm[k].push_back(solution.at(circuit::Quantity::voltage(at.point, at.minus)) / probe_A);
    }
    times_.panel = node_times(ohm, farad, 0);
  }

  const site::Site& site_;
  const ZoneSituation& situation_;
  const ZoneCircuit& circuit_;
  circuit::Network rest_;
  std::vector<Port> ports_;
  std::set<Node> inputs_;
  PairTimes times_;
};

}  // namespace

PairTimes pair_times(const site::Site& site, const ZoneSituation& situation, const ZoneCircuit& circuit) {
  return Charging(site, situation, circuit).run();
}

}  // namespace zoneproof::electric
