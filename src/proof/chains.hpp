#pragma once
#include <array>
#include <string>
#include <vector>

#include "chain/evidence.hpp"
#include "site/model.hpp"

namespace zoneproof::proof {

/// One link of a zone's chain with everything that speaks to it, worst first.
struct LinkAnswer {
  chain::Link link = chain::Link::sense;
  chain::Verdict verdict = chain::Verdict::unanswered;
  std::vector<chain::Evidence> evidence;
};

struct Chain {
  std::string zone;
  chain::Verdict verdict = chain::Verdict::unanswered;
  chain::Link weakest = chain::Link::sense;  ///< where the first evidence to read is
  std::array<LinkAnswer, 5> links;           ///< in the order of chain::Link
};

struct Proof {
  std::vector<Chain> chains;                   ///< worst first, then by zone number
  std::vector<chain::Evidence> site_evidence;  ///< what belongs to no chain (e.g. a sounder's supply), worst first
  std::vector<std::string> without_chain;      ///< zones that are not there to be verified (fire, technical, access)

  /// Whether every chain is proven on the links asked for.
  bool all_proven(const std::vector<chain::Link>& links) const;
};

/// Joins the engines' answers into chains: evidence of a detector, unit, panel or supply goes to every zone that leans
/// on it. What no engine answers yet is unanswered and says so. `answers` may come from several engines in any order.
Proof join(const site::Site& site, const std::vector<chain::Evidence>& answers);

}  // namespace zoneproof::proof
