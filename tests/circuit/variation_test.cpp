// Variations of a solved network against a fresh solution of the changed one.
#include "circuit/variation.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "circuit/random_network.hpp"
#include "circuit/reach.hpp"

namespace zoneproof::circuit {
namespace {

std::vector<double> anew(Network network, const std::vector<Change>& changes) {
  int bridges = 0;
  for (const Change& change : changes) {
    if (change.element) {
      network.element(*change.element).value = Range::exactly(change.value);
    } else {
      network.resistor("bridge" + std::to_string(bridges++), change.a, change.b, Range::exactly(change.value));
    }
  }
  return solve(network).voltage;
}

/// Opens, shorts, drifts and bridges, one to three together.
std::vector<Change> random_changes(const Network& network, std::mt19937& random) {
  std::vector<ElementIndex> resistors;
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    if (network.elements()[e].kind == Kind::resistor) resistors.push_back(static_cast<ElementIndex>(e));
  }
  std::shuffle(resistors.begin(), resistors.end(), random);
  const auto pick = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  std::vector<Change> changes;
  const int count = 1 + pick(3);
  for (int i = 0; i < count && i < static_cast<int>(resistors.size()); ++i) {
    const double ohms[] = {0.0, infinite, 1.0, 40.0, 1e5};
    if (pick(3) == 0) {
      const Node a = pick(network.node_count());
      const Node b = (a + 1 + pick(network.node_count() - 1)) % network.node_count();
      changes.push_back(Change::bridge(a, b, ohms[pick(2) * 2]));
    } else {
      changes.push_back(Change::of(resistors[static_cast<std::size_t>(i)], ohms[pick(5)]));
    }
  }
  for (std::size_t e = 0; e < network.elements().size(); ++e) {
    if (network.elements()[e].kind == Kind::current && pick(2) == 0)
      changes.push_back(Change::of(static_cast<ElementIndex>(e), 0.0));
  }
  return changes;
}

void expect_same(const std::vector<double>& a, const std::vector<double>& b, double tolerance, unsigned seed) {
  ASSERT_EQ(a.size(), b.size());
  for (std::size_t n = 0; n < a.size(); ++n) {
    ASSERT_EQ(std::isnan(a[n]), std::isnan(b[n])) << "seed " << seed << " node " << n;
    if (std::isnan(a[n])) continue;
    ASSERT_NEAR(a[n], b[n], tolerance) << "seed " << seed << " node " << n;
  }
}

/// Everything that bends, some seeds without.
Network mixed_network(unsigned seed, int nodes = 10) {
  RandomShape shape;
  shape.nodes = nodes;
  shape.extra_resistors = 6 + nodes / 10;
  shape.voltages = 1;
  shape.currents = static_cast<int>(seed % 2);
  shape.loads = static_cast<int>(seed % 3);
  shape.diodes = static_cast<int>(seed % 4 == 0 ? 2 : 0);
  return random_network(seed, shape);
}

TEST(Variations, EqualAFreshSolution) {
  int updated = 0, all = 0;
  for (unsigned seed = 1; seed <= 400; ++seed) {
    const Network network = mixed_network(seed);
    const Variations variations(network);
    if (!variations.before().usable()) continue;
    std::mt19937 random(seed);
    for (int i = 0; i < 10; ++i) {
      const std::vector<Change> changes = random_changes(network, random);
      const Varied varied = variations.with(changes);
      ++all;
      if (varied.fresh) continue;
      ++updated;
      expect_same(varied.voltage, anew(network, changes), 1e-7, seed);
      if (testing::Test::HasFatalFailure()) return;
    }
  }
  EXPECT_GT(updated, all / 2) << "most variations need no solution of their own";
}

// A glance at a few nodes says what the whole says, with fewer digits; and it seldom has nothing to say.
TEST(Variations, AGlanceSaysTheSame) {
  int glanced = 0, updated = 0;
  for (unsigned seed = 1; seed <= 400; ++seed) {
    const Network network = mixed_network(seed);
    const Variations variations(network);
    if (!variations.before().usable()) continue;
    std::mt19937 random(seed + 1000);
    std::vector<Node> asked;
    for (Node node = 0; node < network.node_count(); node += 2) asked.push_back(node);
    for (int i = 0; i < 10; ++i) {
      const std::vector<Change> changes = random_changes(network, random);
      const Varied varied = variations.with(changes);
      const auto some = variations.glance(changes, asked);
      updated += varied.fresh ? 0 : 1;
      if (!some) continue;
      ++glanced;
      std::vector<double> whole;
      for (const Node node : asked) whole.push_back(varied.voltage[static_cast<std::size_t>(node)]);
      expect_same(*some, whole, 1e-5, seed);
      if (testing::Test::HasFatalFailure()) return;
    }
  }
  EXPECT_GT(glanced, updated * 8 / 10);
}

// From some size on the factors are sparse, and half columns follow the elimination tree.
TEST(Variations, OfLargeNetworksAreTheSame) {
  int updated = 0, glanced = 0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    const Network network = mixed_network(seed, 200);
    const Variations variations(network);
    if (!variations.before().usable()) continue;
    std::mt19937 random(seed);
    std::vector<Node> asked;
    for (Node node = 0; node < network.node_count(); node += 7) asked.push_back(node);
    for (int i = 0; i < 10; ++i) {
      const std::vector<Change> changes = random_changes(network, random);
      const std::vector<double> fresh = anew(network, changes);
      const auto varied = variations.by_formula(changes);
      if (!varied) continue;
      ++updated;
      expect_same(varied->voltage, fresh, 1e-7, seed);
      const std::size_t half = changes.size() / 2;
      const auto cut = changes.begin() + static_cast<std::ptrdiff_t>(half);
      const auto some = variations.glance(variations.ready({changes.begin(), cut}),
                                          variations.ready({cut, changes.end()}), variations.asked(asked));
      if (!some) continue;
      ++glanced;
      std::vector<double> whole;
      for (const Node node : asked) whole.push_back(fresh[static_cast<std::size_t>(node)]);
      expect_same(*some, whole, 1e-5, seed);
      if (testing::Test::HasFatalFailure()) return;
    }
  }
  EXPECT_GT(updated, 200);
  EXPECT_GT(glanced, updated * 8 / 10);
}

