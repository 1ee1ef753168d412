#include "remedies/trial.hpp"

#include <algorithm>

#include "chain/words.hpp"
#include "electric/answers.hpp"
#include "electric/arming_check.hpp"
#include "electric/back_feed.hpp"
#include "electric/naming.hpp"
#include "electric/standby.hpp"
#include "electric/supply_check.hpp"
#include "messages/remedies.hpp"

namespace zoneproof::remedies {

using chain::Evidence;
using chain::Verdict;

namespace {

/// The one check that is not there where nothing is wrong with it.
constexpr const char* told_only_when_wrong = "setting_fits";

void keep(Standing& standing, const Evidence& evidence) {
  const auto [at, made] = standing.checks.emplace(key_of(evidence), evidence);
  if (!made && chain::rank(evidence.verdict) < chain::rank(at->second.verdict)) at->second = evidence;
}

std::vector<Evidence> answers_of(const site::Site& site, const Problem& problem) {
  const std::string& subject = problem.subject;
  if (site.zones.count(subject) != 0) return electric::zone_answers(site, subject);
  std::vector<Evidence> answers;
  if (site.units.count(subject) != 0 && fails(problem, "arming_")) {
    append(answers, electric::check_arming(site, subject));
    append(answers, electric::check_back_feed(site, subject));
  }
  const bool stores = site.supplies.count(subject) != 0 || site.batteries.count(subject) != 0;
  if (stores) append(answers, electric::check_standby(site));
  const bool only_arming = std::all_of(problem.evidence.begin(), problem.evidence.end(),
                                       [](const Evidence& evidence) { return evidence.id.rfind("arming_", 0) == 0; });
  if (!only_arming) append(answers, electric::check_supply(site));
  return answers;
}

/// What a check of the problem is afterwards; nothing where it is gone and that is no cure.
std::optional<Verdict> verdict_after(const Evidence& evidence, const Standing& after, bool takes_wire_off) {
  const auto now = after.checks.find(key_of(evidence));
  if (now != after.checks.end()) return now->second.verdict;
  const bool may_go = takes_wire_off || evidence.id == told_only_when_wrong;
  return may_go ? std::optional(Verdict::proven) : std::nullopt;
}

/// The share of its missing margin that a check has got; nothing where it has no margin.
double made_up(const Evidence& before, const Evidence& after) {
  if (!before.margin || !after.margin) return 0.0;
  const double missing = before.required_margin.value_or(0.0) - *before.margin;
  return missing > 0.0 ? std::clamp((*after.margin - *before.margin) / missing, -1.0, 1.0) : 0.0;
}

/// A check of a zone that is thin: whether that is harm is told by its link, which may have been thin before.
bool only_thinner(const site::Site& site, const Evidence& now) {
  return now.verdict == Verdict::thin && site.zones.count(now.subject) != 0;
}

std::string thing_of(const site::Site& site, const std::string& subject) {
  return site.zones.count(subject) != 0 ? electric::zone_words(site, subject) : electric::thing_words(site, subject);
}

}  // namespace

std::string key_of(const Evidence& evidence) {
  return evidence.subject + "/" + chain::word(evidence.link) + "/" + evidence.id;
}

Standing standing_of(const proof::Proof& proof) {
  Standing standing;
  for (const proof::Chain& chain : proof.chains) {
    for (const proof::LinkAnswer& link : chain.links) {
      standing.links[{chain.zone, link.link}] = link.verdict;
      for (const Evidence& evidence : link.evidence) keep(standing, evidence);
    }
  }
  for (const Evidence& evidence : proof.site_evidence) keep(standing, evidence);
  return standing;
}

Standing prove_all(const site::Site& site, electric::KeptAnswers& kept) {
  return standing_of(proof::join(site, electric::electrical_answers(site, "", {}, &kept)));
}

Standing prove_part(const site::Site& site, const Problem& problem) {
  Standing standing;
  for (const auto& entry : standing_of(proof::join(site, answers_of(site, problem))).checks) {
    if (entry.second.subject == problem.subject) standing.checks.insert(entry);
  }
  return standing;
}

std::optional<Outcome> outcome_of(const Problem& problem, const Standing& after, bool takes_wire_off) {
  Outcome outcome;
  std::vector<Verdict> verdicts;
  bool better = false;
  for (const Evidence& evidence : problem.evidence) {  // the worst of a check first
    const std::optional<Verdict> is = verdict_after(evidence, after, takes_wire_off);
    if (!is || *is == Verdict::unanswered || chain::rank(*is) < chain::rank(evidence.verdict)) return std::nullopt;
    better = better || chain::rank(*is) > chain::rank(evidence.verdict);
    verdicts.push_back(*is);
    const auto now = after.checks.find(key_of(evidence));
    if (now == after.checks.end()) continue;
    if (!outcome.decisive || chain::rank(*is) < chain::rank(outcome.decisive->verdict)) outcome.decisive = now->second;
  }
  if (!better) return std::nullopt;
  outcome.verdict = chain::together(verdicts);
  return outcome;
}

std::optional<double> share_of(const Problem& problem, const Standing& after, bool takes_wire_off) {
  constexpr double hardly = 0.01;
  double sum = 0.0;
  for (const Evidence& evidence : problem.evidence) {
    const std::optional<Verdict> is = verdict_after(evidence, after, takes_wire_off);
    if (!is || chain::rank(*is) < chain::rank(evidence.verdict) || *is == Verdict::unanswered) return std::nullopt;
    sum += *is == Verdict::proven ? 1.0 : made_up(evidence, after.checks.at(key_of(evidence)));
  }
  const double mean = sum / static_cast<double>(problem.evidence.size());
  return mean > hardly ? std::optional(mean) : std::nullopt;
}

Harm harm_of(const Standing& before, const Standing& after) {
  Harm harm = Harm::none;
  for (const auto& [key, now] : after.checks) {
    const auto was = before.checks.find(key);
    const bool worse = was == before.checks.end() || chain::rank(now.verdict) < chain::rank(was->second.verdict);
    if (!worse || now.verdict == Verdict::proven) continue;
    harm = std::max(harm, now.verdict == Verdict::thin ? Harm::thins : Harm::breaks);
  }
  return harm;
}

std::optional<Message> worsened(const site::Site& site, const Standing& before, const Standing& after) {
  for (const auto& [key, now] : after.checks) {
    const auto was = before.checks.find(key);
    const std::string thing = thing_of(site, now.subject);
    if (was == before.checks.end()) {
      if (now.verdict == Verdict::broken || now.verdict == Verdict::unanswered)
        return say::remedy_brings_along(thing, now.id, chain::words(now.verdict));
    } else if (chain::rank(now.verdict) < chain::rank(was->second.verdict) && !only_thinner(site, now)) {
      return say::remedy_worsens(thing, now.id, chain::words(was->second.verdict), chain::words(now.verdict));
    }
  }
  for (const auto& [key, was] : before.links) {
    const auto now = after.links.find(key);
    const Verdict is = now == after.links.end() ? Verdict::unanswered : now->second;
    if (chain::rank(is) < chain::rank(was))
      return say::remedy_worsens(thing_of(site, key.first), chain::words(key.second), chain::words(was),
                                 chain::words(is));
  }
  return std::nullopt;
}

std::vector<LinkChange> improvements(const Standing& before, const Standing& after) {
  std::vector<LinkChange> all;
  for (const auto& [key, now] : after.links) {
    const auto was = before.links.find(key);
    if (was != before.links.end() && chain::rank(now) > chain::rank(was->second))
      all.push_back({key.first, key.second, was->second, now});
  }
  return all;
}

}  // namespace zoneproof::remedies
