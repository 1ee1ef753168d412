#pragma once
#include <string>
#include <vector>

#include "proof/chains.hpp"

/// What a chain that is not proven comes to for an operator: no volts and no coordinates, these stand in the summary.
namespace zoneproof::handover {

/// A plain line for each thing that may go wrong, the worst first, each once. Empty where the chain is proven.
std::vector<std::string> operator_lines(const proof::Chain& chain);

/// Whether everything that is not proven comes up only once mains are gone. Never told from the condition in which a
/// check is worst: it may fail in others as well.
bool only_without_mains(const proof::Chain& chain);

}  // namespace zoneproof::handover
