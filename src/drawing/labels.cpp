#include "drawing/labels.hpp"

#include <algorithm>
#include <numeric>

#include "drawing/label_candidates.hpp"
#include "drawing/label_rules.hpp"

namespace zoneproof::drawing {

namespace {

using Candidates = std::vector<LabelCandidate>;

/// Places of one label that take part in the rules of a stage, the best of those it has; the rest is tried one by one.
constexpr std::size_t kInGraph = 24;

class Placing {
 public:
  Placing(const std::vector<LabelWish>& wishes, const LabelField& field)
      : wishes_(wishes), field_(field), occupied_(wishes, field), placed_(wishes.size(), false), at_(wishes.size()) {
    possible_.resize(wishes.size());
    add_possible(candidates_beside);
  }

  std::vector<LabelPlace> run() {
    for (const LabelStage stage : kLabelStages) {
      if (stage == LabelStage::by_leader) add_possible(candidates_by_leader);
      place(allowed(stage));
      for (std::size_t i = 0; i < wishes_.size(); ++i) {
        if (!placed_[i]) put_first_free(i, [&](const LabelCandidate& candidate) { return candidate.stage == stage; });
      }
    }
    improve();
    std::vector<LabelPlace> places(wishes_.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (!placed_[i]) continue;
      places[i] = {at_[i].has_leader ? LabelHow::by_leader : LabelHow::beside, at_[i].box, at_[i].leader};
    }
    return places;
  }

 private:
  /// Further places of all labels that have none yet, of those that no symbol and nothing taken forbids.
  template <typename Source>
  void add_possible(const Source& source) {
    const Occupied empty(wishes_, field_);
    for (std::size_t i = 0; i < wishes_.size(); ++i) {
      if (placed_[i]) continue;
      Candidates& mine = possible_[i];
      for (const LabelCandidate& candidate : source(wishes_[i], i, field_)) {
        if (empty.allows(candidate)) mine.push_back(candidate);
      }
      std::stable_sort(mine.begin(), mine.end(), [](const auto& a, const auto& b) { return a.better_than(b); });
    }
  }

  /// The best places of a stage, of each label that has none yet, that what stands already allows.
  Candidates allowed(LabelStage stage) const {
    Candidates candidates;
    for (std::size_t i = 0; i < wishes_.size(); ++i) {
      if (placed_[i]) continue;
      std::size_t count = 0;
      for (const LabelCandidate& candidate : possible_[i]) {
        if (count == kInGraph) break;
        if (candidate.stage != stage || !occupied_.allows(candidate)) continue;
        candidates.push_back(candidate);
        ++count;
      }
    }
    return candidates;
  }

  void put(const LabelCandidate& candidate) {
    if (placed_[candidate.wish]) occupied_.remove(candidate);
    placed_[candidate.wish] = true;
    at_[candidate.wish] = candidate;
    occupied_.add(candidate);
  }

  ConflictGraph graph_of(const Candidates& candidates) const {
    ConflictGraph graph;
    graph.candidates.resize(wishes_.size());
    graph.conflicts.resize(candidates.size());
    std::vector<std::size_t> order(candidates.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::vector<Box> reach;  // a label with its leader and gap: those apart in x need no closer look
    for (std::size_t i = 0; i < candidates.size(); ++i) {
      const LabelCandidate& candidate = candidates[i];
      graph.feature.push_back(candidate.wish);
      graph.candidates[candidate.wish].push_back(i);
      Box box = grown(candidate.box, field_.gap_mm);
      if (candidate.has_leader) {
        const Point from = candidate.leader.from;
        box = united(box, {from.x, from.y, from.x, from.y});
      }
      reach.push_back(box);
    }
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return reach[a].left < reach[b].left; });
    for (std::size_t i = 0; i < order.size(); ++i) {
      const std::size_t a = order[i];
      for (std::size_t j = i + 1; j < order.size() && reach[order[j]].left <= reach[a].right; ++j) {
        const std::size_t b = order[j];
        if (candidates[a].wish == candidates[b].wish || !exclude(candidates[a], candidates[b], field_.gap_mm)) continue;
        graph.conflicts[a].push_back(b);
        graph.conflicts[b].push_back(a);
      }
    }
    return graph;
  }

  void place(const Candidates& candidates) {
    for (std::size_t candidate : chosen_by_rules(graph_of(candidates))) {
      if (candidate != kNone) put(candidates[candidate]);
    }
  }

  /// The best place that is free among those wanted.
  template <typename Wanted>
  void put_first_free(std::size_t index, const Wanted& wanted) {
    for (const LabelCandidate& candidate : possible_[index]) {
      if (!wanted(candidate) || !occupied_.allows(candidate)) continue;
      put(candidate);
      return;
    }
  }

  void improve() {
    for (std::size_t i = 0; i < wishes_.size(); ++i) {
      if (!placed_[i]) continue;
      const LabelCandidate now = at_[i];
      put_first_free(i, [&](const LabelCandidate& candidate) { return candidate.better_than(now); });
    }
  }

  const std::vector<LabelWish>& wishes_;
  const LabelField& field_;
  Occupied occupied_;
  std::vector<Candidates> possible_;  ///< of each label, best first: what nothing but other labels can forbid
  std::vector<bool> placed_;
  Candidates at_;
};

}  // namespace

std::vector<LabelPlace> label_places(const std::vector<LabelWish>& wishes, const LabelField& field) {
  return Placing(wishes, field).run();
}

}  // namespace zoneproof::drawing
