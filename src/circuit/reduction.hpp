#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "circuit/network.hpp"
#include "circuit/solve.hpp"

/// A linear network seen from a few of its nodes, and a linear network of which one resistor changes at a time.
namespace zoneproof::circuit {

/// What a network is to whoever is joined to its ports only: the current that flows out of it into port i is
///     short_circuit[i] - sum_j conductance[i * n + j] * v_j.
/// The conductance is the Schur complement of the nodal matrix in the inner nodes (Kron 1939): symmetric, exact, and of
/// the size of the ports whatever lies behind them.
struct PortEquivalent {
  std::vector<Node> ports;
  std::vector<double> conductance;    ///< S, row by row
  std::vector<double> short_circuit;  ///< A out of the network into each port, all ports held at 0 V
};

/// Eliminates all nodes but the ports. Empty when a port is tied to another port or to the reference by ideal sources
/// or zero ohms (it then has no conductance), or the network has nonlinear elements (reduce what is linear, keep the
/// others outside). Parts that hang on nothing but each other are left out. Cost: one factorisation and one solve per
/// port.
std::optional<PortEquivalent> reduce_to_ports(const Network& network, const Values& values,
                                              const std::vector<Node>& ports);

/// A factorised linear network of which resistors change one after the other: n^2 operations a change instead of n^3.
///
/// A^-1 is kept and changed by Sherman & Morrison's formula (1950): (A + c b b^T)^-1 = A^-1 - c A^-1 b b^T A^-1 / (1 +
/// c b^T A^-1 b). It is made afresh every 64 changes, when a resistor becomes or ceases to be zero ohms (that merges
/// nodes), and when a change is so strong that the formula would lose digits (its divisor below 1e-4); each step is
/// refined once: that holds the voltages to 1e-12 relative.
class ChangingNetwork {
 public:
  /// Throws std::invalid_argument when the network has nonlinear elements.
  ChangingNetwork(Network network, const Values& values);
  ~ChangingNetwork();
  ChangingNetwork(ChangingNetwork&&) noexcept;
  ChangingNetwork& operator=(ChangingNetwork&&) noexcept;

  void set_resistance(ElementIndex resistor, double ohm);  ///< ohm >= 0, or infinite
  const std::vector<double>& voltages() const;             ///< per node; NaN where floating
  int factorisations() const;                              ///< made so far, the first included

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace zoneproof::circuit
