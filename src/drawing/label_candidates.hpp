#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "drawing/labels.hpp"

/// Where a label could stand. Used by `labels` only.
namespace zoneproof::drawing {

/// What is tried first: a label beside its symbol that covers no line, then one with a leader, then the same over
/// lines.
enum class LabelStage { beside, by_leader, beside_over_lines, by_leader_over_lines };
inline constexpr std::array<LabelStage, 4> kLabelStages = {
    LabelStage::beside, LabelStage::by_leader, LabelStage::beside_over_lines, LabelStage::by_leader_over_lines};

struct LabelCandidate {
  std::size_t wish = 0;
  Box box;
  bool has_leader = false;
  Line leader;
  LabelStage stage = LabelStage::beside;
  double dislike = 0.0;  ///< within a stage: lines covered first, then the order of places or the length of the leader
  bool better_than(const LabelCandidate& other) const {
    return stage != other.stage ? stage < other.stage : dislike < other.dislike;
  }
};

/// The places beside the symbol: right before left, above before below, corners before sides (Imhof, "Positioning names
/// on maps", The American Cartographer 2 (1975), prefers the upper right; the order of the rest is common practice, no
/// source). In that order, which is not that of liking where lines are covered.
std::vector<LabelCandidate> candidates_beside(const LabelWish& wish, std::size_t index, const LabelField& field);

/// The places further away: sixteen directions at growing distances up to the reach.
std::vector<LabelCandidate> candidates_by_leader(const LabelWish& wish, std::size_t index, const LabelField& field);

/// What stands already: the symbols of all wishes, what is taken, and labels placed before.
class Occupied {
 public:
  Occupied(const std::vector<LabelWish>& wishes, const LabelField& field);
  bool allows(const LabelCandidate& candidate) const;
  void add(const LabelCandidate& candidate);
  void remove(const LabelCandidate& candidate);

 private:
  const std::vector<LabelWish>& wishes_;
  const LabelField& field_;
  std::vector<LabelCandidate> placed_;
};

/// Whether two candidates of different labels exclude each other.
bool exclude(const LabelCandidate& a, const LabelCandidate& b, double gap_mm);

}  // namespace zoneproof::drawing
