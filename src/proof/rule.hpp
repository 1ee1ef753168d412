#pragma once
#include <string>

#include "chain/evidence.hpp"

/// How the rules of this folder say what they found. A rule needs no solver: its evidence has no numbers of a circuit.
namespace zoneproof::proof {

/// Which rule speaks of what: the zone, the link of its chain, the name of the check, and the rule's own name.
struct Rule {
  std::string zone;
  chain::Link link;
  const char* check;
  Message source;
};

chain::Evidence judged(const Rule& rule, chain::Verdict verdict);
/// Proven, with the sentence of the check; throws std::logic_error for a check that has none (a programming fault).
chain::Evidence holds(const Rule& rule);
chain::Evidence breaks(const Rule& rule, Message says);

/// Unanswered: what stands at `pointer` is not known.
chain::Evidence open_question(const Rule& rule, const std::string& pointer);

}  // namespace zoneproof::proof
