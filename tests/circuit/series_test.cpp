// Resistors in series made one: the extremes are those of the whole network, and every corner is one of it.
#include "circuit/series.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include <cmath>

#include "circuit/random_network.hpp"

namespace zoneproof::circuit {
namespace {

/// A pair with `contacts` contacts in series under one resistor, each anything between closed and open.
Network door_line(int contacts) {
  Network network;
  const Node zone = network.node("zone"), far = network.node("far"), back = network.node("back");
  network.voltage("source", reference, network.node("open"), {5.0, 4.9, 5.1});
  network.resistor("pullup", network.node("open"), zone, {5600.0, 5500.0, 5700.0});
  network.resistor("go", zone, far, {5.0, 1.0, 20.0});
  Node at = far;
  for (int i = 0; i < contacts; ++i) {
    const Node next = i + 1 == contacts ? back : network.node("after" + std::to_string(i));
    network.resistor("contact" + std::to_string(i), at, next, {0.1, 0.05, 1e7});
    at = next;
  }
  network.resistor("alarm", far, back, {5600.0, 5544.0, 5656.0});
  network.resistor("eol", back, reference, {5600.0, 5544.0, 5656.0});
  network.resistor("stub", zone, network.node("nowhere"), {10.0, 1.0, 20.0});
  return network;
}

TEST(Series, ManyContactsAreOneSwitch) {
  const Network network = door_line(60);  // 2^60 cases to a search that takes each for itself
  const Quantity level = Quantity::voltage(*network.find_node("zone"));
  EXPECT_EQ(reduced(network, {level}).network.elements().size(), 6U);
  const WorstCase found = worst_case(network, {level}).front();
  EXPECT_TRUE(found.low.exact && found.high.exact);
  // By hand: all closed and everything else at its favourable end, and all open.
  const double closed = 4.9 * (1.0 + 1.0 / (1.0 / 5544.0 + 1.0 / (60 * 0.05)) + 5544.0) /
                        (5700.0 + 1.0 + 1.0 / (1.0 / 5544.0 + 1.0 / (60 * 0.05)) + 5544.0);
  EXPECT_NEAR(found.low.attained, closed, 1e-9);
  const double opened = 20.0 + 1.0 / (1.0 / 5656.0 + 1.0 / (60 * 1e7)) + 5656.0;
  EXPECT_NEAR(found.high.attained, 5.1 * opened / (5500.0 + opened), 1e-9);
}

TEST(Series, ACornerIsOneOfTheWholeNetwork) {
  for (unsigned seed = 1; seed <= 100; ++seed) {
    RandomShape shape;
    shape.nodes = 7;
    shape.extra_resistors = static_cast<int>(seed % 3);
    shape.voltages = 1;
    shape.tolerance = 0.2;
    shape.extreme_share = seed % 2 == 0 ? 0.3 : 0.0;
    const Network network = random_network(seed, shape);
    const Quantity asked = Quantity::voltage(1, 3);
    const WorstCase found = worst_case(network, {asked}).front();
    if (found.trouble != Trouble::none) continue;
    for (const Extreme* extreme : {&found.low, &found.high}) {
      EXPECT_NEAR(solve(network_at(network, extreme->corner)).at(asked), extreme->attained, 1e-9) << "seed " << seed;
      for (const CornerEntry& entry : extreme->corner) {
        const Range& range = network.element(entry.element).value;
        if (entry.on_ohm) continue;
        EXPECT_GE(entry.value, range.low);
        EXPECT_LE(entry.value, range.high);
      }
    }
  }
}

TEST(Series, WhatAConstantCurrentFlowsThroughChangesNothingBeyond) {
  Network network;
  const Node rail = network.node("rail");
  network.voltage("source", reference, network.node("open"), {12.0, 11.0, 14.0});
  network.resistor("inner", network.node("open"), rail, {1.0, 0.5, 2.0});
  for (int i = 0; i < 20; ++i) {
    const std::string name = std::to_string(i);
    network.resistor("plus" + name, rail, network.node("p" + name), {3.0, 2.0, 4.0});
    network.current("load" + name, network.node("p" + name), network.node("n" + name), {0.02, 0.01, 0.03});
    network.resistor("minus" + name, network.node("n" + name), reference, {3.0, 2.0, 4.0});
  }
  const Quantity level = Quantity::voltage(rail);
  EXPECT_EQ(reduced(network, {level}).network.elements().size(), 3U);
  const WorstCase found = worst_case(network, {level}).front();
  EXPECT_NEAR(found.low.attained, 11.0 - 2.0 * 20 * 0.03, 1e-9);
  EXPECT_NEAR(found.high.attained, 14.0 - 0.5 * 20 * 0.01, 1e-9);
  EXPECT_EQ(found.low.corner.size(), 2U + 20U) << "each load is named";
  EXPECT_NEAR(solve(network_at(network, found.low.corner)).at(level), found.low.attained, 1e-9);
}

TEST(Series, WhatIsAskedForStays) {
  const Network network = door_line(3);
  const Node inner = *network.find_node("after0");
  const Reduced small = reduced(network, {Quantity::voltage(inner)});
  const auto stays = [&](const char* name) {
    return std::find(small.original.begin(), small.original.end(), *network.find_node(name)) != small.original.end();
  };
  EXPECT_TRUE(stays("after0"));
  EXPECT_FALSE(stays("after1"));
  EXPECT_FALSE(stays("nowhere"));
}

}  // namespace
}  // namespace zoneproof::circuit
