// How a band becomes a verdict: gaps, bounds that leave it undecided, and what is broken whatever will be found.
#include <gtest/gtest.h>

#include <limits>

#include "electric/answer.hpp"
#include "electric/finding.hpp"

namespace zoneproof::electric {
namespace {

using chain::Verdict;
using circuit::Quantity;
using circuit::Range;

/// 5 V behind a pull-up, a loop resistor, and a load beside it; the level at the screw is judged.
struct Divider {
  Wiring wiring;
  std::vector<Quantity> quantities;
  Solved solved;

  Divider(const Tracked& pullup, const Tracked& loop, const Tracked& load) {
    const circuit::Node source = wiring.network.node("source");
    const circuit::Node screw = wiring.network.node("screw");
    wiring.voltage("source", circuit::reference, source, Tracked::fact(5.0));
    wiring.resistor("pullup", source, screw, pullup);
    wiring.resistor("loop", screw, circuit::reference, loop);
    wiring.resistor("load", screw, circuit::reference, load);
    quantities = {Quantity::voltage(screw)};
    solved = solve_wiring(wiring, quantities);
  }
};

Tracked of(double low, double nominal, double high, site::Origin origin, bool unknown = false) {
  Basis basis;
  basis.pointer = "/parts/p/x";
  basis.origin = origin;
  basis.unknown = unknown;
  basis.wide = low < high;
  return {Range{nominal, low, high}, {basis}};
}
Tracked measured(double low, double nominal, double high) { return of(low, nominal, high, site::Origin::measured); }
Tracked unknown() { return of(0.0, 5e5, 1e6, site::Origin::assumed, true); }

Band at_least(double volts, double required = 0.0) {
  Band band;
  band.min = Side{0, volts};
  band.required_margin = required;
  return band;
}
Band at_most(double volts) {
  Band band;
  band.max = Side{0, volts};
  return band;
}

TEST(Judged, MarginBeyondTheOneAskedIsProvenLessIsThinNegativeIsBroken) {
  // 4700/(4700+4700) of 5 V, both 1 %: 2.475 to 2.525 V.
  const Divider d(measured(4653, 4700, 4747), measured(4653, 4700, 4747), Tracked::fact(circuit::infinite));
  EXPECT_NEAR(d.solved.cases[0].low.attained, 5.0 * 4653 / (4653 + 4747), 1e-9);
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_least(2.3, 0.1)).verdict, Verdict::proven);
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_least(2.4, 0.1)).verdict, Verdict::thin);
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_least(2.5, 0.1)).verdict, Verdict::broken);
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_most(2.5)).verdict, Verdict::broken);
}

TEST(Judged, GuessedOrMissingValuesLeaveItOpenHoweverGoodTheMargin) {
  for (const Tracked& load :
       {of(1e6, 1e6, 1e6, site::Origin::typical), of(1e6, 1e6, 1e6, site::Origin::assumed), unknown()}) {
    const Divider d(measured(4700, 4700, 4700), measured(4700, 4700, 4700), load);
    const chain::Evidence evidence = judged(d.wiring, d.quantities, d.solved, at_least(-1.0));
    EXPECT_EQ(evidence.verdict, Verdict::unanswered);
    ASSERT_EQ(evidence.gaps.size(), 1U);
    EXPECT_EQ(evidence.gaps[0].pointer, "/parts/p/x");
  }
}

TEST(Judged, AGuessThatMovesNothingIsNoGap) {
  // A guessed resistor across the source itself cannot move the screw.
  Divider d(measured(4700, 4700, 4700), measured(4700, 4700, 4700), Tracked::fact(circuit::infinite));
  d.wiring.resistor("beside", circuit::reference, *d.wiring.network.find_node("source"),
                    of(1e3, 1e3, 1e3, site::Origin::assumed));
  const Solved solved = solve_wiring(d.wiring, d.quantities);
  EXPECT_TRUE(solved.gaps.empty());
  EXPECT_EQ(judged(d.wiring, d.quantities, solved, at_least(2.0)).verdict, Verdict::proven);
}

