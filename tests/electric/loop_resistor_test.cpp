// The resistors of a loop hang on terminations of their own, which the rulebook's envelope counts.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "electric/hand_deck.hpp"
#include "electric/levels.hpp"

namespace zoneproof::electric {
namespace {

/// A double end-of-line loop with these resistors, and an envelope for the terminations (null: the rulebook has none).
Level at_rest(double eol_ohm, const nlohmann::json& terminations) {
  nlohmann::json patch;
  patch["zones"]["z1"]["loop"] = {
      {"arrangement", "double_eol"},
      {"eol_ohm", eol_ohm},
      {"alarm_ohm", 4700},
      {"contacts", {{"a", {{"detector", "da"}, {"contact", "closed"}, {"role", "alarm"}, {"shunt_ohm", "none"}}}}}};
  patch["rulebooks"]["deck_rules"]["entries"]["eol_contact_ohm"] =
      terminations.is_null() ? terminations : nlohmann::json{{"value", terminations}};
  ZoneSituation situation;
  situation.zone = "z1";
  situation.trigger = "t1";
  return solve_level(base_site_with(patch.dump()), situation);
}

const circuit::WorstCase& reading(const Level& level) { return level.solved.cases.at(level.panel.value()); }

TEST(LoopResistor, StandsInSeriesWithItsTerminations) {
  const Level with = at_rest(4700, 40);
  EXPECT_TRUE(with.solved.gaps.empty());
  EXPECT_NEAR(reading(with).nominal, reading(at_rest(4740, 0)).nominal, 1e-6);
  EXPECT_GT(reading(with).nominal, reading(at_rest(4700, 0)).nominal + 1e-3) << "or nothing was compared";
}

TEST(LoopResistor, TakesTheWholeEnvelopeAndStaysExactThoughTwoResistorsTakeTheSame) {
  const Level wide = at_rest(4700, {{"value", 10}, {"min", 0}, {"max", 40}, {"origin", "envelope"}});
  EXPECT_NEAR(reading(wide).low.bound, reading(at_rest(4700, 0)).nominal, 1e-4);
  EXPECT_NEAR(reading(wide).high.bound, reading(at_rest(4740, 0)).nominal, 1e-4);
  EXPECT_TRUE(wide.solved.low_exact.at(wide.panel.value()) && wide.solved.high_exact.at(wide.panel.value()));
}

TEST(LoopResistor, WithoutTheEnvelopeNothingIsConcluded) {
  const Level without = at_rest(4700, nullptr);
  ASSERT_EQ(without.solved.gaps.size(), 1U);
  EXPECT_EQ(without.solved.gaps.front().pointer, "/rulebooks/deck_rules/entries/eol_contact_ohm");
  EXPECT_EQ(without.solved.gaps.front().reason, "no_rule");
}

}  // namespace
}  // namespace zoneproof::electric
