#pragma once
#include <memory>
#include <vector>

#include "circuit/network.hpp"
#include "circuit/solve.hpp"

/// One network, solved for many sets of element values at a time.
///
/// Method. The states of diodes and limited sources are taken from the nominal operating point; with them the network
/// is linear but for its constant-power loads. Its elimination down to the nodes of the loads is written down once as
/// steps (star_mesh.hpp) and run for a block of sets in the vector registers (lane_code.hpp). On what is left, a
/// handful of nodes, Newton's method runs down from the unloaded network as in solve.hpp, every set for itself. Then
/// each set is judged: does every diode and limit stand in the state that was supposed, does every load run above its
/// lockout, is every pivot positive, did Newton's method end? A set that passes is at its operating point, the one that
/// solve() finds: without loads the point is the only one (all laws are monotone), with them it is the running one. A
/// set that does not pass, or whose values would change the shape of the network (a resistance of zero or infinity), is
/// solved by solve(), as are all sets of a network that has no usable nominal point, or a source at its limit or a load
/// locked out there.
///
/// Accuracy: conductances keep their digits (star_mesh.hpp); against solve() voltages differ by less than 1e-9 V
/// (tests/circuit/batch_test.cpp, random networks of all kinds). Results hang neither on the vector width of the
/// machine nor on the sets beside. Cost: writing the steps, about as much as ten solutions; then a zone loop of 8 nodes
/// about 20 ns a set, a site of 55 nodes with a load 1 us, one core with registers of four doubles.
namespace zoneproof::circuit {

class Batch {
 public:
  /// What differs from set to set: the value of an element, or a diode's on_ohm.
  struct Varied {
    ElementIndex element;
    bool on_ohm = false;
  };

  /// All other values are the nominal ones of `network`.
  Batch(Network network, std::vector<Varied> varied, std::vector<Quantity> quantities, SolveOptions options = {});
  ~Batch();
  Batch(Batch&&) noexcept;
  Batch& operator=(Batch&&) noexcept;

  /// `values`: count numbers for each varied element, one element after the other, in ohm, V, A or W; `results`
  /// likewise for each quantity, NaN where a set has no usable operating point or the quantity floats. Returns how many
  /// sets were solved one by one. May be called from several threads at once.
  std::size_t solve(const double* values, std::size_t count, double* results) const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace zoneproof::circuit
