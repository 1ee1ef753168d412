#include "drawing/label_rules.hpp"

#include <algorithm>

namespace zoneproof::drawing {

namespace {

class Rules {
 public:
  explicit Rules(const ConflictGraph& graph)
      : graph_(graph), chosen_(graph.candidates.size(), kNone), alive_(graph.feature.size(), true) {
    for (const auto& others : graph.conflicts) degree_.push_back(others.size());
  }

  std::vector<std::size_t> run() {
    do {
      while (settle()) {
      }
    } while (give_up());
    return chosen_;
  }

 private:
  bool open(std::size_t feature) const { return chosen_[feature] == kNone; }

  std::vector<std::size_t> left(std::size_t feature) const {
    std::vector<std::size_t> candidates;
    for (std::size_t candidate : graph_.candidates[feature]) {
      if (alive_[candidate]) candidates.push_back(candidate);
    }
    return candidates;
  }

  /// The only candidate that conflicts with this one, which has a single conflict.
  std::size_t only_conflict(std::size_t candidate) const {
    for (std::size_t other : graph_.conflicts[candidate]) {
      if (alive_[other]) return other;
    }
    return kNone;
  }

  void drop(std::size_t candidate) {
    if (!alive_[candidate]) return;
    alive_[candidate] = false;
    for (std::size_t other : graph_.conflicts[candidate]) --degree_[other];
  }

  void take(std::size_t candidate) {
    const std::size_t feature = graph_.feature[candidate];
    chosen_[feature] = candidate;
    for (std::size_t other : graph_.candidates[feature]) {
      if (other != candidate) drop(other);
    }
    for (std::size_t other : graph_.conflicts[candidate]) drop(other);
  }

  bool take_free(const std::vector<std::size_t>& candidates) {
    for (std::size_t candidate : candidates) {
      if (degree_[candidate] != 0) continue;
      take(candidate);
      return true;
    }
    return false;
  }

  bool take_pair(std::size_t feature, const std::vector<std::size_t>& candidates) {
    for (std::size_t mine : candidates) {
      if (degree_[mine] != 1) continue;
      const std::size_t theirs = only_conflict(mine);
      const std::size_t other = graph_.feature[theirs];
      for (std::size_t second : left(other)) {
        if (second == theirs || degree_[second] != 1) continue;
        const std::size_t back = only_conflict(second);
        if (graph_.feature[back] != feature || back == mine) continue;
        take(mine);
        take(second);
        return true;
      }
    }
    return false;
  }

  bool exclusive(std::size_t a, std::size_t b) const {
    const auto& others = graph_.conflicts[a];
    return graph_.feature[a] == graph_.feature[b] || std::find(others.begin(), others.end(), b) != others.end();
  }

  bool take_last(const std::vector<std::size_t>& candidates) {
    if (candidates.size() != 1) return false;
    std::vector<std::size_t> rivals;
    for (std::size_t other : graph_.conflicts[candidates.front()]) {
      if (alive_[other]) rivals.push_back(other);
    }
    for (std::size_t i = 0; i < rivals.size(); ++i) {
      for (std::size_t j = i + 1; j < rivals.size(); ++j) {
        if (!exclusive(rivals[i], rivals[j])) return false;
      }
    }
    take(candidates.front());
    return true;
  }

  /// One round over all features; whether any was settled.
  bool settle() {
    bool any = false;
    for (std::size_t feature = 0; feature < chosen_.size(); ++feature) {
      if (!open(feature)) continue;
      const std::vector<std::size_t> candidates = left(feature);
      any |= take_free(candidates) || take_pair(feature, candidates) || take_last(candidates);
    }
    return any;
  }

  /// Drops one candidate; false where none is left that is open.
  bool give_up() {
    std::size_t worst = kNone, most_left = 0;
    for (std::size_t feature = 0; feature < chosen_.size(); ++feature) {
      if (!open(feature)) continue;
      const std::vector<std::size_t> candidates = left(feature);
      for (std::size_t candidate : candidates) {
        const bool more = candidates.size() > most_left;
        const bool worse = candidates.size() == most_left && degree_[candidate] > degree_[worst];
        if (worst == kNone || more || worse) {
          worst = candidate;
          most_left = candidates.size();
        }
      }
    }
    if (worst == kNone) return false;
    drop(worst);
    return true;
  }

  const ConflictGraph& graph_;
  std::vector<std::size_t> chosen_;
  std::vector<bool> alive_;
  std::vector<std::size_t> degree_;  ///< conflicts with candidates that are still alive
};

}  // namespace

std::vector<std::size_t> chosen_by_rules(const ConflictGraph& graph) { return Rules(graph).run(); }

}  // namespace zoneproof::drawing
