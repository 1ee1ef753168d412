#pragma once
#include <map>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "electric/answers.hpp"
#include "proof/chains.hpp"
#include "results/kept.hpp"
#include "results/questions.hpp"
#include "site/model.hpp"

/// The question prove.
namespace zoneproof::results {

/// The proof, seen through the links that were asked for.
struct ProveAnswer {
  std::vector<chain::Link> links;  ///< asked for, in the order of the chain
  proof::Proof proof;              ///< chains worst first, by those links
  bool with_site = true;           ///< what belongs to no chain counts too: no zone was named

  bool asks(chain::Link link) const;
  const proof::LinkAnswer& link(const proof::Chain& chain, chain::Link link) const;
  /// Of the links asked for.
  chain::Verdict verdict(const proof::Chain& chain) const;
  bool all_proven() const;
  std::map<chain::Verdict, long long> counts() const;
};

/// The whole proof of a site, or of one zone (its id): the one place where a proof is made, for commands and sessions.
/// `kept`: answers to variants of this site, for what has not changed (results/kept.hpp); may be null.
/// `seen`: is told the levels of every zone (electric/answers.hpp); may be empty.
/// Cost: that of everything electrical (electric/answers.hpp).
proof::Proof proof_of(const site::Site& site, const std::string& zone, const Progress& progress, Kept* kept = nullptr,
                      const electric::LevelsSeen& seen = {});

Answered<ProveAnswer> answer(const site::Site& site, const ProveQuestion& question, const Progress& progress,
                             Kept* kept = nullptr);
nlohmann::ordered_json json_of(const site::Site& site, const ProveAnswer& answer);

}  // namespace zoneproof::results