// Where it is told how far a shock moves what is looked at, fresh solutions with and without it are no further apart.
TEST(Variations, AShockMovesNothingByMoreThanIsTold) {
  int told = 0, small = 0;
  for (unsigned seed = 1; seed <= 150; ++seed) {
    const Network network = mixed_network(seed, seed % 3 == 0 ? 150 : 20);
    const Variations variations(network);
    if (!variations.before().usable()) continue;
    std::mt19937 random(seed);
    for (int i = 0; i < 10; ++i) {
      std::vector<Change> both = random_changes(network, random);
      if (both.size() < 2) continue;
      const std::vector<Change> shock(both.begin() + 1, both.end()), movement = {both.front()};
      std::vector<Node> asked;
      for (int n = 0; n < 4; ++n)
        asked.push_back(static_cast<Node>(random() % static_cast<unsigned>(network.node_count())));
      const double most = variations.most_moved(variations.shock(variations.ready(shock)),
                                                variations.alone(variations.ready(movement), variations.asked(asked)));
      if (std::isinf(most)) continue;
      ++told;
      small += most < 0.1 ? 1 : 0;
      const std::vector<double> with = anew(network, both), without = anew(network, movement);
      for (const Node node : asked) {
        const double a = with[static_cast<std::size_t>(node)], b = without[static_cast<std::size_t>(node)];
        ASSERT_EQ(std::isnan(a), std::isnan(b)) << "seed " << seed;
        EXPECT_FALSE(std::abs(a - b) > most + 1e-7) << "seed " << seed << " node " << node;  // NaN where both float
      }
    }
  }
  EXPECT_GT(told, 100);
  EXPECT_GT(small, 10);
}

