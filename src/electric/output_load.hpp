#pragma once
#include <string>
#include <vector>

#include "electric/answer.hpp"
#include "electric/finding.hpp"

/// What a panel's output has to carry, against what its part can.
namespace zoneproof::electric {

/// Most that the elements of these names draw together, in A: of each the largest voltage over it, in any corner, by
/// its smallest resistance (of a clamp: what is beyond its forward voltage). Names that are not in the network draw
/// nothing; infinite where no bound holds. Cost: one worst case of as many quantities.
double most_drawn(const circuit::Network& network, const std::vector<std::string>& names);

/// The load that the elements of these names are to the output `output`, as evidence about `subject`: proven where its
/// part carries it, whatever the corner. Empty where the part has no limit.
std::vector<chain::Evidence> judge_load(const site::Site& site, const std::string& output, Subject subject,
                                        const Wiring& wiring, const Solved& solved,
                                        const std::vector<std::string>& names);

}  // namespace zoneproof::electric
