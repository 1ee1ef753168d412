// What a running unit feeds into a dead panel through the inner diode of its arming output, held against a deck drawn
// by hand (decks/output_dead_panel.cir), and the verdict on it.
#include "electric/back_feed.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "electric/hand_deck.hpp"

namespace zoneproof::electric {
namespace {

using chain::Evidence;
using chain::Verdict;
using Json = nlohmann::json;

constexpr double agreement_A = 1e-8;

/// The site of the deck, changed by a merge patch.
site::Site dead_panel(const Json& change = Json::object()) {
  Json patch = Json::parse(
      std::ifstream(std::string(ZONEPROOF_SOURCE_DIR) + "/tests/electric/decks/output_dead_panel.patch.json"));
  patch.merge_patch(change);
  return base_site_with(patch.dump());
}

Json output_part(const Json& change) { return {{"parts", {{"output_part", {{"output", change}}}}}}; }
Json arming(const Json& change) { return {{"units", {{"u1", {{"arming", change}}}}}}; }

Evidence back_feed(const site::Site& site) {
  const std::vector<Evidence> all = check_back_feed(site, "u1");
  EXPECT_EQ(all.size(), 1U);
  return all.at(0);
}

bool names(const Evidence& evidence, const std::string& pointer) {
  for (const chain::Gap& gap : evidence.gaps) {
    if (gap.pointer == pointer) return true;
  }
  return false;
}

TEST(BackFeed, TheDiodeCarriesTheCurrentOfThePaper) {
  const double fed = run_deck("output_dead_panel").at(0).values.at("fed");
  EXPECT_GT(fed, 3e-3);
  const BackFeed point = solve_back_feed(dead_panel(), "u1", SupplyCondition::mains);
  EXPECT_NEAR(most_fed_back(point), fed, agreement_A);
  EXPECT_NEAR(*back_feed(dead_panel()).value, fed, agreement_A);
}

TEST(BackFeed, WithoutAPullUpNothingFlowsOnThePaperNorInTheAnswer) {
  EXPECT_NEAR(run_deck("output_dead_panel").at(1).values.at("fed"), 0.0, agreement_A);
  const Evidence evidence = back_feed(dead_panel(arming({{"pullup_ohm", "none"}, {"pullup_to", nullptr}})));
  EXPECT_EQ(evidence.verdict, Verdict::proven);
  EXPECT_EQ(evidence.value, 0.0);
}

TEST(BackFeed, IsJudgedByWhatTheDiodeCarries) {
  const Evidence holds = back_feed(dead_panel());
  EXPECT_EQ(holds.verdict, Verdict::proven);
  EXPECT_NEAR(*holds.margin, 0.005 - *holds.value, 1e-12);
  const Evidence fails = back_feed(dead_panel(output_part({{"clamp_max_A", 0.002}})));
  EXPECT_EQ(fails.verdict, Verdict::broken);
  ASSERT_EQ(fails.remedies.size(), 1U);
  EXPECT_EQ(fails.remedies[0].code, "isolate_arming") << "a diode in the wire would let both currents pass";
}

TEST(BackFeed, OfASwitchedPositiveIsBlockedByADiode) {
  const Evidence fails = back_feed(dead_panel(output_part({{"kind", "switched_positive"}, {"clamp_max_A", 0.002}})));
  EXPECT_EQ(fails.verdict, Verdict::broken);
  EXPECT_EQ(fails.remedies.at(0).code, "block_back_feed");
}

TEST(BackFeed, UnknownLimitIsAnOpenQuestionOnlyWhereCurrentFlows) {
  const Json unknown = output_part({{"clamp_max_A", nullptr}});
  const Evidence open = back_feed(dead_panel(unknown));
  EXPECT_EQ(open.verdict, Verdict::unanswered);
  EXPECT_TRUE(names(open, "/parts/output_part/output/clamp_max_A"));
  EXPECT_GT(*open.value, 3e-3) << "how much flows is known all the same";
  Json nothing_flows = unknown;
  nothing_flows.update(arming({{"pullup_ohm", "none"}, {"pullup_to", nullptr}}));
  EXPECT_EQ(back_feed(dead_panel(nothing_flows)).verdict, Verdict::proven);
}

TEST(BackFeed, AGuessedOrUnknownPullUpProvesNothing) {
  const Evidence guessed = back_feed(dead_panel(arming({{"pullup_ohm", {{"value", 47000}, {"origin", "typical"}}}})));
  EXPECT_EQ(guessed.verdict, Verdict::unanswered);
  EXPECT_TRUE(names(guessed, "/units/u1/arming/pullup_ohm"));
  const Evidence unknown = back_feed(dead_panel(arming({{"pullup_ohm", nullptr}})));
  EXPECT_EQ(unknown.verdict, Verdict::unanswered);
  EXPECT_TRUE(names(unknown, "/units/u1/arming/pullup_ohm"));
}

TEST(BackFeed, IsNoQuestionWithoutADiodeOrOnOneSupply) {
  EXPECT_TRUE(
      check_back_feed(dead_panel(output_part({{"clamp_forward_V", "none"}, {"clamp_max_A", "none"}})), "u1").empty());
  EXPECT_TRUE(check_back_feed(dead_panel({{"units", {{"u1", {{"feed", {{"from", "psu"}}}}}}}}), "u1").empty());
}

TEST(BackFeed, AllUnitsOnAnOutputFeedItTogether) {
  Json twin = {{"units",
                {{"u2",
                  {{"part", "unit_part"},
                   {"area", "hall"},
                   {"feed", {{"from", "psu2"}, {"output", "aux"}, {"cable", "feed_cable"}, {"fuse_A", "none"}}},
                   {"arming",
                    {{"output", "out"},
                     {"cable", "arming_cable"},
                     {"armed_level", "low"},
                     {"pullup_ohm", 4700},
                     {"pullup_to", "high"}}}}}}}};
  const double alone = *back_feed(dead_panel()).value;
  const double both = *back_feed(dead_panel(twin)).value;
  EXPECT_GT(both, 1.95 * alone);  // their supply's own drops take a little
  EXPECT_LT(both, 2.0 * alone);
}

}  // namespace
}  // namespace zoneproof::electric