TEST(Judged, AGuessOfZeroIsAGuessToo) {
  const Divider d(measured(4700, 4700, 4700), measured(4700, 4700, 4700), Tracked::fact(circuit::infinite));
  Wiring wiring = d.wiring;
  Basis basis;
  basis.pointer = "/outputs/part/leakage_A";
  basis.origin = site::Origin::assumed;
  wiring.current("leak", *wiring.network.find_node("screw"), circuit::reference, {Range::exactly(0.0), {basis}});
  const Solved solved = solve_wiring(wiring, d.quantities);
  EXPECT_EQ(judged(wiring, d.quantities, solved, at_least(2.0)).verdict, Verdict::unanswered);
}

TEST(Judged, WhatFailsForEveryValueOfTheMissingStaysBroken) {
  // A load can only pull the screw down: 2.5 V at best, whatever the load is.
  const Divider d(measured(4700, 4700, 4700), measured(4700, 4700, 4700), unknown());
  EXPECT_TRUE(fails_whatever_is_missing(d.wiring, d.quantities, at_least(2.6)));
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_least(2.6)).verdict, Verdict::broken);
  // At least 2.4 V holds for a load that is high enough: open.
  EXPECT_FALSE(fails_whatever_is_missing(d.wiring, d.quantities, at_least(2.4)));
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_least(2.4)).verdict, Verdict::unanswered);
  // At most 1 V holds for one that is low enough: open, though the guess in the middle fails.
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_most(1.0)).verdict, Verdict::unanswered);
}

TEST(Judged, AStructureThatIsNotKnownIsNeverBroken) {
  Divider d(measured(4700, 4700, 4700), measured(4700, 4700, 4700), Tracked::fact(circuit::infinite));
  d.wiring.missing("/bonds_complete", "incomplete_list");
  const Solved solved = solve_wiring(d.wiring, d.quantities);
  EXPECT_EQ(judged(d.wiring, d.quantities, solved, at_least(4.0)).verdict, Verdict::unanswered);
  EXPECT_EQ(judged(d.wiring, d.quantities, solved, at_least(1.0)).verdict, Verdict::unanswered);
}

/// A clamp of guessed resistance behind the screw: at nominal values it does not conduct, with the loop open it does.
Divider clamped(double loop_high) {
  Divider d(measured(4700, 4700, 4700), measured(4000, 4700, loop_high), Tracked::fact(circuit::infinite));
  const circuit::Node rail = d.wiring.network.node("rail");
  d.wiring.voltage("rail", circuit::reference, rail, Tracked::fact(3.3));
  d.wiring.diode("clamp", *d.wiring.network.find_node("screw"), rail, Tracked::fact(0.6),
                 of(500, 1000, 3000, site::Origin::typical));
  d.solved = solve_wiring(d.wiring, d.quantities);
  return d;
}

TEST(Judged, AGuessThatMattersOnlyInACornerIsAGapAllTheSame) {
  EXPECT_TRUE(clamped(5000).solved.gaps.empty());  // 2.3 to 2.6 V: the clamp never conducts
  const Divider d = clamped(1e6);                  // up to 4.5 V
  ASSERT_EQ(d.solved.gaps.size(), 1U);
  EXPECT_EQ(d.solved.gaps[0].pointer, "/parts/p/x");
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_most(4.9)).verdict, Verdict::unanswered);
}

TEST(Judged, ACornerTellsAClampsResistanceAsOhms) {
  const Divider d = clamped(1e6);
  bool told = false;
  for (const chain::CornerValue& value : telling_corner(d.wiring, d.quantities[0], d.solved.cases[0].high)) {
    if (value.unit == "ohm" && value.value == 3000.0) told = true;
    EXPECT_NE(value.unit, "V") << "no voltage of this circuit has a tolerance";
  }
  EXPECT_TRUE(told);
}

