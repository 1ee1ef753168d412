#pragma once
#include <memory>
#include <optional>
#include <vector>

#include "circuit/solve.hpp"

/// What a solved network does when a few of its branches change: a wire opens, two nodes touch, a contact moves.
///
/// Theory. A branch whose conductance changes by c adds c b b^T to the nodal matrix A, b its incidence. For k branches
/// together, with U = [b_1 ... b_k], the voltages follow from the solved ones by Woodbury's identity (1950)
///     x' = x - Z (C^-1 + U^T Z)^-1 w,      Z = A^-1 U,  C = diag(c),  w = the branches' voltages before,
/// in which a short (c infinite) has C^-1 = 0 and an added branch starts from no conductance; a current source that
/// changes moves x before that by A^-1 b times its change. Nothing is factorised again: a variation costs some
/// solutions with the factors of A, a glance no more than products of half columns (nodal.hpp), whatever the size. A is
/// the matrix linearised at the operating point; what constant-power loads and diodes do beyond their tangents is added
/// as currents and iterated (chord method: Ortega & Rheinboldt 1970, 10.2) until the voltages stand still.
///
/// What is cut off is found by asking what still conducts (variation_ties.hpp), not by the digits of a pivot: near
/// zero, a pivot tells no leakage from none. A part that is cut off and that no source feeds takes no current over any
/// of the ways to it: one of them may stay closed, all other voltages are the same, and its own are NaN.
///
/// A collapsed network is varied as it stands only where no load that is locked has a voltage to run at (behind what
/// the linearised network is to it), with room to spare: else another operating point might have come up.
///
/// It gives way to a fresh solution (solve.hpp) where the formula has no answer or might have another one: what is cut
/// off holds a load or an end of a source or diode, the small matrix is nearly singular, a branch was a link of no
/// resistance, a diode or load changes its state, or the iteration does not stand still. Either way the operating point
/// is the same, within the tolerance of the solver (tests/circuit/variation_test.cpp holds one against the other).
namespace zoneproof::circuit {

/// One thing that changes: a resistor or current source of the network, or a bridge between two nodes that nothing
/// joined.
struct Change {
  std::optional<ElementIndex> element;  ///< else a bridge
  Node a = reference, b = reference;    ///< of a bridge
  double value = 0.0;                   ///< now: ohm, 0 to infinite; of a current source ampere

  static Change of(ElementIndex element, double value) { return {element, reference, reference, value}; }
  static Change bridge(Node a, Node b, double ohm) { return {std::nullopt, a, b, ohm}; }
};

/// The network as it stands after some changes.
struct Varied {
  Trouble trouble = Trouble::none;
  std::vector<double> voltage;  ///< per node, V; NaN where it floats
  bool fresh = false;           ///< solved anew, not updated
};

/// The network with these changes in it: a bridge is a resistor more, at the end.
Network changed(Network network, const std::vector<Change>& changes);

class Variations {
 public:
  /// Solves the network at its nominal values. It is referred to and has to outlive this.
  explicit Variations(const Network& network);
  ~Variations();
  Variations(Variations&&) noexcept;

  const Solution& before() const;
  /// All changes made together; none gives the network as it was. An element is changed once. Cost: n k and some
  /// iterations where there are loads, or one solution. May be called from several threads at once.
  Varied with(const std::vector<Change>& changes) const;
  /// The same; nothing where that would have to be solved anew.
  std::optional<Varied> by_formula(const std::vector<Change>& changes) const;
  /// Voltages of a few nodes, in their order, without the others and without refinement; nothing where only with() can
  /// tell. They lose up to six digits more than those of with(): for whoever asks on which side of a limit a voltage
  /// is, and asks with() where it is near. Cost: k times the nodes asked for, each the way to the root of the
  /// elimination tree, and k times the nonlinear elements; of those only what feels the changes is iterated.
  std::optional<std::vector<double>> glance(const std::vector<Change>& changes, const std::vector<Node>& asked) const;

  /// Changes and nodes made ready for many glances at this network.
  class Ready {
   public:
    struct Inside;
    std::shared_ptr<const Inside> inside;
  };
  class Asked {
   public:
    struct Inside;
    std::shared_ptr<const Inside> inside;
    const std::vector<Node>& nodes() const;
  };
  Ready ready(const std::vector<Change>& changes) const;
  Asked asked(const std::vector<Node>& nodes) const;
  /// A movement alone, with the nodes that are looked at beside it.
  class Alone {
   public:
    struct Inside;
    std::shared_ptr<const Inside> inside;  ///< nothing where the formula does not take it
  };
  /// Changes that may be far away from what is looked at. Of one thread.
  class Shock {
   public:
    struct Inside;
    std::shared_ptr<Inside> inside;  ///< likewise
  };
  Alone alone(const Ready& movement, const Asked& asked) const;
  Shock shock(const Ready& changes) const;
  /// No node that is looked at beside the movement is moved by more than this, in V, when the changes are made as well
  /// (variation_bystander.cpp, with the proof); infinite where that cannot be told so cheaply, or an element is in
  /// both. Cost: of a few nodes, once for movements with the same nodes one after the other.
  double most_moved(const Shock& shock, const Alone& movement) const;
  /// Groups of movements, for one answer about all of a group.
  class Crowds {
   public:
    struct Inside;
    std::shared_ptr<const Inside> inside;
  };
  Crowds crowds(const std::vector<std::vector<Alone>>& groups) const;
  /// By group: no less than most_moved for any movement of it. Cost: the way from the changes to the root of the
  /// elimination tree, times the groups; nothing of what hangs in the groups.
  std::vector<double> most_moved(const Shock& shock, const Crowds& crowds) const;

  /// A glance at both changes made together; no element is in both.
  std::optional<std::vector<double>> glance(const Ready& first, const Ready& second, const Asked& asked) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace zoneproof::circuit
