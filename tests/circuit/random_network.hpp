#pragma once
#include <random>

#include "circuit/network.hpp"

/// Random networks for the tests: every kind of element, well posed by construction (a spanning tree of resistors).
namespace zoneproof::circuit {

struct RandomShape {
  int nodes = 8;
  int extra_resistors = 6;
  int voltages = 2;
  int currents = 1;
  int loads = 0;
  int diodes = 0;
  int limited = 0;
  double tolerance = 0.0;      ///< relative half-width of resistors and sources
  double wide_share = 1.0;     ///< share of the elements that get the tolerance
  double extreme_share = 0.0;  ///< share of the extra resistors that range from a contact to a leak or an open end
};

/// Same seed, same network. Constant-power loads and diodes sit across pairs of nodes with a voltage between them.
Network random_network(unsigned seed, const RandomShape& shape);

}  // namespace zoneproof::circuit
