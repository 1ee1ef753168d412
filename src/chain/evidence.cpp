#include "chain/evidence.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

namespace zoneproof::chain {

const char* word(Link link) {
  static constexpr std::array<const char*, 5> words = {"sense", "loop", "trigger", "view", "deliver"};
  return words[static_cast<std::size_t>(link)];
}

const char* word(Verdict verdict) {
  static constexpr std::array<const char*, 4> words = {"proven", "thin", "broken", "unanswered"};
  return words[static_cast<std::size_t>(verdict)];
}

void add_gap(std::vector<Gap>& gaps, const Gap& gap) {
  const auto same = [&](const Gap& one) { return one.pointer == gap.pointer && one.reason == gap.reason; };
  if (std::none_of(gaps.begin(), gaps.end(), same)) gaps.push_back(gap);
}

bool nothing_known(const std::string& reason) {
  return reason == "unknown" || reason == "sheet_disagrees" || reason == "lens_turns" ||
         reason.rfind("reading", 0) == 0;
}

const char* weakness(bool unknown, site::Origin origin) {
  if (unknown) return "unknown";
  if (origin == site::Origin::typical) return "typical";
  return origin == site::Origin::assumed ? "assumed" : nullptr;
}

void add_if_weak(std::vector<Gap>& gaps, const site::Value& value) {
  if (value.none()) return;
  if (const char* reason = weakness(value.unknown(), value.origin)) add_gap(gaps, {value.pointer, reason});
}

void append(std::vector<Evidence>& all, std::vector<Evidence> more) {
  all.insert(all.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

Verdict judge(double margin, double required_margin) {
  if (std::isnan(margin) || std::isnan(required_margin)) return Verdict::unanswered;
  if (margin < 0.0) return Verdict::broken;
  return margin < required_margin ? Verdict::thin : Verdict::proven;
}

int rank(Verdict verdict) {
  // Broken is certain whatever else is missing; missing is worse than thin, because nobody knows.
  switch (verdict) {
    case Verdict::broken: return 0;
    case Verdict::unanswered: return 1;
    case Verdict::thin: return 2;
    default: return 3;
  }
}

Verdict together(const std::vector<Verdict>& verdicts) {
  if (verdicts.empty()) return Verdict::unanswered;
  return *std::min_element(verdicts.begin(), verdicts.end(), [](Verdict a, Verdict b) { return rank(a) < rank(b); });
}

}  // namespace zoneproof::chain
