#pragma once
#include "circuit/valued_network.hpp"

/// Inside of the engine: pseudo-transient continuation, steps 2 and 3 of the method of solve.hpp.
namespace zoneproof::circuit {

/// Lets the network settle from `point` as a real one would: implicit Euler steps of the network with a capacitor at
/// every node, of the size of the conductances around it, so that every node follows at about the same pace. A step is
/// accepted only where it lowers the potential and moves no load's voltage by more than half. `with_loads`: loads take
/// part, running or locked by their voltage; else they stay as they are. True when it has come to rest, within
/// `most_steps`, which are counted in `iterations`. Source: Kelley & Keyes, SIAM J. Numer. Anal. 35 (1998) 508-523.
bool settle(const ValuedNetwork& network, Point& point, bool with_loads, int most_steps, int& iterations);

}  // namespace zoneproof::circuit
