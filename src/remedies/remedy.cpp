#include "remedies/remedy.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "base/parallel_for.hpp"
#include "electric/answers.hpp"
#include "messages/remedies.hpp"
#include "remedies/candidate.hpp"
#include "remedies/climb.hpp"
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
    case Kind::following_output: return "following_output";
    case Kind::series_resistor: return "series_resistor";
    case Kind::divider: return "divider";
    case Kind::buffer: return "buffer";
    case Kind::pull_up: return "pull_up";
    case Kind::armed_level: return "armed_level";
    case Kind::more_cores: return "more_cores";
    case Kind::thicker_cable: return "thicker_cable";
    case Kind::second_negative: return "second_negative";
    case Kind::other_output: return "other_output";
    case Kind::own_supply: return "own_supply";
    case Kind::larger_battery: return "larger_battery";
    case Kind::new_battery: return "new_battery";
    case Kind::combined: break;
  }
  return "combined";
}

bool fails(const Problem& problem, const char* beginning) {
  return std::any_of(problem.evidence.begin(), problem.evidence.end(),
                     [&](const Evidence& evidence) { return evidence.id.rfind(beginning, 0) == 0; });
}

Ladder one_size(std::string name, std::function<std::optional<Candidate>()> make) {
  return {std::move(name), 1, [make = std::move(make)](std::size_t) { return make(); }};
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

bool waits_for_data(const proof::LinkAnswer& link) {
  return link.verdict == Verdict::unanswered &&
         std::any_of(link.evidence.begin(), link.evidence.end(), [](const Evidence& evidence) {
           return std::any_of(evidence.gaps.begin(), evidence.gaps.end(),
                              [](const chain::Gap& gap) { return gap.reason != "later_issue"; });
         });
}

long long count_unanswered(const proof::Proof& proof, const std::string& zone) {
  long long count = 0;
  for (const proof::Chain& chain : proof.chains) {
    if (zone.empty() || chain.zone == zone)
      count += std::count_if(chain.links.begin(), chain.links.end(), waits_for_data);
  }
  return count;
}

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
  Search(const site::Site& site, const Standing& before, electric::KeptAnswers& kept, const site::Costs& costs,
         Problem& problem)
      : site_(site), before_(before), kept_(kept), costs_(costs), problem_(problem), climber_(before, problem) {}

  void run() {
    const std::vector<Ladder> ladders = ladders_for(site_, problem_);
    try_those(ladders, false);
    if (!proven()) try_those(ladders, true);
    if (!proven()) try_pairs();
    problem_.tried = climber_.tried();
    only_whole_cures();
    problem_.by_money =
        site::best_first(problem_.remedies, [](const Remedy& remedy) { return chain::rank(remedy.verdict); });
  }

 private:
  bool proven() const {
    return std::any_of(problem_.remedies.begin(), problem_.remedies.end(),
                       [](const Remedy& remedy) { return remedy.verdict == Verdict::proven; });
  }

  void try_those(const std::vector<Ladder>& ladders, bool last_resort) {
    std::vector<Found> found;
    for (const Ladder& ladder : ladders) {
      if (ladder.last_resort != last_resort) continue;
      Climbed climbed = climber_.climb(ladder);
      if (climbed.step) steps_.push_back({ladder, std::move(*climbed.step)});
      if (climbed.best) found.push_back({ladder, std::move(*climbed.best)});
    }
    try_all(found);
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
    const Standing after = prove_all(*applied.site, kept_);
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

  /// Where the size that proves most does harm elsewhere, one that proves less may not: a resistor that spares the
  /// panel altogether may leave the unit too little.
  Tried judge_lower(const Found& found, Tried refused) {
    std::size_t tried = found.rung.size;
    for (const Verdict least : {Verdict::thin, Verdict::broken}) {
      const Rung lower = climber_.smallest(found.ladder, found.rung, chain::rank(least));
      if (lower.size == tried) continue;
      tried = lower.size;
      Tried out = judge(*lower.candidate);
      if (out.remedy) return out;
    }
    return refused;
  }

  Tried judge_any(const Found& found) {
    Tried out = judge(*found.rung.candidate);
    if (out.refused && found.ladder.works == Works::from_some_size_up) return judge_lower(found, std::move(out));
    if (!found.ladder.climbs_on) return out;
    for (std::size_t size = found.rung.size + 1; out.refused && size < found.ladder.count; ++size) {
      const Rung next = climber_.look(found.ladder, size);
      if (!next.outcome) continue;
      Tried higher = judge(*next.candidate);
      if (higher.remedy) out = std::move(higher);
    }
    return out;
  }

  void try_all(const std::vector<Found>& found) {
    const auto tried = parallel_map<Tried>(found.size(), [&](std::size_t i) { return judge_any(found[i]); });
    std::set<std::string> patches;
    for (const Tried& one : tried) {
      if (!one.patch.empty() && !patches.insert(one.patch).second) continue;
      if (one.remedy) problem_.remedies.push_back(*one.remedy);
      if (one.refused) problem_.refused.push_back(*one.refused);
    }
  }

  /// The best steps first: what proves most, then what does no harm to the same thing, then what comes nearest.
  void best_steps_first() {
    const auto worth = [](const Found& step) {
      const Rung& rung = step.rung;
      const int rank = rung.outcome ? chain::rank(rung.outcome->verdict) : chain::rank(Verdict::broken);
      return std::tuple(rank, -static_cast<int>(rung.harm), rung.share.value_or(0.0));
    };
    std::stable_sort(steps_.begin(), steps_.end(), [&](const Found& a, const Found& b) { return worth(a) > worth(b); });
  }

  /// Each of the best steps upon each other one, in both orders: the second in the size that then does. Of the two
  /// orders the cheaper stays.
  void try_pairs() {
    constexpr std::size_t most = 4;  // of steps: what pairs may cost is bounded
    best_steps_first();
    const std::size_t count = std::min(most, steps_.size());
    std::vector<std::vector<Ladder>> upon;
    std::vector<Remedy> pairs;
    for (std::size_t i = 0; i < count; ++i) upon.push_back(ladders_for(steps_[i].rung.candidate->changed, problem_));
    for (std::size_t i = 0; i < count; ++i) {
      for (std::size_t j = i + 1; j < count; ++j) {
        std::vector<Remedy> orders;
        for (const auto& [first, second] : {std::pair(i, j), std::pair(j, i)}) {
          if (auto remedy = pair_of(steps_[first], upon[first], steps_[second].ladder.name)) orders.push_back(*remedy);
        }
        site::best_first(orders, [](const Remedy& remedy) { return chain::rank(remedy.verdict); });
        if (!orders.empty()) pairs.push_back(orders.front());
      }
    }
    keep_better(std::move(pairs));
  }

  /// Two changes are told only where they prove more than any one does.
  void keep_better(std::vector<Remedy> pairs) {
    int most = chain::rank(Verdict::broken);
    for (const Remedy& one : problem_.remedies) most = std::max(most, chain::rank(one.verdict));
    for (Remedy& pair : pairs) {
      if (chain::rank(pair.verdict) > most) problem_.remedies.push_back(std::move(pair));
    }
  }

  /// `first` with the ladder of that name upon it.
  std::optional<Remedy> pair_of(const Found& first, const std::vector<Ladder>& upon, const std::string& second) {
    const auto ladder = std::find_if(upon.begin(), upon.end(), [&](const Ladder& one) { return one.name == second; });
    if (ladder == upon.end()) return std::nullopt;
    ++problem_.pairs_tried;
    Ladder both = *ladder;
    both.make = [&first, make = ladder->make](std::size_t size) { return together(first.rung, make(size)); };
    Climbed climbed = climber_.climb(both);
    if (!climbed.best) return std::nullopt;
    return judge_any({both, std::move(*climbed.best)}).remedy;
  }

  static std::optional<Candidate> together(const Rung& first, std::optional<Candidate> second) {
    if (!second) return std::nullopt;
    const Candidate& one = *first.candidate;
    second->kind = Kind::combined;
    second->says = say::remedy_both(text(one.says), text(second->says));
    second->takes_wire_off = second->takes_wire_off || one.takes_wire_off;
    for (const std::string& trigger : first.set_anew) {
      std::vector<std::string>& to_fit = second->to_fit;
      if (std::find(to_fit.begin(), to_fit.end(), trigger) == to_fit.end()) to_fit.push_back(trigger);
    }
    site::add(second->bill, one.bill);
    return second;
  }

  void only_whole_cures() {
    std::vector<Remedy>& all = problem_.remedies;
    const auto whole = [](const Remedy& remedy) { return remedy.verdict != Verdict::broken; };
    if (std::none_of(all.begin(), all.end(), whole)) return;
    all.erase(std::remove_if(all.begin(), all.end(), [&](const Remedy& remedy) { return !whole(remedy); }), all.end());
  }

  const site::Site& site_;
  const Standing& before_;
  electric::KeptAnswers& kept_;
  const site::Costs& costs_;
  Problem& problem_;
  Climber climber_;
  std::vector<Found> steps_;  ///< of every ladder that leads towards the cure
};

}  // namespace

Remedies find_remedies(const site::Site& site, const site::Costs& costs, const std::string& zone,
                       const std::function<void(std::size_t, std::size_t)>& progress) {
  electric::KeptAnswers kept;  // a change leaves most of the site as it is
  const proof::Proof proof = proof::join(site, electric::electrical_answers(site, "", {}, &kept));
  const Standing before = standing_of(proof);
  Remedies found{problems_of(proof, zone), count_unanswered(proof, zone)};
  std::vector<Problem>& problems = found.problems;
  for (std::size_t i = 0; i < problems.size(); ++i) {
    Search(site, before, kept, costs, problems[i]).run();
    if (progress) progress(i + 1, problems.size());
  }
  return found;
}

}  // namespace zoneproof::remedies
