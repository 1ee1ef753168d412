#pragma once
#include <map>
#include <string>
#include <vector>

#include "circuit/network.hpp"
#include "circuit/solve.hpp"

/// A deck writer of the tests' own, from the definitions of the elements in network.hpp and solve.hpp alone: it shares
/// nothing with the engine.
namespace zoneproof::circuit {

/// The network as ngspice reads it. `hints`: node voltages given as .nodeset, so that of several operating points the
/// one meant is judged.
std::string ngspice_deck(const Network& network, const Values& values, const Solution* hints);

/// Runs all decks in one process and returns for each the node voltages by name; an empty map where ngspice found no
/// solution.
std::vector<std::map<std::string, double>> run_ngspice(const std::vector<std::string>& decks,
                                                       const std::string& folder);

}  // namespace zoneproof::circuit
