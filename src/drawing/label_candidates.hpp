#pragma once
#include <cstddef>
#include <vector>

#include "drawing/labels.hpp"

/// Where a label could stand. Used by `labels` only.
namespace zoneproof::drawing {

struct LabelCandidate {
  std::size_t wish = 0;
  Box box;
  bool has_leader = false;
  Line leader;
  double dislike = 0.0;  ///< lines covered first, then the order of places or the length of the leader
};

/// The places beside a symbol, best first: right before left, above before below, corners before sides. (Imhof,
/// "Positioning names on maps", The American Cartographer 2 (1975), prefers upper right; the order of the rest is
/// common practice, no source.)
std::vector<LabelCandidate> places_beside(const LabelWish& wish, std::size_t index, const LabelField& field);

/// The places further away, shortest leader first: sixteen directions at growing distances up to the reach.
std::vector<LabelCandidate> places_by_leader(const LabelWish& wish, std::size_t index, const LabelField& field);

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
