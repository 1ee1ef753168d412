#include "circuit/worst_case.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <random>

#include "circuit/random_network.hpp"
#include "circuit/ranges.hpp"

namespace zoneproof::circuit {
namespace {

struct BruteForce {
  double low = infinite;
  double high = -infinite;
};

// All 2^n corners, each solved afresh: the reference that the search shares no code with beyond `solve`.
std::vector<BruteForce> enumerate(const Network& network, const std::vector<Quantity>& asked) {
  std::vector<std::size_t> wide;
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    if (network.elements()[e].value.wide()) wide.push_back(e);
  }
  EXPECT_LE(wide.size(), 14U);
  std::vector<BruteForce> result(asked.size());
  Values values = nominal_values(network);
  for (unsigned corner = 0; corner < (1U << wide.size()); ++corner) {
    for (std::size_t k = 0; k < wide.size(); ++k) {
      const Range& range = network.elements()[wide[k]].value;
      values[wide[k]] = (corner >> k) & 1U ? range.high : range.low;
    }
    const Solution solution = solve(network, values);
    for (std::size_t i = 0; i < asked.size(); ++i) {
      const double value = solution.at(asked[i]);
      if (std::isnan(value)) continue;
      result[i].low = std::min(result[i].low, value);
      result[i].high = std::max(result[i].high, value);
    }
  }
  return result;
}

// A loop as it is found on a wall: source, pull-up, cable out and back, end-of-line resistors, contacts, leakage, a tap
// with a pull-up of its own.
Network random_loop(unsigned seed) {
  std::mt19937 random(seed);
  const auto uniform = [&](double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); };
  Network network;
  const Node source = network.node("source");
  const Node zone = network.node("zone");
  const Node common = network.node("common");
  network.voltage("supply", reference, source, within(uniform(3.0, 13.8), uniform(0.0, 0.05)));
  network.resistor("pull_up", source, zone, within(uniform(1e3, 1e4), 0.05));
  network.resistor("return", common, reference, {1.0, 0.2, uniform(2.0, 20.0)});
  network.resistor("cable_out", zone, network.node("far"), {5.0, 1.0, uniform(6.0, 40.0)});
  const Node middle = network.node("middle");
  network.resistor("end", network.node("far"), middle, within(uniform(1e3, 1e4), 0.02));
  network.resistor("contact", middle, network.node("back"),
                   uniform(0.0, 1.0) < 0.5 ? Range{1.0, 0.0, 100.0} : Range{1e7, 1e6, infinite});
  network.resistor("alarm", middle, network.node("back"), within(uniform(1e3, 1e4), 0.02));
  network.resistor("cable_back", network.node("back"), common, {5.0, 1.0, 20.0});
  network.resistor("damp", zone, reference, {infinite, uniform(5e4, 5e5), infinite});
  network.resistor("tap", zone, network.node("input"), {10.0, 0.0, 20.0});
  network.resistor("input", network.node("input"), network.node("unit"), {47e3, 10e3, 1e6});
  network.voltage("unit_rail", common, network.node("unit"),
                  uniform(0.0, 1.0) < 0.5 ? within(3.3, 0.1) : Range::exactly(5.0));
  return network;
}

TEST(WorstCase, EqualsEnumerationOnRandomLoops) {
  int certified = 0;
  for (unsigned seed = 1; seed <= 200; ++seed) {
    const Network network = random_loop(seed);
    const std::vector<Quantity> asked{Quantity::voltage(*network.find_node("zone")),
                                      Quantity::voltage(*network.find_node("input"), *network.find_node("common"))};
    const auto results = worst_case(network, asked);
    const std::vector<BruteForce> all = enumerate(network, asked);
    for (std::size_t i = 0; i < asked.size(); ++i) {
      const BruteForce& reference_values = all[i];
      EXPECT_NEAR(results[i].low.attained, reference_values.low, 1e-9) << "seed " << seed << " quantity " << i;
      EXPECT_NEAR(results[i].high.attained, reference_values.high, 1e-9) << "seed " << seed << " quantity " << i;
      EXPECT_TRUE(results[i].low.exact && results[i].high.exact) << "seed " << seed;
      EXPECT_LE(results[i].low.bound, reference_values.low + 1e-12);
      EXPECT_GE(results[i].high.bound, reference_values.high - 1e-12);
      certified += results[i].certified;
    }
  }
  EXPECT_GT(certified, 200 * 2 * 6);  // most signs are certain without a walk
}

