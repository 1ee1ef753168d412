#pragma once
#include <cstddef>
#include <vector>

/// The three rules on a conflict graph. Used by `labels` only.
namespace zoneproof::drawing {

/// Candidates, each of one feature, and which exclude which. Candidates of a feature stand in the order it likes them.
struct ConflictGraph {
  std::vector<std::vector<std::size_t>> candidates;  ///< of each feature
  std::vector<std::size_t> feature;                  ///< of each candidate
  std::vector<std::vector<std::size_t>> conflicts;   ///< of each candidate, with candidates of other features
};

/// For each feature the candidate chosen, or `kNone`. No two that are chosen conflict. Rules and order as in Wagner and
/// others (2001), from memory: (L1) a candidate without conflicts is taken; (L2) two candidates of two features are
/// taken where each conflicts with nothing but one other candidate of the other feature; (L3) the only candidate left
/// of a feature is taken where those that conflict with it exclude each other. None of the three loses a label. Where
/// none applies, the candidate with the most conflicts of a feature with the most candidates left is given up: that
/// may.
inline constexpr std::size_t kNone = static_cast<std::size_t>(-1);
std::vector<std::size_t> chosen_by_rules(const ConflictGraph& graph);

}  // namespace zoneproof::drawing
