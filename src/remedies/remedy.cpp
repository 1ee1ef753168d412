#include "remedies/remedy.hpp"

#include <algorithm>
#include <atomic>
#include <map>
#include <set>

#include "base/parallel_for.hpp"
#include "electric/answers.hpp"
#include "messages/remedies.hpp"
#include "remedies/candidate.hpp"
#include "remedies/site_change.hpp"
#include "remedies/trial.hpp"
#include "site/patch.hpp"

namespace zoneproof::remedies {

using chain::Evidence;
using chain::Verdict;

const char* word(Kind kind) {
  switch (kind) {
    case Kind::other_range: return "other_range";
    case Kind::other_terminal: return "other_terminal";
    case Kind::spare_contact: return "spare_contact";
    case Kind::series_resistor: return "series_resistor";
    case Kind::divider: return "divider";
    case Kind::pull_up: return "pull_up";
    case Kind::armed_level: return "armed_level";
    case Kind::more_cores: return "more_cores";
    case Kind::thicker_cable: return "thicker_cable";
    case Kind::second_negative: return "second_negative";
    case Kind::other_output: return "other_output";
    case Kind::own_supply: return "own_supply";
    case Kind::larger_battery: return "larger_battery";
    case Kind::new_battery: break;
  }
  return "new_battery";
}

bool fails(const Problem& problem, const char* beginning) {
  return std::any_of(problem.evidence.begin(), problem.evidence.end(),
                     [&](const Evidence& evidence) { return evidence.id.rfind(beginning, 0) == 0; });
}

std::vector<Ladder> ladders_for(const site::Site& site, const Problem& problem) {
  std::vector<Ladder> all;
  trigger_ladders(site, problem, all);
  arming_ladders(site, problem, all);
  feed_ladders(site, problem, all);
  negative_ladders(site, problem, all);
  supply_ladders(site, problem, all);
  return all;
}

namespace {

/// The problems of a proof, in the order of subject and link.
std::vector<Problem> problems_of(const proof::Proof& proof, const std::string& zone) {
  std::map<std::pair<std::string, chain::Link>, Problem> found;
  std::set<std::string> seen;
  const auto add = [&](const Evidence& evidence, const std::string& of_zone) {
    if (evidence.verdict != Verdict::thin && evidence.verdict != Verdict::broken) return;
    Problem& problem = found[{evidence.subject, evidence.link}];
    problem.subject = evidence.subject;
    problem.link = evidence.link;
    if (!of_zone.empty() && (problem.zones.empty() || problem.zones.back() != of_zone))
      problem.zones.push_back(of_zone);
    // A supply's stands with every zone on it. Of several of one check the worst speaks: chains bring it first.
    if (seen.insert(key_of(evidence)).second) problem.evidence.push_back(evidence);
  };
  for (const proof::Chain& chain : proof.chains) {
    for (const proof::LinkAnswer& link : chain.links) {
      for (const Evidence& evidence : link.evidence) add(evidence, chain.zone);
    }
  }
  for (const Evidence& evidence : proof.site_evidence) add(evidence, "");
  std::vector<Problem> all;
  for (auto& entry : found) {
    Problem& problem = entry.second;
    std::sort(problem.zones.begin(), problem.zones.end());
    if (!zone.empty() && !std::binary_search(problem.zones.begin(), problem.zones.end(), zone)) continue;
    std::stable_sort(problem.evidence.begin(), problem.evidence.end(), [](const Evidence& a, const Evidence& b) {
      return chain::rank(a.verdict) < chain::rank(b.verdict);
    });
    problem.verdict = problem.evidence.front().verdict;
    all.push_back(std::move(problem));
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Problem& a, const Problem& b) { return chain::rank(a.verdict) < chain::rank(b.verdict); });
  return all;
}

/// One rung of a ladder, looked at.
struct Rung {
  std::size_t size = 0;
  std::optional<Candidate> candidate;
  std::optional<Outcome> outcome;
  Harm harm = Harm::none;  ///< to other checks of the same thing
};

/// A ladder with its smallest size that proves most.
struct Found {
  Ladder ladder;
  Rung rung;
};

/// What became of a candidate on the whole site: one of the two, or neither.
struct Tried {
  std::string patch;
  std::optional<Remedy> remedy;
  std::optional<Refused> refused;
};

class Search {
 public:
  Search(const site::Site& site, const Standing& before, const site::Costs& costs, Problem& problem)
      : site_(site), before_(before), costs_(costs), problem_(problem) {}

