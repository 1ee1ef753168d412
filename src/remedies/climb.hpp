#pragma once
#include <atomic>
#include <optional>
#include <string>
#include <vector>

#include "remedies/candidate.hpp"
#include "remedies/trial.hpp"

namespace zoneproof::remedies {

/// One size of a ladder, looked at.
struct Rung {
  std::size_t size = 0;
  std::optional<Candidate> candidate;
  std::optional<Outcome> outcome;     ///< where no check of the problem is worse and one is better
  Harm harm = Harm::none;             ///< to other checks of the same thing
  std::optional<double> share;        ///< of what is missing (share_of); nothing where it is no step towards the cure
  std::vector<std::string> set_anew;  ///< triggers whose inputs the candidate sets anew
};

/// What a ladder is good for.
struct Climbed {
  std::optional<Rung> best;  ///< the smallest size that does the least harm and proves most
  std::optional<Rung> step;  ///< `best`, or where no size cures anything the one that comes nearest
};

/// Inputs set anew for the levels of the changed site; false where one cannot tell rest from alarm.
bool fit(Candidate& candidate);

/// Looks at the sizes of ladders, each by proving what the problem is about on the changed site.
class Climber {
 public:
  /// `before` is the standing of the unchanged site. Both must outlive the climber.
  Climber(const Standing& before, const Problem& problem) : before_(before), problem_(problem) {}

  Rung look(const Ladder& ladder, std::size_t size);
  Climbed climb(const Ladder& ladder);
  /// Of a ladder that works from some size up, the smallest size that cures with at least that rank of verdict; `does`
  /// is one that does.
  Rung smallest(const Ladder& ladder, Rung does, int least);
  /// How many changed sites were looked at.
  long long tried() const { return tried_; }

 private:
  Climbed halve(const Ladder& ladder);
  Climbed scan(const Ladder& ladder);

  const Standing& before_;
  const Problem& problem_;
  std::atomic<long long> tried_ = 0;
};

}  // namespace zoneproof::remedies
