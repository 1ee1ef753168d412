#pragma once
#include <cstddef>
#include <numeric>
#include <vector>

namespace zoneproof::carriage {

/// Hops that flows join: those of one path are in one group, and groups that share a hop are one (disjoint sets; Galler
/// and Fischer, An improved equivalence algorithm, 1964). Cost: nearly linear.
class HopGroups {
 public:
  explicit HopGroups(std::size_t hops) : parent_(hops) { std::iota(parent_.begin(), parent_.end(), std::size_t{0}); }

  void join(const std::vector<std::size_t>& path) {
    for (std::size_t i = 1; i < path.size(); ++i) parent_[of(path[i])] = of(path[0]);
  }
  /// The hop that stands for a hop's group.
  std::size_t of(std::size_t hop) {
    while (parent_[hop] != hop) hop = parent_[hop] = parent_[parent_[hop]];
    return hop;
  }

 private:
  std::vector<std::size_t> parent_;
};

}  // namespace zoneproof::carriage
