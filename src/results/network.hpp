#pragma once
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "carriage/load.hpp"
#include "chain/evidence.hpp"
#include "results/ask.hpp"
#include "results/questions.hpp"

/// The question network: what carries the clips, thing by thing.
namespace zoneproof::results {

/// All that is said of one thing of the network, worst first.
struct ThingTold {
  std::string thing;
  chain::Verdict verdict = chain::Verdict::unanswered;
  std::vector<chain::Evidence> evidence;
};

struct NetworkAnswer {
  std::vector<ThingTold> things;         ///< worst first, then by id
  std::vector<carriage::HopLoad> loads;  ///< the fullest first

  /// Something is there, and all that is asked of it is proven.
  bool all_proven() const;
};

/// Cost: carriage/answers.hpp.
NetworkAnswer network_answer(const site::Site& site);
nlohmann::ordered_json json_of(const NetworkAnswer& answer);

}  // namespace zoneproof::results
