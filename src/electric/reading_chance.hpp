#pragma once
#include <optional>
#include <string>
#include <vector>

#include "circuit/yield.hpp"
#include "electric/levels.hpp"

namespace zoneproof::electric {

/// What is known of a reading's chance to be wrong.
enum class ChanceKind {
  not_asked,  ///< any reading will do in this state
  open,       ///< something is unknown or only guessed, or there is no level: `gaps` name what
  none,       ///< the worst case over all tolerances is right: no chance at all, whatever the distributions
  always,     ///< the best case over all tolerances is wrong too
  counted     ///< `chance` of random specimens
};
const char* word(ChanceKind kind);

/// A datum's share of the spread.
struct SpreadShare {
  std::string pointer;  ///< in the site file, of the first datum that the element rests on
  double share = 0.0;   ///< of 1, of the variance
};

/// How a reading spreads over specimens of everything it rests on, and how likely that makes it wrong.
struct ReadingChance {
  ChanceKind kind = ChanceKind::not_asked;
  std::optional<double> sigma_V;    ///< standard deviation by root-sum-square; nothing where `open` or not asked
  std::vector<SpreadShare> shares;  ///< largest first, the same datum once; those of elements without data left out
  /// Probability outside by the root-sum-square spread, taken as a normal distribution, of 1.
  std::optional<double> by_normal;
  std::optional<circuit::Chance> chance;  ///< where `counted`
  double confidence = 0.0;                ///< of its interval, of 1
  std::vector<chain::Gap> gaps;
};

/// Whether the panel (or the unit) reads this level rightly, in the band that proofs ask for, with every limit at the
/// end of its tolerance that asks for more, and no margin. Distributions and confidence are entries of the rulebook:
/// `yield_sigmas`, `yield_log_ratio`, `yield_confidence_pct`. Contacts that may stand either way stand as the worst
/// case of the side in question has them. A level with a short between the cores is not asked.
///
/// A terminal that is known by readings alone (a region of pairs, not two tolerances) has no distribution: open.
/// Cost: nothing but two solutions an element where the worst case is right; else that of circuit::chance_outside.
ReadingChance panel_chance(const site::Site& site, const Level& level);
ReadingChance unit_chance(const site::Site& site, const Level& level);

}  // namespace zoneproof::electric
