#pragma once
#include <optional>
#include <string>

#include "promises/promise.hpp"
#include "site/model.hpp"

namespace zoneproof::promises {

/// The site of large_site.hpp with so many zones, seed 1.
site::Site generated_site(unsigned zones);
/// One of the sites of data/demo, by its name.
site::Site demo_site(const std::string& name);

/// What a proof took.
struct ProofCost {
  double seconds = 0.0;
  double megabytes = 0.0;  ///< most memory that the process held
};

/// The electrical proof of the generated site, in a process of its own. A size that was proven once in this run is not
/// proven again. Nothing where it takes longer than `effort` allows: it is stopped then, or not begun where a smaller
/// one took so long that it must. Throws std::runtime_error where the proof fails.
std::optional<ProofCost> proof_alone(unsigned zones, const Effort& effort);

/// What a figure without that proof says of itself.
std::string left_out(unsigned zones, const Effort& effort);

}  // namespace zoneproof::promises