TEST(WorstCase, EqualsEnumerationOnMeshes) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    RandomShape shape;
    shape.nodes = 4;
    shape.extra_resistors = 4;
    shape.voltages = 1;
    shape.tolerance = seed % 3 == 0 ? 0.5 : 0.1;
    shape.extreme_share = seed % 2 == 0 ? 0.4 : 0.0;
    const Network network = random_network(seed, shape);
    const Quantity asked = Quantity::voltage(1, 3);
    const WorstCase result = worst_case(network, {asked}).front();
    const BruteForce expected = enumerate(network, {asked}).front();
    EXPECT_NEAR(result.low.attained, expected.low, 1e-8) << "seed " << seed;
    EXPECT_NEAR(result.high.attained, expected.high, 1e-8) << "seed " << seed;
    EXPECT_TRUE(result.low.exact && result.high.exact) << "seed " << seed;
  }
}

// 1e5 random points of random boxes, nonlinear elements included: none beyond the bounds.
TEST(WorstCase, NoSampleLiesBeyondABound) {
  std::mt19937 random(7);
  int samples = 0;
  int exact = 0;
  int asked_for = 0;
  for (unsigned seed = 1; seed <= 250; ++seed) {
    RandomShape shape;
    shape.nodes = 5 + static_cast<int>(seed % 8);
    shape.tolerance = 0.02 + 0.02 * static_cast<double>(seed % 5);
    shape.wide_share = 0.8;
    shape.loads = static_cast<int>(seed % 3);
    shape.diodes = static_cast<int>(seed / 3 % 3);
    shape.limited = static_cast<int>(seed / 9 % 2);
    const Network network = random_network(seed, shape);
    const std::vector<Quantity> asked{Quantity::voltage(1), Quantity::voltage(2, 4)};
    const auto results = worst_case(network, asked);
    for (const WorstCase& result : results) {
      exact += (result.low.exact ? 1 : 0) + (result.high.exact ? 1 : 0);
      asked_for += 2;
      EXPECT_LE(result.low.bound, result.low.attained);
      EXPECT_GE(result.high.bound, result.high.attained);
    }
    Values values = nominal_values(network);
    for (int sample = 0; sample < 400; ++sample, ++samples) {
      for (std::size_t e = 0; e < values.size(); ++e) {
        const Range& range = network.elements()[e].value;
        const double t = std::uniform_real_distribution<double>(0.0, 1.0)(random);
        if (range.wide())
          values[e] = t < 0.2 ? range.low : t > 0.8 ? range.high : range.low + t * (range.high - range.low);
      }
      const Solution solution = solve(network, values);
      if (!solution.usable()) continue;
      for (std::size_t i = 0; i < asked.size(); ++i) {
        const double value = solution.at(asked[i]);
        EXPECT_GE(value, results[i].low.bound - 1e-9) << "seed " << seed << " quantity " << i;
        EXPECT_LE(value, results[i].high.bound + 1e-9) << "seed " << seed << " quantity " << i;
      }
    }
  }
  EXPECT_GE(samples, 100000);
  RecordProperty("exact", exact);
  EXPECT_GT(exact, asked_for / 2);
}

TEST(WorstCase, CornerSolvedAgainGivesWhatWasAttained) {
  const Network network = random_loop(11);
  const Quantity asked = Quantity::voltage(*network.find_node("zone"));
  const WorstCase result = worst_case(network, {asked}).front();
  EXPECT_NEAR(solve(network, values_at(network, result.low.corner)).at(asked), result.low.attained, 1e-12);
  EXPECT_NEAR(solve(network_at(network, result.high.corner)).at(asked), result.high.attained, 1e-12);
}