// What is told of a crowd of movements is no less than what is told of each of them alone, which is held against fresh
// solutions above.
TEST(Variations, AShockMovesNothingOfACrowdByMoreThanIsTold) {
  int told = 0, small = 0;
  for (unsigned seed = 1; seed <= 600; ++seed) {
    const Network network = mixed_network(seed, seed % 3 == 0 ? 150 : 20);
    const Variations variations(network);
    if (!variations.before().usable()) continue;
    std::mt19937 random(seed);
    const Variations::Shock shock = variations.shock(variations.ready({random_changes(network, random).front()}));
    std::vector<std::vector<Change>> movements;
    std::vector<std::vector<Variations::Alone>> crowd(2);
    std::vector<Node> asked;
    for (int n = 0; n < 4; ++n)
      asked.push_back(static_cast<Node>(random() % static_cast<unsigned>(network.node_count())));
    for (int i = 0; i < 6; ++i) {
      std::vector<Change> some = random_changes(network, random);
      some.resize(std::min<std::size_t>(some.size(), 2));  // beyond, current sources: the bound takes none
      movements.push_back(std::move(some));
      crowd[i / 3].push_back(variations.alone(variations.ready(movements.back()), variations.asked(asked)));
    }
    const std::vector<double> most = variations.most_moved(shock, variations.crowds(crowd));
    ASSERT_EQ(most.size(), 2U);
    for (std::size_t i = 0; i < movements.size(); ++i) {
      const double of_all = most[i / 3];
      if (std::isinf(of_all)) continue;
      ++told;
      small += of_all < 0.1 ? 1 : 0;
      EXPECT_GE(of_all * (1.0 + 1e-12), variations.most_moved(shock, crowd[i / 3][i % 3])) << "seed " << seed;
    }
  }
  EXPECT_GT(told, 100);
  EXPECT_GT(small, 10);
}

// What some changes are told not to move stands where it stood, in fresh solutions with and without them.
TEST(Variations, WhatChangesCannotMoveStays) {
  int still = 0, moved = 0;
  for (unsigned seed = 1; seed <= 300; ++seed) {
    const Network network = mixed_network(seed, 20);
    if (!solve(network).usable()) continue;
    const std::vector<double> before = anew(network, {});
    std::mt19937 random(seed);
    for (int i = 0; i < 5; ++i) {
      const std::vector<Change> changes = random_changes(network, random);
      Open open;
      for (const Change& change : changes) {
        if (change.element) {
          open.elements.push_back(*change.element);
        } else {
          open.bridges.emplace_back(change.a, change.b);
        }
      }
      const std::vector<bool> may = moved_by(network, open);
      const std::vector<double> now = anew(network, changes);
      for (std::size_t node = 1; node < now.size(); ++node) {
        moved += may[node] ? 1 : 0;
        if (may[node]) continue;
        ++still;
        ASSERT_EQ(std::isnan(now[node]), std::isnan(before[node])) << "seed " << seed;
        EXPECT_FALSE(std::abs(now[node] - before[node]) > 1e-7) << "seed " << seed << " node " << node;
      }
    }
  }
  EXPECT_GT(still, 200);
  EXPECT_GT(moved, 200);
}

TEST(Variations, WithoutChangesTheNetworkIsAsItWas) {
  const Network network = random_network(7, {});
  const Variations variations(network);
  expect_same(variations.with({}).voltage, solve(network).voltage, 1e-9, 7);
}

TEST(Variations, WhatIsCutOffFloats) {
  Network network;
  const Node a = network.node("a"), b = network.node("b");
  network.voltage("source", reference, a, Range::exactly(12.0));
  const ElementIndex wire = network.resistor("wire", a, b, Range::exactly(10.0));
  const Varied cut = Variations(network).with({Change::of(wire, infinite)});
  EXPECT_EQ(cut.trouble, Trouble::floating);
  EXPECT_TRUE(std::isnan(cut.voltage[static_cast<std::size_t>(b)]));
}

