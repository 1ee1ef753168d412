#pragma once
#include <Eigen/Dense>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "circuit/laws.hpp"
#include "circuit/nodal.hpp"
#include "circuit/variation.hpp"
#include "circuit/variation_ties.hpp"

/// Inside of the engine: the solved network that variation.hpp varies, and the two ways to read a variation off it.
namespace zoneproof::circuit {

/// A network linearised at its operating point, with the inverse of its nodal matrix.
struct Linearised {
  const Network& network;
  Values values;
  Solution before;
  States states;
  std::optional<NodalSystem> system;
  std::optional<Ties> ties;
  Eigen::MatrixXd inverse;
  Eigen::VectorXd solution;  ///< of the unknowns
  std::vector<ElementIndex> currents, loads, diodes;
  std::map<ElementIndex, double> most_locked_volts;  ///< of a collapsed network: below it a load has no other state
  bool updatable = false;

  explicit Linearised(const Network& solved);

  double drop(const std::vector<double>& v, ElementIndex e) const {
    return v[at(network.element(e).from)] - v[at(network.element(e).to)];
  }
  bool floats(Node node) const { return system->unknown(node) == NodalSystem::floats; }
  /// What the element draws beyond its tangent at the voltage u over it; nothing where it is in another state there.
  std::optional<double> beyond_tangent(ElementIndex e, long double u) const;

 private:
  void linearise();
  bool lock_for_good();
  bool keeps(ElementIndex e, long double u) const;
};

/// A branch that is added: a resistor that changes is one beside it.
struct Branch {
  Node a, b;
  double softness;  ///< ohm: 1 / its conductance
};

/// Some changes, as the formula wants them.
struct Branched {
  std::vector<Branch> branches;
  std::vector<std::pair<ElementIndex, double>> driven;  ///< current sources, with what they drive now
  CutOff cut;

  bool cut_off(Node node) const { return cut.any() && cut.part[at(node)] != 0; }
};

inline constexpr int most_branches = 8;  ///< more of them are for a fresh solution
using Small = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, most_branches, most_branches>;
using SmallVector = Eigen::Matrix<double, Eigen::Dynamic, 1, Eigen::ColMajor, most_branches, 1>;

/// (C^-1 + U^T Z)^-1, `small` being U^T Z. Each row and column is scaled by what its diagonal is a sum of, so that the
/// pivots tell how many digits are lost; nothing where one is below `smallest_pivot`.
std::optional<Small> inverse_of(Small small, const std::vector<Branch>& branches, double smallest_pivot);

/// Nothing where only a fresh solution can tell: a link changes, what floated is touched, or what is cut off is fed.
std::optional<Branched> branched(const Linearised& network, const std::vector<Change>& changes);

/// All voltages, refined (variation_update.cpp); nothing: as above, or the formula has no answer.
std::optional<Varied> updated(const Linearised& network, const std::vector<Change>& changes);

/// A few voltages, as they come out (variation_glance.cpp); nothing: as above, or too many digits would be lost.
std::optional<std::vector<double>> glanced(const Linearised& network, const std::vector<Change>& changes,
                                           const std::vector<Node>& asked);

}  // namespace zoneproof::circuit