TEST(Judged, ABoundThatFailsWithoutAFailingCornerIsUndecided) {
  Divider d(measured(4653, 4700, 4747), measured(4653, 4700, 4747), Tracked::fact(circuit::infinite));
  circuit::Extreme& low = d.solved.cases[0].low;
  low.bound = low.attained - 0.2;  // as if nothing better had been proved
  low.exact = false;
  d.solved.low_exact[0] = false;
  const chain::Evidence open = judged(d.wiring, d.quantities, d.solved, at_least(low.attained - 0.1));
  EXPECT_EQ(open.verdict, Verdict::unanswered);
  ASSERT_EQ(open.gaps.size(), 1U);
  EXPECT_EQ(open.gaps[0].reason, "undecided");
  EXPECT_EQ(open.kind, chain::BoundKind::bounded);
  ASSERT_TRUE(open.value && open.bound);
  EXPECT_NEAR(*open.value - *open.bound, 0.2, 1e-9);  // the gap is told
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_least(low.attained + 0.01)).verdict, Verdict::broken);
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, at_least(low.bound - 0.01)).verdict, Verdict::proven);
}

TEST(Judged, NothingAskedIsUnanswered) {
  const Divider d(measured(4700, 4700, 4700), measured(4700, 4700, 4700), Tracked::fact(circuit::infinite));
  EXPECT_EQ(judged(d.wiring, d.quantities, d.solved, Band{}).verdict, Verdict::unanswered);
}

TEST(Judged, OneDatumAtBothItsEndsIsNotCalledExact) {
  // The same length of cable in two conductors that pull the level different ways.
  const auto length = [] {
    Tracked ohm = measured(900, 1000, 1100);
    ohm.bases[0].pointer = "/cables/run/length_m";
    return ohm;
  };
  const Divider opposed(length(), length(), Tracked::fact(circuit::infinite));
  EXPECT_FALSE(opposed.solved.low_exact[0]);
  EXPECT_EQ(judged(opposed.wiring, opposed.quantities, opposed.solved, at_least(1.0)).kind, chain::BoundKind::bounded);
}

/// A level of which nothing is bounded: no corner was found, so none is known to fail.
TEST(Judged, ALevelWithoutBoundsIsUndecidedAndHasNoNumbers) {
  Divider d(measured(4653, 4700, 4747), measured(4653, 4700, 4747), Tracked::fact(circuit::infinite));
  const double nan = std::numeric_limits<double>::quiet_NaN();
  d.solved.cases[0].low = {nan, -circuit::infinite, {}, false};
  d.solved.cases[0].high = {nan, circuit::infinite, {}, false};
  for (const Band& band : {at_least(2.3), at_most(2.7)}) {
    const chain::Evidence evidence = judged(d.wiring, d.quantities, d.solved, band);
    EXPECT_EQ(evidence.verdict, Verdict::unanswered);
    ASSERT_EQ(evidence.gaps.size(), 1U);
    EXPECT_EQ(evidence.gaps.front().reason, "undecided");
    EXPECT_FALSE(evidence.value || evidence.bound || evidence.margin);
  }
  const chain::Evidence said = finding({"z1", "check", chain::Link::loop, "level", "V", "", "The level"}, d.wiring,
                                       d.quantities, d.solved, at_least(2.3));
  EXPECT_EQ(said.verdict, Verdict::unanswered);
  ASSERT_TRUE(said.says);
  EXPECT_EQ(said.says->code, "level_not_solved");
}

/// The lower side is open by its bound alone; the upper one is crossed by a corner that was solved.
TEST(Judged, ASideThatACornerCrossesIsBrokenThoughTheOtherIsUndecided) {
  Divider d(measured(4653, 4700, 4747), measured(4653, 4700, 4747), Tracked::fact(circuit::infinite));
  d.solved.cases[0].low.bound = -circuit::infinite;
  Band band = at_least(2.3);
  band.max = Side{0, 2.5};
  const chain::Evidence evidence = judged(d.wiring, d.quantities, d.solved, band);
  EXPECT_EQ(evidence.verdict, Verdict::broken);
  EXPECT_NEAR(evidence.margin.value_or(0.0), 2.5 - 5.0 * 4747 / (4747 + 4653), 1e-9);
  EXPECT_EQ(guaranteed_margin(d.solved, band), -circuit::infinite);
}

}  // namespace
}  // namespace zoneproof::electric