// A loop of 12 V, 1 kohm, two contacts of 0.1 ohm and 100 kohm back. The node between two open contacts hangs on
// nothing, although the pivot of the small matrix is of the size of a rounding error of its entries.
TEST(Variations, BetweenTwoOpenContactsANodeFloats) {
  for (const double back : {1.0, 1e3, 1e5, 1e7}) {
    Network network;
    const Node top = network.node("top"), a = network.node("a"), b = network.node("b"), c = network.node("c");
    network.voltage("source", reference, top, Range::exactly(12.0));
    network.resistor("pullup", top, a, Range::exactly(1e3));
    const ElementIndex one = network.resistor("one", a, b, Range::exactly(0.1));
    const ElementIndex two = network.resistor("two", b, c, Range::exactly(0.1));
    network.resistor("back", c, reference, Range::exactly(back));
    const Variations variations(network);
    const Varied varied = variations.with({Change::of(one, infinite), Change::of(two, infinite)});
    EXPECT_EQ(varied.trouble, Trouble::floating);
    EXPECT_NEAR(varied.voltage[static_cast<std::size_t>(a)], 12.0, 1e-9) << back;
    EXPECT_TRUE(std::isnan(varied.voltage[static_cast<std::size_t>(b)])) << back;
    EXPECT_NEAR(varied.voltage[static_cast<std::size_t>(c)], 0.0, 1e-9) << back;
    const Varied bridged =
        variations.with({Change::of(one, infinite), Change::of(two, infinite), Change::bridge(b, c, 10.0)});
    EXPECT_NEAR(bridged.voltage[static_cast<std::size_t>(b)], 0.0, 1e-9) << "a bridge is a way back";
  }
}

// What is cut off and fed, or hangs on a diode, is for a fresh solution.
TEST(Variations, WhatIsCutOffAndFedIsSolvedAnew) {
  Network network;
  const Node top = network.node("top"), a = network.node("a"), b = network.node("b");
  network.voltage("source", reference, top, Range::exactly(12.0));
  const ElementIndex wire = network.resistor("wire", top, a, Range::exactly(10.0));
  network.diode("clamp", a, top, Range::exactly(0.7), Range::exactly(10.0));
  const ElementIndex other = network.resistor("other", top, b, Range::exactly(10.0));
  network.current("load", b, reference, Range::exactly(0.01));
  const Variations variations(network);
  EXPECT_TRUE(variations.with({Change::of(wire, infinite)}).fresh);
  EXPECT_TRUE(variations.with({Change::of(other, infinite)}).fresh);
}

// A divider by hand: 12 V over 1k and 2k; a short over the lower arm, a joint of 1k in the upper, both.
TEST(Variations, OfADividerByHand) {
  Network network;
  const Node top = network.node("top"), out = network.node("out");
  network.voltage("source", reference, top, Range::exactly(12.0));
  const ElementIndex upper = network.resistor("upper", top, out, Range::exactly(1e3));
  network.resistor("lower", out, reference, Range::exactly(2e3));
  const Variations variations(network);
  const auto level = [&](const std::vector<Change>& changes) {
    return variations.with(changes).voltage[static_cast<std::size_t>(out)];
  };
  EXPECT_NEAR(level({}), 8.0, 1e-9);
  EXPECT_NEAR(level({Change::of(upper, 2e3)}), 6.0, 1e-9);
  EXPECT_NEAR(level({Change::bridge(out, reference, 0.0)}), 0.0, 1e-9);
  EXPECT_NEAR(level({Change::bridge(out, reference, 2e3)}), 6.0, 1e-9);
  EXPECT_NEAR(level({Change::bridge(out, reference, 2e3), Change::of(upper, 2e3)}), 4.0, 1e-9);
}

}  // namespace
}  // namespace zoneproof::circuit
