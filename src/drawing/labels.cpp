#include "drawing/labels.hpp"

#include <algorithm>
#include <numeric>

#include "drawing/label_candidates.hpp"
#include "drawing/label_rules.hpp"

namespace zoneproof::drawing {

namespace {

using Candidates = std::vector<LabelCandidate>;

/// Places with leader that take part in the rules; the rest is tried one label at a time.
constexpr std::size_t kLeadersInGraph = 24;

class Placing {
 public:
  Placing(const std::vector<LabelWish>& wishes, const LabelField& field)
      : wishes_(wishes), field_(field), occupied_(wishes, field), placed_(wishes.size(), false), at_(wishes.size()) {}

  std::vector<LabelPlace> run() {
    place(allowed(places_beside, kNone));
    place(allowed(places_by_leader, kLeadersInGraph));
    place_one_by_one(places_by_leader);
    improve();
    std::vector<LabelPlace> places(wishes_.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
      if (!placed_[i]) continue;
      places[i] = {at_[i].has_leader ? LabelHow::by_leader : LabelHow::beside, at_[i].box, at_[i].leader};
    }
    return places;
  }

 private:
  using Source = Candidates (*)(const LabelWish&, std::size_t, const LabelField&);

  /// At most `most` places of each label that has none yet, of those that what stands already allows.
  Candidates allowed(Source source, std::size_t most) const {
    Candidates candidates;
    for (std::size_t i = 0; i < wishes_.size(); ++i) {
      if (placed_[i]) continue;
      std::size_t count = 0;
      for (const LabelCandidate& candidate : source(wishes_[i], i, field_)) {
        if (count == most) break;
        if (!occupied_.allows(candidate)) continue;
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

  void place_one_by_one(Source source) {
    for (std::size_t i = 0; i < wishes_.size(); ++i) {
      if (!placed_[i]) put_first_free(source, i, nullptr);
    }
  }

  /// The best place that is free and better than where the label stands (if it does); whether there was one.
  bool put_first_free(Source source, std::size_t index, const LabelCandidate* now) {
    for (const LabelCandidate& candidate : source(wishes_[index], index, field_)) {
      if (now && candidate.has_leader == now->has_leader && candidate.dislike >= now->dislike) return false;
      if (!occupied_.allows(candidate)) continue;
      put(candidate);
      return true;
    }
    return false;
  }

  void improve() {
    for (std::size_t i = 0; i < wishes_.size(); ++i) {
      if (!placed_[i]) continue;
      const LabelCandidate now = at_[i];
      if (!put_first_free(places_beside, i, &now) && now.has_leader) put_first_free(places_by_leader, i, &now);
    }
  }

  const std::vector<LabelWish>& wishes_;
  const LabelField& field_;
  Occupied occupied_;
  std::vector<bool> placed_;
  Candidates at_;
};

}  // namespace

std::vector<LabelPlace> label_places(const std::vector<LabelWish>& wishes, const LabelField& field) {
  return Placing(wishes, field).run();
}

}  // namespace zoneproof::drawing