TEST(WorstCase, LoadOnALongPairIsExactWithItsPowerInTheBox) {
  Network network;
  network.voltage("supply", reference, network.node("s"), {12.0, 11.5, 13.8});
  network.resistor("out", network.node("s"), network.node("plus"), within(1.0, 0.2));
  network.resistor("back", network.node("minus"), reference, within(1.0, 0.2));
  network.constant_power("unit", network.node("plus"), network.node("minus"), {8.0, 2.0, 10.0}, 6.0);
  const Quantity asked = Quantity::voltage(*network.find_node("plus"), *network.find_node("minus"));
  const WorstCase result = worst_case(network, {asked}).front();
  EXPECT_TRUE(result.low.exact && result.high.exact);
  EXPECT_NEAR(result.low.attained, (11.5 + std::sqrt(11.5 * 11.5 - 4.0 * 10.0 * 2.4)) / 2.0, 1e-9);
  EXPECT_NEAR(result.high.attained, (13.8 + std::sqrt(13.8 * 13.8 - 4.0 * 2.0 * 1.6)) / 2.0, 1e-9);
}

TEST(WorstCase, CollapseInACornerIsTold) {
  Network network;
  network.voltage("supply", reference, network.node("s"), {12.0, 9.0, 13.8});
  network.resistor("wire", network.node("s"), network.node("plus"), within(2.0, 0.5));
  network.constant_power("unit", network.node("plus"), reference, within(8.0, 0.2), 6.0);
  const WorstCase result = worst_case(network, {Quantity::voltage(*network.find_node("plus"))}).front();
  EXPECT_EQ(result.trouble, Trouble::collapsed);
}

TEST(WorstCase, FloatingQuantityHasNoBound) {
  Network network;
  network.voltage("v", network.node("x"), network.node("y"), within(12.0, 0.1));
  const WorstCase result = worst_case(network, {Quantity::voltage(*network.find_node("y"))}).front();
  EXPECT_EQ(result.trouble, Trouble::floating);
  EXPECT_FALSE(result.low.exact);
  EXPECT_EQ(result.high.bound, infinite);
}

TEST(WorstCase, SwitchFromShortToOpenIsWalked) {
  Network network;
  network.voltage("v", reference, network.node("s"), within(5.0, 0.01));
  network.resistor("pull_up", network.node("s"), network.node("zone"), within(1000.0, 0.01));
  network.resistor("contact", network.node("zone"), reference, {100.0, 0.0, infinite});
  const WorstCase result = worst_case(network, {Quantity::voltage(*network.find_node("zone"))}).front();
  EXPECT_TRUE(result.low.exact && result.high.exact);
  EXPECT_NEAR(result.low.attained, 0.0, 1e-12);
  EXPECT_NEAR(result.high.attained, 5.05, 1e-9);
}

RC_GTEST_PROP(WorstCaseProperties, WideningARangeNeverNarrowsTheExtremes, ()) {
  RandomShape shape;
  shape.nodes = *rc::gen::inRange(3, 8);
  shape.tolerance = 0.05;
  shape.loads = *rc::gen::inRange(0, 2);
  Network network = random_network(*rc::gen::inRange(1U, 100000U), shape);
  const Quantity asked = Quantity::voltage(1, 2);
  const WorstCase before = worst_case(network, {asked}).front();
  const auto index = *rc::gen::inRange(0, static_cast<int>(network.elements().size()));
  Range& range = network.element(index).value;
  range.low -= 0.3 * std::abs(range.low);
  range.high += 0.3 * std::abs(range.high);
  const WorstCase after = worst_case(network, {asked}).front();
  RC_PRE(after.trouble == Trouble::none && before.trouble == Trouble::none);
  RC_ASSERT(after.low.bound <= before.low.attained + 1e-9);
  RC_ASSERT(after.high.bound >= before.high.attained - 1e-9);
}

}  // namespace
}  // namespace zoneproof::circuit
