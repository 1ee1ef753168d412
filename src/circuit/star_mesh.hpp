#pragma once
#include <map>
#include <set>
#include <utility>
#include <vector>

#include "circuit/lane_code.hpp"

/// Inside of the engine: a nodal system solved node by node, written down as steps for many sets of values.
///
/// Eliminating node k of a network turns the star of its branches into a mesh between its neighbours (Rosen 1924; Kron
/// 1939): with the sum s of its conductances, branch i-j gains g_ki g_kj / s, and node j the current J_k g_kj / s. It
/// is Cholesky's elimination, but the diagonal is never kept, it is summed up anew from the branches. As long as all
/// conductances are positive nothing is ever subtracted from them, so every conductance keeps its digits whatever the
/// values (Grassmann, Taksar, Heyman 1985, for Markov chains): no refinement is needed, and a node that nothing holds
/// shows as a division by zero. The order is that of least neighbours (Markowitz 1957): loops and trees fill in
/// nothing. Sources in parentheses are from memory.
namespace zoneproof::circuit {

class StarMesh {
 public:
  static constexpr int ground = -1;

  StarMesh(LaneCode& code, int unknowns);

  /// A conductance between two unknowns (or ground), and a current that enters an unknown.
  void branch(int a, int b, Word siemens);
  void inject(int unknown, Word ampere);
  /// Eliminates all unknowns that are not in `last`, in an order of its own.
  void eliminate_all_but(const std::set<int>& last);
  /// Eliminates these, in this order: what is left.
  void eliminate(const std::vector<int>& order);
  /// The voltage of an unknown, once all are eliminated: written when first asked for.
  Word voltage(int unknown);
  /// The sums of conductances that elimination divided by, inverted: negative where the system has no stable point.
  const std::vector<Word>& pivots() const { return pivots_; }

 private:
  struct Gone {
    std::vector<std::pair<int, Word>> ratios;  ///< neighbour (never ground) and g_kj / s
    Word own = 0;                              ///< J_k / s
  };

  Word& conductance(int a, int b);
  void eliminate(int k);

  LaneCode& code_;
  std::map<std::pair<int, int>, Word> branches_;  ///< by the lower and the higher end
  std::vector<std::set<int>> neighbours_;         ///< ground not among them
  std::vector<Word> injected_;
  std::vector<Gone> gone_;
  std::vector<bool> is_gone_;
  std::vector<Word> voltage_;  ///< -1: not written yet
  std::vector<Word> pivots_;
};

}  // namespace zoneproof::circuit
