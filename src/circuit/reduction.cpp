#include "circuit/reduction.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>

#include "circuit/laws.hpp"

namespace zoneproof::circuit {
namespace {

bool linear(const Network& network) {
  return std::none_of(network.elements().begin(), network.elements().end(),
                      [](const Element& e) { return e.kind >= Kind::constant_power; });
}

std::vector<Companion> companions_of(const Network& network, const Values& values) {
  std::vector<Companion> result;
  for (std::size_t e = 0; e < values.size(); ++e) {
    result.push_back(companion(network.elements()[e], values[e], State::plain, 0.0));
  }
  return result;
}

}  // namespace

// Every port is held by a link to the reference: its current with all at 0 V is the short-circuit current, and what one
// volt on it changes is a column of the conductance.
std::optional<PortEquivalent> reduce_to_ports(const Network& network, const Values& values,
                                              const std::vector<Node>& ports) {
  if (!linear(network)) return std::nullopt;
  Network held = network;
  const auto first = static_cast<ElementIndex>(network.elements().size());
  std::vector<Companion> companions = companions_of(network, values);
  for (std::size_t i = 0; i < ports.size(); ++i) {
    std::string name = "port ";  // a space: no name of a network has one
    held.voltage(name.append(std::to_string(i)), ports[i], reference, Range::exactly(0.0));
    companions.push_back(Companion::link(0.0));
  }
  PortEquivalent result{ports, std::vector<double>(ports.size() * ports.size()), std::vector<double>(ports.size())};
  const auto port_currents = [&]() -> std::optional<std::vector<double>> {
    NodalSystem system(held, companions);
    if (!system.source_loop().empty() || !system.factorise()) return std::nullopt;
    std::vector<double> x = system.right_hand_side();
    system.solve(x.data(), 1);
    const std::vector<double> v = system.node_voltages(x);
    std::vector<double> current(companions.size(), 0.0);
    for (std::size_t e = 0; e < companions.size(); ++e) {
      const double u = v[at(held.elements()[e].from)] - v[at(held.elements()[e].to)];
      if (!std::isnan(u)) current[e] = companions[e].conductance * u + companions[e].injection;
    }
    system.complete_currents(current);
    return std::vector<double>(current.begin() + first, current.end());
  };
  const auto base = port_currents();
  if (!base) return std::nullopt;
  result.short_circuit = *base;
  for (Companion& c : companions) c.injection = c.volt = 0.0;  // sources off
  for (std::size_t j = 0; j < ports.size(); ++j) {
    companions[at(first) + j].volt = -1.0;  // the port one volt above the reference
    const auto currents = port_currents();
    if (!currents) return std::nullopt;
    for (std::size_t i = 0; i < ports.size(); ++i) result.conductance[i * ports.size() + j] = -(*currents)[i];
    companions[at(first) + j].volt = 0.0;
  }
  return result;
}

struct ChangingNetwork::Inside {
  Network network;
  std::vector<Companion> companions;
  std::optional<NodalSystem> system;
  Eigen::MatrixXd inverse;
  std::vector<double> solution;
  std::vector<double> voltages;
  bool definite = false;
  int changes = 0;
  int factorisations = 0;

  void renew() {
    system.emplace(network, companions);
    ++factorisations;
    changes = 0;
    const int n = system->unknowns();
    definite = system->source_loop().empty() && system->factorise();
    if (!definite) {
      voltages.assign(at(network.node_count()), std::numeric_limits<double>::quiet_NaN());
      return;
    }
    inverse = Eigen::MatrixXd::Identity(n, n);
    system->solve(inverse.data(), n);
    solution = system->right_hand_side();
    system->solve(solution.data(), 1);
    voltages = system->node_voltages(solution);
  }

  // False: the change asks for a new factorisation.
  bool update(ElementIndex resistor, const Companion& next) {
    constexpr int most_changes = 64;
    constexpr double weakest_divisor = 1e-4;
    const Companion& old = companions[at(resistor)];
    const bool same_topology = old.form == Companion::Form::norton && next.form == Companion::Form::norton;
    if (!definite || !same_topology || ++changes >= most_changes) return false;
    const Element& e = network.elements()[at(resistor)];
    const int a = system->unknown(e.from);
    const int b = system->unknown(e.to);
    if (a == NodalSystem::floats || b == NodalSystem::floats) return false;
    if (a == b) return true;
    const double change = next.conductance - old.conductance;
    Eigen::VectorXd column = Eigen::VectorXd::Zero(inverse.rows());
    if (a >= 0) column += inverse.col(a);
    if (b >= 0) column -= inverse.col(b);
    const double seen = (a >= 0 ? column(a) : 0.0) - (b >= 0 ? column(b) : 0.0);
    const double divisor = 1.0 + change * seen;
    if (!(divisor > weakest_divisor)) return false;
    const double factor = change / divisor;
    // The branch's whole voltage, offsets included, drives the correction current.
    const double volt = voltages[at(e.from)] - voltages[at(e.to)];
    Eigen::Map<Eigen::VectorXd>(solution.data(), inverse.rows()) -= factor * volt * column;
    inverse.noalias() -= factor * column * column.transpose();
    voltages = system->node_voltages(solution);
    companions[at(resistor)] = next;
    refine();
    return true;
  }

  // One step of iterative refinement: what Kirchhoff's current law still misses, through the inverse as it is.
  void refine() {
    Eigen::VectorXd missing = Eigen::VectorXd::Zero(inverse.rows());
    for (std::size_t e = 0; e < companions.size(); ++e) {
      if (companions[e].form != Companion::Form::norton) continue;
      const Element& element = network.elements()[e];
      const double u = voltages[at(element.from)] - voltages[at(element.to)];
      if (std::isnan(u)) continue;
      const double ampere = companions[e].conductance * u + companions[e].injection;
      if (system->unknown(element.from) >= 0) missing(system->unknown(element.from)) -= ampere;
      if (system->unknown(element.to) >= 0) missing(system->unknown(element.to)) += ampere;
    }
    Eigen::Map<Eigen::VectorXd>(solution.data(), inverse.rows()) += inverse * missing;
    voltages = system->node_voltages(solution);
  }
};

ChangingNetwork::ChangingNetwork(Network network, const Values& values) : inside_(std::make_unique<Inside>()) {
  if (!linear(network)) throw std::invalid_argument("only a linear network can change by rank-1 updates");
  inside_->companions = companions_of(network, values);
  inside_->network = std::move(network);
  inside_->renew();
}
ChangingNetwork::~ChangingNetwork() = default;
ChangingNetwork::ChangingNetwork(ChangingNetwork&&) noexcept = default;
ChangingNetwork& ChangingNetwork::operator=(ChangingNetwork&&) noexcept = default;

void ChangingNetwork::set_resistance(ElementIndex resistor, double ohm) {
  const Companion next = Companion::resistor(ohm);
  const bool updated = inside_->update(resistor, next);
  inside_->companions[at(resistor)] = next;
  if (!updated) inside_->renew();
}

const std::vector<double>& ChangingNetwork::voltages() const { return inside_->voltages; }
int ChangingNetwork::factorisations() const { return inside_->factorisations; }

}  // namespace zoneproof::circuit
