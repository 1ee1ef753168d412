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

/// What a load draws beyond its tangent is left out of a glance where it moves its own voltage by less. No voltage
/// elsewhere moves by more than that (a resistive network passes on no more than it is driven with), so a thousand
/// loads come to a tenth of what a glance may lose.
inline constexpr double kNegligible_volts = 1e-9;

/// The nonlinear elements of a network, and how they answer each other.
struct Bending {
  std::vector<ElementIndex> loads, diodes;
  std::vector<HalfColumn> halves;  ///< of the loads, then of the diodes
  std::vector<double> before;      ///< V over each of them, likewise
  std::vector<double> own;         ///< by load: V over it for an ampere through it
  /// While the voltage over none of them moves by more than this, none changes its state, and what loads draw beyond
  /// their tangents moves no voltage by more than kNegligible_volts.
  double calm_volts = 0.0;
  /// While the voltage over none of them moves by more than this, none changes its state nor comes below half its
  /// voltage.
  double room_volts = 0.0;
  double sharpness = 0.0;  ///< 1/V: the sum of 8 P z / w^3 over running loads, z the resistance that each sees
  std::size_t size() const { return halves.size(); }
};

/// A network linearised at its operating point, with the factors of its nodal matrix.
struct Linearised {
  const Network& network;
  Values values;
  Solution before;
  States states;
  std::optional<NodalSystem> system;
  std::optional<Ties> ties;
  Eigen::VectorXd solution;                              ///< of the unknowns
  std::vector<std::vector<ElementIndex>> not_resistive;  ///< per node: current sources, loads and diodes that end there
  Bending bending;
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
  void look_at_bending();
  void find_room();
  bool lock_for_good();
  bool keeps(ElementIndex e, long double u) const;
};

/// A branch that is added: a resistor that changes is one beside it.
struct Branch {
  Node a, b;
  long double softness;  ///< ohm: 1 / its conductance, to all digits: opened, it takes off just what was there
};

/// Some changes, as the formula wants them.
struct Branched {
  std::vector<Branch> branches;
  std::vector<std::pair<ElementIndex, double>> driven;  ///< current sources, with what they drive now
  std::vector<std::size_t> branch_of, driven_of;        ///< which of the changes each of these is
  CutOff cut;

  bool cut_off(Node node) const { return cut.part(node) != 0; }
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

struct Variations::Inside {
  Linearised linearised;

  explicit Inside(const Network& solved) : linearised(solved) {}

  Varied solved_anew(const std::vector<Change>& changes) const;
};

/// Changes made ready: what each of them is to every other, without the network.
struct Variations::Ready::Inside {
  std::vector<Change> changes;
  std::vector<HalfColumn> halves;  ///< by change
  /// By change: the largest voltage over a nonlinear element, in size, for an ampere through the change. All of them
  /// would be as many numbers as a site has loads, for each of its states.
  std::vector<double> most_bending;
};

struct Variations::Asked::Inside {
  std::vector<Node> nodes;
  std::vector<HalfColumn> halves;
};

/// A few voltages, as they come out (variation_glance.cpp); nothing: as above, or too many digits would be lost.
std::optional<std::vector<double>> glanced(const Linearised& network, const Variations::Ready::Inside& first,
                                           const Variations::Ready::Inside& second,
                                           const Variations::Asked::Inside& asked);

/// The product of two.
double product(const HalfColumn& a, const HalfColumn& b);

/// U^T Z of some branches: the products of their half columns. `half`: of a branch, by its place.
template <class HalfOf>
Small products(std::size_t branches, HalfOf&& half) {
  const auto k = static_cast<Eigen::Index>(branches);
  Small small(k, k);
  for (Eigen::Index i = 0; i < k; ++i) {
    for (Eigen::Index j = 0; j <= i; ++j)
      small(i, j) = small(j, i) = product(half(static_cast<std::size_t>(i)), half(static_cast<std::size_t>(j)));
  }
  return small;
}

}  // namespace zoneproof::circuit
