#include "remedies/climb.hpp"

#include <algorithm>
#include <tuple>

#include "base/parallel_for.hpp"
#include "remedies/site_change.hpp"

namespace zoneproof::remedies {

namespace {

/// The first of those that do the least harm and whose verdict is highest.
const Rung* best_of(const std::vector<Rung>& rungs) {
  const auto worth = [](const Rung& rung) {
    return std::pair(-static_cast<int>(rung.harm), chain::rank(rung.outcome->verdict));
  };
  const Rung* best = nullptr;
  for (const Rung& rung : rungs) {
    if (rung.outcome && (best == nullptr || worth(rung) > worth(*best))) best = &rung;
  }
  return best;
}

/// The first of those that do the least harm and come nearest.
const Rung* nearest_of(const std::vector<Rung>& rungs) {
  const auto worth = [](const Rung& rung) { return std::pair(-static_cast<int>(rung.harm), *rung.share); };
  const Rung* best = nullptr;
  for (const Rung& rung : rungs) {
    if (rung.share && (best == nullptr || worth(rung) > worth(*best))) best = &rung;
  }
  return best;
}

Climbed no_cure(const std::vector<Rung>& rungs) {
  const Rung* nearest = nearest_of(rungs);
  return nearest == nullptr ? Climbed{} : Climbed{std::nullopt, *nearest};
}

}  // namespace

bool fit(Candidate& candidate) {
  for (const std::string& trigger : candidate.to_fit) {
    if (!fit_setting(candidate.changed, trigger)) return false;
  }
  candidate.to_fit.clear();
  return true;
}

/// A setting moves no level: where the panel's readings are the problem it is left for later.
Rung Climber::look(const Ladder& ladder, std::size_t size) {
  Rung rung;
  rung.size = size;
  rung.candidate = ladder.make(size);
  if (!rung.candidate) return rung;
  ++tried_;
  rung.set_anew = rung.candidate->to_fit;
  if (problem_.link == chain::Link::trigger && !fit(*rung.candidate)) return rung;
  const Standing after = prove_part(rung.candidate->changed, problem_);
  rung.outcome = outcome_of(problem_, after, rung.candidate->takes_wire_off);
  rung.harm = harm_of(before_, after);
  rung.share = share_of(problem_, after, rung.candidate->takes_wire_off);
  return rung;
}

Climbed Climber::climb(const Ladder& ladder) {
  return ladder.works == Works::from_some_size_up && ladder.count > 1 ? halve(ladder) : scan(ladder);
}

Rung Climber::smallest(const Ladder& ladder, Rung does, int least) {
  std::size_t from = 0;
  while (from < does.size) {
    const std::size_t middle = from + (does.size - from) / 2;
    Rung rung = look(ladder, middle);
    if (rung.outcome && chain::rank(rung.outcome->verdict) >= least) {
      does = std::move(rung);
    } else {
      from = middle + 1;
    }
  }
  return does;
}

/// The smallest size that proves as much as the largest does.
Climbed Climber::halve(const Ladder& ladder) {
  const Rung largest = look(ladder, ladder.count - 1);
  if (!largest.outcome) return no_cure({largest});
  const Rung best = smallest(ladder, largest, chain::rank(largest.outcome->verdict));
  return {best, best};
}

/// Every `stride`th size, then the ones before the first that is best.
Climbed Climber::scan(const Ladder& ladder) {
  constexpr std::size_t stride = 3;
  const std::size_t coarse = (ladder.count + stride - 1) / stride;
  const std::vector<Rung> rungs = parallel_map<Rung>(
      coarse, [&](std::size_t i) { return look(ladder, std::min(ladder.count - 1, i * stride + stride - 1)); });
  const Rung* best = best_of(rungs);
  if (best == nullptr) return no_cure(rungs);
  const std::size_t from = best->size / stride * stride;
  std::vector<Rung> fine = parallel_map<Rung>(best->size - from, [&](std::size_t i) { return look(ladder, from + i); });
  fine.push_back(*best);
  const Rung* smallest = best_of(fine);
  return {*smallest, *smallest};
}

}  // namespace zoneproof::remedies