  void run() {
    const std::vector<Ladder> ladders = ladders_for(site_, problem_);
    try_those(ladders, false);
    const bool proven = std::any_of(problem_.remedies.begin(), problem_.remedies.end(),
                                    [](const Remedy& remedy) { return remedy.verdict == Verdict::proven; });
    if (!proven) try_those(ladders, true);
    problem_.tried = tried_;
    only_whole_cures();
    problem_.by_money =
        site::best_first(problem_.remedies, [](const Remedy& remedy) { return chain::rank(remedy.verdict); });
  }

 private:
  void try_those(const std::vector<Ladder>& ladders, bool last_resort) {
    std::vector<Found> found;
    for (const Ladder& ladder : ladders) {
      if (ladder.last_resort != last_resort) continue;
      if (std::optional<Rung> best = climb(ladder)) found.push_back({ladder, std::move(*best)});
    }
    try_all(found);
  }

  /// Inputs set anew for the levels of the changed site; false where one cannot tell rest from alarm.
  static bool fit(Candidate& candidate) {
    for (const std::string& trigger : candidate.to_fit) {
      if (!fit_setting(candidate.changed, trigger)) return false;
    }
    candidate.to_fit.clear();
    return true;
  }

  /// A setting moves no level: where the panel's readings are the problem it is left for later.
  Rung look(const Ladder& ladder, std::size_t size) {
    Rung rung{size, ladder.make(size), std::nullopt, Harm::none};
    if (!rung.candidate) return rung;
    ++tried_;
    if (problem_.link == chain::Link::trigger && !fit(*rung.candidate)) return rung;
    const Standing after = prove_part(rung.candidate->changed, problem_);
    rung.outcome = outcome_of(problem_, after, rung.candidate->takes_wire_off);
    rung.harm = harm_of(before_, after);
    return rung;
  }

  std::optional<Rung> climb(const Ladder& ladder) {
    return ladder.works == Works::from_some_size_up && ladder.count > 1 ? halve(ladder) : scan(ladder);
  }

  /// The smallest size that proves as much as the largest does.
  std::optional<Rung> halve(const Ladder& ladder) {
    Rung best = look(ladder, ladder.count - 1);
    if (!best.outcome) return std::nullopt;
    const int most = chain::rank(best.outcome->verdict);
    std::size_t from = 0;
    while (from < best.size) {
      const std::size_t middle = from + (best.size - from) / 2;
      Rung rung = look(ladder, middle);
      if (rung.outcome && chain::rank(rung.outcome->verdict) >= most) {
        best = std::move(rung);
      } else {
        from = middle + 1;
      }
    }
    return best;
  }

  /// Every `stride`th size, then the ones before the first that is best.
  std::optional<Rung> scan(const Ladder& ladder) {
    constexpr std::size_t stride = 3;
    const std::size_t coarse = (ladder.count + stride - 1) / stride;
    std::vector<Rung> rungs = parallel_map<Rung>(
        coarse, [&](std::size_t i) { return look(ladder, std::min(ladder.count - 1, i * stride + stride - 1)); });
    const Rung* best = best_of(rungs);
    if (best == nullptr) return std::nullopt;
    const std::size_t from = best->size / stride * stride;
    std::vector<Rung> fine =
        parallel_map<Rung>(best->size - from, [&](std::size_t i) { return look(ladder, from + i); });
    fine.push_back(*best);
    return *best_of(fine);
  }

