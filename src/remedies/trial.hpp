#pragma once
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "electric/kept_answers.hpp"
#include "proof/chains.hpp"
#include "remedies/candidate.hpp"

namespace zoneproof::remedies {

/// What tells a check from all others of a site: "subject/link/check".
std::string key_of(const chain::Evidence& evidence);

/// All verdicts of a site: of each check of each thing (the worst, where it has several), and of each link.
struct Standing {
  std::map<std::string, chain::Evidence> checks;  ///< by key_of
  std::map<std::pair<std::string, chain::Link>, chain::Verdict> links;
};
Standing standing_of(const proof::Proof& proof);

/// The whole site proven, with what is kept of its variants (electric/kept_answers.hpp).
Standing prove_all(const site::Site& site, electric::KeptAnswers& kept);
/// Only the checks of the problem's thing.
Standing prove_part(const site::Site& site, const Problem& problem);

/// What a problem's checks come to afterwards; nothing where one of them is unanswered, gone or worse, or none better.
/// A check that is gone counts as proven where the wire was taken off that it was about, and where it is one that is
/// told only when it is wrong.
struct Outcome {
  chain::Verdict verdict = chain::Verdict::unanswered;  ///< all of them together
  std::optional<chain::Evidence> decisive;
};
std::optional<Outcome> outcome_of(const Problem& problem, const Standing& after, bool takes_wire_off);

/// How much of what the problem's checks lack is there afterwards: the mean over them of the share of the missing
/// margin that is made up, at most 1, and 1 for what is proven. Nothing where a check is unanswered, gone or has a
/// worse verdict, or where hardly anything is made up.
std::optional<double> share_of(const Problem& problem, const Standing& after, bool takes_wire_off);

/// The worst that becomes of any check that `after` holds and that was better before, or was not there.
enum class Harm { none, thins, breaks };
Harm harm_of(const Standing& before, const Standing& after);

/// The first thing that is worse afterwards than before, as a sentence; nothing where none is.
std::optional<Message> worsened(const site::Site& site, const Standing& before, const Standing& after);

std::vector<LinkChange> improvements(const Standing& before, const Standing& after);

}  // namespace zoneproof::remedies
