#include "chain/evidence.hpp"

#include <algorithm>
#include <array>

namespace zoneproof::chain {

const char* word(Link link) {
  static constexpr std::array<const char*, 5> words = {"sense", "loop", "trigger", "view", "deliver"};
  return words[static_cast<std::size_t>(link)];
}

const char* word(Verdict verdict) {
  static constexpr std::array<const char*, 4> words = {"proven", "thin", "broken", "unanswered"};
  return words[static_cast<std::size_t>(verdict)];
}

Verdict judge(double margin, double required_margin) {
  if (margin < 0.0) return Verdict::broken;
  return margin < required_margin ? Verdict::thin : Verdict::proven;
}

Verdict together(const std::vector<Verdict>& verdicts) {
  // Broken is certain whatever else is missing; missing is worse than thin, because nobody knows.
  for (Verdict worst : {Verdict::broken, Verdict::unanswered, Verdict::thin}) {
    if (std::find(verdicts.begin(), verdicts.end(), worst) != verdicts.end()) return worst;
  }
  return verdicts.empty() ? Verdict::unanswered : Verdict::proven;
}

}  // namespace zoneproof::chain