  /// The first of those that do the least harm and whose verdict is highest.
  static const Rung* best_of(const std::vector<Rung>& rungs) {
    const auto worth = [](const Rung& rung) {
      return std::pair(-static_cast<int>(rung.harm), chain::rank(rung.outcome->verdict));
    };
    const Rung* best = nullptr;
    for (const Rung& rung : rungs) {
      if (!rung.outcome) continue;
      if (best == nullptr || worth(rung) > worth(*best)) best = &rung;
    }
    return best;
  }

  /// On the whole site, as its patch leaves it: what is told is what a proof of the patched site says.
  Tried judge(Candidate candidate) const {
    if (!fit(candidate)) return {"", std::nullopt, Refused{candidate.kind, candidate.says, say::remedy_no_range()}};
    Tried out{site::patch_between(site_, candidate.changed), std::nullopt, std::nullopt};
    const site::PatchResult applied = site::apply_patch(site_, out.patch, "");
    if (!applied.site) {
      out.refused = Refused{candidate.kind, candidate.says, say::remedy_no_site(text(applied.messages.front()))};
      return out;
    }
    const Standing after = prove_all(*applied.site);
    const std::optional<Outcome> outcome = outcome_of(problem_, after, candidate.takes_wire_off);
    if (!outcome) return out;
    if (std::optional<Message> because = worsened(*applied.site, before_, after)) {
      out.refused = Refused{candidate.kind, candidate.says, std::move(*because)};
      return out;
    }
    out.remedy = Remedy{candidate.kind,    candidate.says,
                        out.patch,         outcome->verdict,
                        outcome->decisive, improvements(before_, after),
                        candidate.bill,    site::cost_of(candidate.bill, costs_)};
    return out;
  }

  Tried judge_upward(const Found& found) {
    Tried out = judge(*found.rung.candidate);
    if (!found.ladder.climbs_on) return out;
    for (std::size_t size = found.rung.size + 1; out.refused && size < found.ladder.count; ++size) {
      const Rung next = look(found.ladder, size);
      if (!next.outcome) continue;
      Tried higher = judge(*next.candidate);
      if (higher.remedy) out = std::move(higher);
    }
    return out;
  }

  void try_all(const std::vector<Found>& found) {
    const auto tried = parallel_map<Tried>(found.size(), [&](std::size_t i) { return judge_upward(found[i]); });
    std::set<std::string> patches;
    for (const Tried& one : tried) {
      if (!one.patch.empty() && !patches.insert(one.patch).second) continue;
      if (one.remedy) problem_.remedies.push_back(*one.remedy);
      if (one.refused) problem_.refused.push_back(*one.refused);
    }
  }

  void only_whole_cures() {
    std::vector<Remedy>& all = problem_.remedies;
    const auto whole = [](const Remedy& remedy) { return remedy.verdict != Verdict::broken; };
    if (std::none_of(all.begin(), all.end(), whole)) return;
    all.erase(std::remove_if(all.begin(), all.end(), [&](const Remedy& remedy) { return !whole(remedy); }), all.end());
  }

  const site::Site& site_;
  const Standing& before_;
  const site::Costs& costs_;
  Problem& problem_;
  std::atomic<long long> tried_ = 0;
};

}  // namespace

std::vector<Problem> find_remedies(const site::Site& site, const site::Costs& costs, const std::string& zone,
                                   const std::function<void(std::size_t, std::size_t)>& progress) {
  const proof::Proof proof = proof::join(site, electric::electrical_answers(site));
  const Standing before = standing_of(proof);
  std::vector<Problem> problems = problems_of(proof, zone);
  for (std::size_t i = 0; i < problems.size(); ++i) {
    Search(site, before, costs, problems[i]).run();
    if (progress) progress(i + 1, problems.size());
  }
  return problems;
}

}  // namespace zoneproof::remedies
