#pragma once
#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "circuit/network.hpp"

/// Inside of the engine: one linear(ised) network as a symmetric nodal system. Callers use solve.hpp, reduction.hpp,
/// worst_case.hpp.
namespace zoneproof::circuit {

/// Nodes, elements and unknowns are ints; vectors want size_t.
inline std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// What an element is in one linear step. Current from `from` to `to`: conductance * (v_from - v_to) + injection.
/// A link holds v_to - v_from = volt, whatever current that takes.
struct Companion {
  enum class Form { open, norton, link };
  Form form = Form::open;
  double conductance = 0.0;  ///< S
  double injection = 0.0;    ///< A
  double volt = 0.0;         ///< V
  bool joins = false;        ///< counts as a connection although it conducts nothing at the moment

  static Companion resistor(double ohm);
  static Companion norton(double siemens, double ampere) { return {Form::norton, siemens, ampere, 0.0, false}; }
  static Companion link(double volt) { return {Form::link, 0.0, 0.0, volt, false}; }
  /// Whether it ties the voltage of its nodes together; a negative conductance (a running load) does not.
  bool conducts() const { return form == Form::link || joins || (form == Form::norton && conductance > 0.0); }
};

/// L^-1 of the incidence of a branch, A = L L^T: of two of them the product is the entry of A^-1 between the branches,
/// so no inverse is ever made. Where the factor is sparse few entries are not zero, those on the way from the branch to
/// the root of the elimination tree: in the network of a site, whose pairs branch off a few rails, some dozens.
struct HalfColumn {
  struct Entry {
    int row;
    double value;
  };
  std::vector<Entry> entries;  ///< by row
};

/// Nodal analysis on merged nodes.
///
/// Modified nodal analysis (Ho, Ruehli, Brennan 1975) adds a row per ideal source and thereby makes the matrix
/// indefinite. Here the nodes that ideal sources and zero ohms tie together are merged instead, each with a fixed
/// offset to its root (union-find with potentials): what remains is the plain nodal matrix, symmetric and, as long as
/// all conductances are positive, a nonsingular M-matrix (Berman & Plemmons 1994, ch. 6): Cholesky needs no pivoting,
/// the inverse is non-negative, and one more solve bounds the error of every voltage (error_bound). The price: the
/// current of a link follows from Kirchhoff's current law along the tree of links, and a link that closes a loop of
/// zero ohms has no current of its own (0 is given).
///
/// Floating parts (joined to the reference by nothing that conducts) get no unknowns; their voltages are NaN.
class NodalSystem {
 public:
  NodalSystem(const Network& network, std::vector<Companion> companions);
  ~NodalSystem();
  NodalSystem(NodalSystem&&) noexcept;
  NodalSystem& operator=(NodalSystem&&) noexcept;

  /// Other companions of the same network. What is joined to what is looked at anew only where it may have changed.
  void take(std::vector<Companion> companions);

  static constexpr int grounded = -1;  ///< fixed against the reference by links alone
  static constexpr int floats = -2;

  int unknowns() const { return unknowns_; }
  int unknown(Node node) const { return unknown_[at(node)]; }   ///< index, grounded or floats
  double offset(Node node) const { return offset_[at(node)]; }  ///< V above the root
  const std::vector<Companion>& companions() const { return companions_; }
  const std::vector<Node>& floating() const { return floating_; }
  /// Elements of the first loop of links that holds a source; empty when there is none.
  const std::vector<ElementIndex>& source_loop() const { return source_loop_; }
  /// Node offsets that one volt more of this link makes, all else the same (-1, 0 or 1); zero for a link outside the
  /// tree.
  std::vector<double> unit_offsets(ElementIndex link) const;

  /// Cholesky of the matrix, plus `shift[i] * shift_factor` on its diagonal. False: not positive definite.
  bool factorise(const std::vector<double>& shift = {}, double shift_factor = 0.0);
  std::vector<double> diagonal() const;
  /// Right hand side of the companions: injections and offsets.
  std::vector<double> right_hand_side() const;
  /// Solves for `count` right hand sides stored one after the other. Needs factorise().
  void solve(double* columns, int count) const;
  /// Of the branch between two nodes; empty where both are grounded, float or are one unknown. Needs factorise(). Cost:
  /// the entries of the factor on its way.
  HalfColumn half_column(Node from, Node to) const;
  /// Voltage of every node, NaN where floating.
  std::vector<double> node_voltages(const std::vector<double>& solution) const;

  /// Completes the currents: those of norton elements are given, those of links are filled in by Kirchhoff's current
  /// law.
  void complete_currents(std::vector<double>& current) const;

  /// Bounds on |A^-1| applied to each of the vectors (>= 0), entry by entry; infinite where the factorisation is too
  /// poor to tell.
  std::vector<std::vector<double>> error_bounds(std::vector<std::vector<double>> residuals) const;

 private:
  struct Factor;
  void merge();
  void find_floating();
  void note_loop(ElementIndex closing);
  std::optional<std::vector<std::vector<double>>> bounds_by_factors(
      const std::vector<std::vector<double>>& residuals) const;
  std::vector<std::vector<double>> bounds_by_inverse(const std::vector<std::vector<double>>& residuals) const;

  struct TreeEdge {
    Node other;
    ElementIndex element;
  };
  struct ForestEdge {
    TreeEdge edge;
    int next;  ///< of the same node, -1: it is the oldest
  };
  void add_edge(Node at, const TreeEdge& edge);

  const Network* network_;
  std::vector<Companion> companions_;
  std::vector<Node> root_;
  std::vector<double> offset_;
  std::vector<ForestEdge> forest_;  ///< links of the merge forest, from both of their ends
  std::vector<int> first_edge_;     ///< per node: its newest in the forest, -1 where it has none
  std::vector<Node> walk_;          ///< nodes in an order in which a parent comes before its children
  std::vector<TreeEdge> parent_;    ///< per node: towards its root; element -1 at a root
  std::vector<int> unknown_;
  std::vector<Node> floating_;
  std::vector<ElementIndex> source_loop_;
  int unknowns_ = 0;
  std::unique_ptr<Factor> factor_;
};

}  // namespace zoneproof::circuit
