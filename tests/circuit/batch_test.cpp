// Many sets of values at a time against each set solved alone.
#include "circuit/batch.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "circuit/random_network.hpp"

namespace zoneproof::circuit {
namespace {

/// All that has a range, and sets of values within the ranges.
struct Sets {
  std::vector<Batch::Varied> varied;
  std::vector<double> values;
  std::size_t count;

  Sets(const Network& network, std::size_t sets, unsigned seed) : count(sets) {
    std::mt19937 random(seed);
    for (std::size_t e = 0; e < network.elements().size(); ++e) {
      const Range& range = network.elements()[e].value;
      if (!range.wide()) continue;
      varied.push_back({static_cast<ElementIndex>(e)});
      for (std::size_t s = 0; s < sets; ++s) {
        const double u = std::uniform_real_distribution<double>(0.0, 1.0)(random);
        const double high = std::isinf(range.high) ? 100.0 * range.low : range.high;
        values.push_back(s == 0 ? range.low : s == 1 ? range.high : range.low + u * (high - range.low));
      }
    }
  }
  Network set(Network network, std::size_t s) const {
    for (std::size_t i = 0; i < varied.size(); ++i)
      network.element(varied[i].element).value = Range::exactly(values[i * count + s]);
    return network;
  }
};

std::vector<Quantity> all_nodes(const Network& network) {
  std::vector<Quantity> quantities;
  for (Node node = 1; node < network.node_count(); ++node) quantities.push_back(Quantity::voltage(node));
  return quantities;
}

struct Tally {
  std::size_t sets = 0, alone = 0;
};

void compare(const Network& network, unsigned seed, Tally& tally) {
  const Sets sets(network, 70, seed);
  const std::vector<Quantity> quantities = all_nodes(network);
  const Batch batch(network, sets.varied, quantities);
  std::vector<double> results(quantities.size() * sets.count);
  tally.alone += batch.solve(sets.values.data(), sets.count, results.data());
  tally.sets += sets.count;
  for (std::size_t s = 0; s < sets.count; ++s) {
    const Solution alone = solve(sets.set(network, s));
    for (std::size_t q = 0; q < quantities.size(); ++q) {
      const double expected = alone.usable() ? alone.at(quantities[q]) : NAN;
      const double got = results[q * sets.count + s];
      ASSERT_EQ(std::isnan(expected), std::isnan(got)) << "seed " << seed << " set " << s << " node " << q + 1;
      if (std::isnan(expected)) continue;
      ASSERT_NEAR(got, expected, 1e-9) << "seed " << seed << " set " << s;
    }
  }
}

TEST(Batch, EqualsEverySetSolvedAlone) {
  Tally tally;
  for (unsigned seed = 1; seed <= 300; ++seed) {
    RandomShape shape;
    shape.nodes = 4 + static_cast<int>(seed % 17);
    shape.extra_resistors = static_cast<int>(seed % 9);
    shape.loads = static_cast<int>(seed % 3);
    shape.diodes = static_cast<int>(seed % 4);
    shape.limited = static_cast<int>(seed % 2);
    shape.tolerance = 0.05;
    shape.wide_share = seed % 5 == 0 ? 0.2 : 1.0;
    compare(random_network(seed, shape), seed, tally);
  }
  // Diodes and limits near their corners change state within 5 %: those are solved alone, most are not.
  EXPECT_LT(tally.alone, tally.sets / 3) << tally.alone << " of " << tally.sets;
}

TEST(Batch, SolvesAloneWhatChangesTheShape) {
  Tally tally;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    RandomShape shape;
    shape.tolerance = 0.05;
    shape.extreme_share = 1.0;  // contacts of zero ohms and open ends among the sets
    compare(random_network(seed, shape), seed, tally);
  }
  EXPECT_GT(tally.alone, 0U);
  EXPECT_LT(tally.alone, tally.sets / 3);
}

TEST(Batch, IsTheSameWhateverStandsBeside) {
  RandomShape shape;
  shape.loads = 2;
  shape.tolerance = 0.05;
  const Network network = random_network(5, shape);
  const Sets sets(network, 70, 5);
  const std::vector<Quantity> quantities = all_nodes(network);
  const Batch batch(network, sets.varied, quantities);
  std::vector<double> together(quantities.size() * sets.count);
  ASSERT_EQ(batch.solve(sets.values.data(), sets.count, together.data()), 0U);
  for (std::size_t s = 0; s < sets.count; ++s) {
    std::vector<double> one, result(quantities.size());
    for (std::size_t i = 0; i < sets.varied.size(); ++i) one.push_back(sets.values[i * sets.count + s]);
    batch.solve(one.data(), 1, result.data());
    for (std::size_t q = 0; q < quantities.size(); ++q) EXPECT_EQ(result[q], together[q * sets.count + s]);
  }
}

TEST(Batch, KeepsItsDigitsOverTwelveDecades) {
  // A divider of megohms beside milliohms, in closed form: a diagonal kept by subtraction would lose ten digits here.
  Network network;
  const Node a = network.node("a"), b = network.node("b"), c = network.node("c");
  network.voltage("v", reference, a, Range::exactly(12.0));
  const ElementIndex wire = network.resistor("wire", a, b, {1e-3, 5e-4, 2e-3});
  const ElementIndex high = network.resistor("high", b, c, {1e9, 5e8, 2e9});
  const ElementIndex low = network.resistor("low", c, reference, {1e3, 5e2, 2e3});
  const Batch batch(network, {{wire}, {high}, {low}}, {Quantity::voltage(c), {{{a, 1.0}, {b, -1.0}}}});
  const std::vector<double> values = {1e-3, 2e-3, 1e9, 5e8, 1e3, 2e3};
  std::vector<double> results(4);
  ASSERT_EQ(batch.solve(values.data(), 2, results.data()), 0U);
  for (std::size_t s = 0; s < 2; ++s) {
    const double ampere = 12.0 / (values[s] + values[2 + s] + values[4 + s]);
    EXPECT_NEAR(results[s] / (ampere * values[4 + s]), 1.0, 1e-14);
  }
}

}  // namespace
}  // namespace zoneproof::circuit
