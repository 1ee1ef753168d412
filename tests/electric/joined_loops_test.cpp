// Two loops on one input of a unit are one network, held against a deck drawn by hand (decks/joined_loops.cir).
#include <gtest/gtest.h>

#include "circuit/solve.hpp"
#include "electric/hand_deck.hpp"
#include "electric/levels.hpp"
#include "electric/site_circuit.hpp"

namespace zoneproof::electric {
namespace {

constexpr double agreement_of_joined_V = 1e-6;

ZoneState state(const char* happening, const char* contact) {
  return std::string(happening) == "alarm" ? ZoneState{Happening::alarm, contact} : ZoneState{};
}

TEST(JoinedLoops, WithBothZonesInEarnestAllReadingsAreThoseOfThePaper) {
  const site::Site site = deck_site("joined_loops");
  const std::vector<HandPoint> points = run_deck("joined_loops");
  const char* const states[4][2] = {{"rest", "rest"}, {"rest", "alarm"}, {"alarm", "rest"}, {"alarm", "alarm"}};
  for (std::size_t i = 0; i < 4; ++i) {
    SCOPED_TRACE(std::string(states[i][0]) + "/" + states[i][1]);
    const SiteCircuit circuit = build_site_circuit(
        site, whole_site(site, SupplyCondition::mains,
                         {{"z1", state(states[i][0], "a")}, {"z2", state(states[i][1], "d")}}, true));
    const circuit::Solution solution = circuit::solve(circuit.wiring.network);
    ASSERT_TRUE(solution.usable());
    EXPECT_NEAR(solution.at(panel_reading(circuit.terminals.at("z1"))), points[i].values.at("panel"),
                agreement_of_joined_V);
    EXPECT_NEAR(solution.at(panel_reading(circuit.terminals.at("z2"))), points[i].values.at("panel2"),
                agreement_of_joined_V);
    for (const char* trigger : {"t1", "t2"}) {
      EXPECT_NEAR(solution.at(unit_reading(circuit.inputs.at(trigger))), points[i].values.at("unit"),
                  agreement_of_joined_V);
    }
  }
}

TEST(JoinedLoops, TheOtherZoneInAnyStateLiesWithinWhatIsSaidOfTheFirst) {
  const site::Site site = deck_site("joined_loops");
  for (const HandPoint& point : run_deck("joined_loops")) {
    ZoneSituation situation;
    situation.zone = "z1";
    situation.trigger = "t1";
    if (point.state == "alarm:a") situation.state = state("alarm", "a");
    const Level level = solve_level(site, situation);
    for (const auto& [quantity, which] : {std::pair("panel", level.panel), std::pair("unit", level.unit)}) {
      const circuit::WorstCase& worst = level.solved.cases.at(which.value());
      EXPECT_LE(worst.low.bound, point.values.at(quantity) + agreement_of_joined_V) << point.state << " " << quantity;
      EXPECT_GE(worst.high.bound, point.values.at(quantity) - agreement_of_joined_V) << point.state << " " << quantity;
    }
  }
}

/// Apart they are two networks: the far zone's alarm is not felt at all. Joined, it takes more than half of the
/// reading.
TEST(JoinedLoops, DisturbEachOtherWhileLoopsOnInputsOfTheirOwnDoNot) {
  site::Site site = deck_site("joined_loops");
  const auto panel_spread = [&] {
    ZoneSituation situation;
    situation.zone = "z1";
    situation.trigger = "t1";
    const Level level = solve_level(site, situation);
    const circuit::WorstCase& worst = level.solved.cases.at(level.panel.value());
    return worst.high.bound - worst.low.bound;
  };
  EXPECT_GT(panel_spread(), 2.0);
  EXPECT_LT(panel_spread(), 5.1) << "the terminals' own source is all there is";
  site.triggers.at("t2").input.value = 2;
  EXPECT_LT(panel_spread(), 1e-4);  // what is left is the shift of the unit's negative
}

/// Two bystanders joined at another input must leave a zone's own levels bounded, and as they are.
TEST(JoinedLoops, AreNotFeltOnAnotherInputOfTheUnit) {
  site::Site site = deck_site("joined_loops");
  site::Zone third = site.zones.at("z2");
  third.input.value = 3;
  site.zones["z3"] = third;
  site.triggers["t3"] = site.triggers.at("t2");
  site.triggers.at("t3").zone.id = "z3";
  site.triggers.at("t3").at_input.value = 3;
  site.triggers.at("t3").input.value = 2;
  site.triggers.at("t1").input.value = 1;
  const auto reading = [&] {
    ZoneSituation situation;
    situation.zone = "z3";
    situation.trigger = "t3";
    const Level level = solve_level(site, situation);
    return level.solved.cases.at(level.unit.value());
  };
  const circuit::WorstCase joined = reading();
  site.triggers.erase("t2");
  const circuit::WorstCase alone = reading();
  EXPECT_NEAR(joined.low.bound, alone.low.bound, 1e-3);  // the shift of the unit's negative is what couples them
  EXPECT_NEAR(joined.high.bound, alone.high.bound, 1e-3);
}

}  // namespace
}  // namespace zoneproof::electric
