// Every output kind, and a tree of supplies, held against decks drawn by hand (decks/README.md).
#include <gtest/gtest.h>

#include <algorithm>

#include "electric/arming_check.hpp"
#include "electric/hand_deck.hpp"
#include "electric/supply_check.hpp"

namespace zoneproof::electric {
namespace {

constexpr double agreement_V = 1e-6;

class HandDrawnOutput : public testing::TestWithParam<const char*> {};

TEST_P(HandDrawnOutput, GivesTheArmingLevelOfThePaper) {
  const std::string name = GetParam();
  const site::Site site = deck_site(name);
  for (const HandPoint& point : run_deck(name)) {
    SCOPED_TRACE(point.state);
    const bool broken = point.state.find("/broken") != std::string::npos;
    const bool armed = point.state.rfind("armed", 0) == 0;
    const ArmingPoint found = solve_arming(site, "u1", SupplyCondition::mains, armed, broken);
    ASSERT_EQ(found.quantities.size(), 1U);
    EXPECT_FALSE(found.solved.troubled());
    EXPECT_TRUE(found.solved.gaps.empty()) << (found.solved.gaps.empty() ? "" : found.solved.gaps[0].pointer);
    EXPECT_NEAR(found.solved.cases[0].nominal, point.values.at("arming"), agreement_V);
  }
}

INSTANTIATE_TEST_SUITE_P(Output, HandDrawnOutput,
                         testing::Values("output_open_collector", "output_open_collector_inner",
                                         "output_switched_positive", "output_relay_to_negative",
                                         "output_relay_to_positive", "output_back_feed"),
                         [](const auto& each) { return std::string(each.param); });

TEST(HandDrawnSupply, TreeGivesTheVoltagesOfThePaper) {
  const site::Site site = deck_site("supply_tree");
  const HandPoint point = run_deck("supply_tree").at(0);
  const SupplyPoint found = solve_supply(site, SupplyCondition::mains);
  EXPECT_TRUE(found.solved.gaps.empty()) << (found.solved.gaps.empty() ? "" : found.solved.gaps[0].pointer);
  int compared = 0;
  for (std::size_t i = 0; i < found.consumers.size(); ++i) {
    const auto volts = point.values.find(found.consumers[i].id);
    if (volts == point.values.end()) continue;
    EXPECT_NEAR(found.solved.cases.at(i).nominal, volts->second, agreement_V) << volts->first;
    ++compared;
  }
  EXPECT_EQ(compared, 4);
  for (const char* unit : {"u", "u2"}) {
    const Poles poles = found.backbone.poles.at(unit);
    const circuit::Solution solution = circuit::solve(found.wiring.network);
    EXPECT_NEAR(solution.at(circuit::Quantity::voltage(poles.minus)), point.values.at(std::string("shift_") + unit),
                agreement_V);
  }
}

}  // namespace
}  // namespace zoneproof::electric
