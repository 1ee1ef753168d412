#include "circuit/solve.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "circuit/ranges.hpp"

namespace zoneproof::circuit {
namespace {

double volt(const Network& network, const Solution& solution, const char* node) {
  return solution.voltage[static_cast<std::size_t>(*network.find_node(node))];
}

// 12 V -- 2 ohm -- load P, the supply of the regression values below.
Network supply(double watt, double ohm = 2.0, double lockout = 0.0) {
  Network network;
  network.voltage("supply", reference, network.node("plus"), exactly(12.0));
  network.resistor("wire", network.node("plus"), network.node("load"), exactly(ohm));
  network.constant_power("unit", network.node("load"), reference, exactly(watt), lockout);
  return network;
}

TEST(Solve, SignsOfCurrentsFollowTheElements) {
  Network network;
  const ElementIndex source = network.voltage("v", reference, network.node("a"), exactly(10.0));
  const ElementIndex resistor = network.resistor("r", network.node("a"), reference, exactly(5.0));
  const Solution solution = solve(network);
  EXPECT_EQ(solution.trouble, Trouble::none);
  EXPECT_NEAR(solution.current[static_cast<std::size_t>(resistor)], 2.0, 1e-12);
  EXPECT_NEAR(solution.current[static_cast<std::size_t>(source)], 2.0,
              1e-12);  // delivered: from minus to plus through the source
}

TEST(Solve, CurrentSourceEntersItsSecondNode) {
  Network network;
  network.current("i", reference, network.node("a"), exactly(1e-3));
  network.resistor("r", network.node("a"), reference, exactly(1000.0));
  EXPECT_NEAR(volt(network, solve(network), "a"), 1.0, 1e-12);
}

TEST(Solve, ZeroOhmJoinsNodesAndItsCurrentIsKnown) {
  Network network;
  network.voltage("v", reference, network.node("a"), exactly(6.0));
  const auto joint = network.resistor("joint", network.node("a"), network.node("b"), exactly(0.0));
  network.resistor("r", network.node("b"), reference, exactly(3.0));
  const Solution solution = solve(network);
  EXPECT_EQ(solution.trouble, Trouble::none);
  EXPECT_NEAR(solution.current[static_cast<std::size_t>(joint)], 2.0, 1e-12);
}

TEST(Solve, LoopOfZeroOhmsAloneIsNoTrouble) {
  Network network;
  network.voltage("v", reference, network.node("a"), exactly(6.0));
  network.resistor("j1", network.node("a"), network.node("b"), exactly(0.0));
  network.resistor("j2", network.node("a"), network.node("b"), exactly(0.0));
  network.resistor("r", network.node("b"), reference, exactly(3.0));
  EXPECT_EQ(solve(network).trouble, Trouble::none);
}

TEST(Solve, NamesALoopOfSources) {
  Network network;
  const auto first = network.voltage("v1", reference, network.node("a"), exactly(6.0));
  const auto joint = network.resistor("joint", network.node("a"), network.node("b"), exactly(0.0));
  const auto second = network.voltage("v2", reference, network.node("b"), exactly(6.0));
  const Solution solution = solve(network);
  EXPECT_EQ(solution.trouble, Trouble::source_loop);
  std::vector<ElementIndex> named = solution.troubled_elements;
  std::sort(named.begin(), named.end());
  EXPECT_EQ(named, (std::vector<ElementIndex>{first, joint, second}));
  EXPECT_FALSE(solution.usable());
}

TEST(Solve, NamesFloatingNodesAndSolvesTheRest) {
  Network network;
  network.voltage("v", reference, network.node("a"), exactly(6.0));
  network.resistor("r", network.node("a"), reference, exactly(3.0));
  network.node("x");
  network.voltage("other", network.node("x"), network.node("y"), exactly(12.0));
  network.resistor("open", network.node("x"), network.node("a"), exactly(infinite));
  const Solution solution = solve(network);
  EXPECT_EQ(solution.trouble, Trouble::floating);
  EXPECT_EQ(solution.troubled_nodes, (std::vector<Node>{*network.find_node("x"), *network.find_node("y")}));
  EXPECT_TRUE(std::isnan(volt(network, solution, "x")));
  EXPECT_NEAR(volt(network, solution, "a"), 6.0, 1e-12);
}

TEST(Solve, NamesNodesThatOnlyLeakageHolds) {
  Network network;
  network.voltage("other", network.node("x"), network.node("y"), exactly(12.0));
  network.resistor("load", network.node("x"), network.node("y"), exactly(100.0));
  network.resistor("damp", network.node("x"), reference, exactly(1e7));
  const Solution solution = solve(network);
  EXPECT_EQ(solution.trouble, Trouble::leakage_defined);
  EXPECT_TRUE(solution.usable());
  EXPECT_EQ(solution.troubled_nodes.size(), 2U);
  EXPECT_NEAR(volt(network, solution, "y"), 12.0, 1e-9);
}

// Regression values by the formula V = (Vs + sqrt(Vs^2 - 4 P R)) / 2, computed outside; not published.
TEST(Solve, ConstantPowerTakesTheUpperRoot) {
  EXPECT_NEAR(volt(supply(6.0), solve(supply(6.0)), "load"), 10.8990, 5e-5);
  EXPECT_NEAR(-solve(supply(6.0)).current[2], 0.55051, 5e-6);
  EXPECT_NEAR(volt(supply(12.0), solve(supply(12.0)), "load"), 9.4641, 5e-5);
  EXPECT_NEAR(volt(supply(11.99999, 3.0), solve(supply(11.99999, 3.0)), "load"), 6.0, 0.02);
}

TEST(Solve, BoundHoldsCloseToTheLimitOfPower) {
  const double watt = 18.0 * (1.0 - 1e-6);
  const Solution solution = solve(supply(watt));
  ASSERT_EQ(solution.trouble, Trouble::none);
  const double exact = static_cast<double>((12.0L + std::sqrt(144.0L - 8.0L * static_cast<long double>(watt))) / 2.0L);
  EXPECT_NEAR(volt(supply(watt), solution, "load"), exact, solution.voltage_error_bound);
}

TEST(Solve, CollapseIsNamed) {
  for (const double lockout : {0.0, 5.0}) {
    const Solution solution = solve(supply(18.0 * (1.0 + 1e-6), 2.0, lockout));
    EXPECT_EQ(solution.trouble, Trouble::collapsed);
    EXPECT_EQ(solution.troubled_elements, (std::vector<ElementIndex>{2}));
  }
}

TEST(Solve, LoadBelowItsLockoutIsListedNotCollapsed) {
  const Solution solution = solve(supply(12.0, 2.0, 10.0));  // runs at 9.46 V, lets go at 10 V
  EXPECT_EQ(solution.trouble, Trouble::none);
  EXPECT_EQ(solution.locked_out, (std::vector<ElementIndex>{2}));
  // The law below lockout is a resistance of lockout^2 / P = 100/12 ohm: 12 V * 8.3333 / 10.3333.
  EXPECT_NEAR(solution.voltage[2], 12.0 * (100.0 / 12.0) / (2.0 + 100.0 / 12.0), 1e-9);
}

TEST(Solve, DeadLoadHangsOnTheRailItIsStillJoinedTo) {
  Network network;
  network.voltage("supply", reference, network.node("plus"), exactly(12.0));
  network.constant_power("unit", network.node("plus"), network.node("minus"), exactly(5.0),
                         9.0);  // its negative is broken
  network.resistor("tap", network.node("minus"), reference, exactly(1e5));
  const Solution solution = solve(network);
  EXPECT_EQ(solution.trouble, Trouble::collapsed);
  EXPECT_NEAR(volt(network, solution, "minus"), 12.0 * 1e5 / (1e5 + 81.0 / 5.0), 1e-9);
}

TEST(Solve, DiodeOpensAndConducts) {
  Network network;
  const ElementIndex source = network.voltage("v", reference, network.node("a"), exactly(5.0));
  network.diode("d", network.node("a"), network.node("k"), exactly(0.6), exactly(10.0));
  network.resistor("r", network.node("k"), reference, exactly(100.0));
  EXPECT_NEAR(volt(network, solve(network), "k"), 4.4 * 100.0 / 110.0, 1e-9);
  network.element(source).value = exactly(-5.0);
  EXPECT_NEAR(volt(network, solve(network), "k"), 0.0, 1e-12);
}

TEST(Solve, HigherOfTwoSuppliesFeedsThroughItsDiode) {
  Network network;
  network.voltage("mains", reference, network.node("m"), exactly(13.8));
  network.voltage("battery", reference, network.node("b"), exactly(12.4));
  network.diode("dm", network.node("m"), network.node("rail"), exactly(0.4), exactly(0.1));
  network.diode("db", network.node("b"), network.node("rail"), exactly(0.4), exactly(0.1));
  network.resistor("load", network.node("rail"), reference, exactly(13.4));
  const Solution solution = solve(network);
  EXPECT_NEAR(volt(network, solution, "rail"), 13.4 * 13.4 / 13.5, 1e-9);
  EXPECT_NEAR(solution.current[3], 0.0, 1e-12);
}

TEST(Solve, ConstantCurrentLimitHoldsTheCurrent) {
  Network network;
  network.limited_source("s", reference, network.node("a"), exactly(12.0), 1.0, Limit::constant_current, 0.0);
  const ElementIndex load = network.resistor("r", network.node("a"), reference, exactly(5.0));
  Solution solution = solve(network);
  EXPECT_NEAR(volt(network, solution, "a"), 5.0, 1e-9);
  EXPECT_EQ(solution.limiting, (std::vector<ElementIndex>{0}));
  network.element(load).value = exactly(24.0);
  solution = solve(network);
  EXPECT_NEAR(volt(network, solution, "a"), 12.0, 1e-9);
  EXPECT_TRUE(solution.limiting.empty());
}

// 12 V, 1 A, folding to 0.2 A; 6 W that let go at 6 V. Running at 12 V it draws 0.5 A. From zero the source gives 0.2 +
// 0.8 v / 12 and the load takes v / 6: they meet at 2 V.
TEST(Solve, FoldbackLatchesLowFromZeroAlthoughItRuns) {
  Network network;
  network.limited_source("s", reference, network.node("a"), exactly(12.0), 1.0, Limit::foldback, 0.2);
  network.constant_power("unit", network.node("a"), reference, exactly(6.0), 6.0);
  const Solution running = solve(network);
  EXPECT_EQ(running.trouble, Trouble::none);
  EXPECT_NEAR(volt(network, running, "a"), 12.0, 1e-9);
  SolveOptions from_zero;
  from_zero.from_zero = true;
  const Solution starting = solve(network, from_zero);
  EXPECT_EQ(starting.trouble, Trouble::collapsed);
  EXPECT_NEAR(volt(network, starting, "a"), 2.0, 1e-9);
}

TEST(Solve, StartsFromZeroWhereTheLimitIsGenerous) {
  Network network;
  network.limited_source("s", reference, network.node("a"), exactly(12.0), 2.0, Limit::foldback, 1.5);
  network.constant_power("unit", network.node("a"), reference, exactly(6.0), 6.0);
  SolveOptions from_zero;
  from_zero.from_zero = true;
  const Solution starting = solve(network, from_zero);
  EXPECT_EQ(starting.trouble, Trouble::none);
  EXPECT_NEAR(volt(network, starting, "a"), 12.0, 1e-9);
}

TEST(Network, RefusesWhatNoSolverCouldMean) {
  Network network;
  const Node a = network.node("a");
  EXPECT_THROW(network.resistor("r", a, reference, exactly(-1.0)), std::invalid_argument);
  EXPECT_THROW(network.resistor("r", a, reference, exactly(std::nan(""))), std::invalid_argument);
  EXPECT_THROW(network.resistor("r", a, 7, exactly(1.0)), std::invalid_argument);
  EXPECT_THROW(network.resistor("r", a, reference, {1.0, 2.0, 3.0}), std::invalid_argument);
  network.resistor("r", a, reference, exactly(1.0));
  EXPECT_THROW(network.resistor("r", a, reference, exactly(1.0)), std::invalid_argument);
  EXPECT_EQ(network.elements().size(), 1U);
}

}  // namespace
}  // namespace zoneproof::circuit
