#include "circuit/reduction.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <stdexcept>

#include "circuit/random_network.hpp"
#include "circuit/ranges.hpp"

namespace zoneproof::circuit {
namespace {

// Textbook: 12 V behind 6 ohm and 3 ohm to the reference is 4 V behind 2 ohm, that is 2 A beside 0.5 S.
TEST(Reduction, DividerIsItsNortonEquivalent) {
  Network network;
  network.voltage("v", reference, network.node("s"), exactly(12.0));
  network.resistor("top", network.node("s"), network.node("out"), exactly(6.0));
  network.resistor("bottom", network.node("out"), reference, exactly(3.0));
  const auto port = reduce_to_ports(network, nominal_values(network), {*network.find_node("out")});
  ASSERT_TRUE(port);
  EXPECT_NEAR(port->conductance[0], 0.5, 1e-12);
  EXPECT_NEAR(port->short_circuit[0], 2.0, 1e-12);
}

// Textbook: a star of three equal resistors R is a delta of 3 R.
TEST(Reduction, StarIsADelta) {
  Network network;
  const Node star = network.node("star");
  const std::vector<Node> tips{network.node("a"), network.node("b"), network.node("c")};
  network.resistor("ra", tips[0], star, exactly(10.0));
  network.resistor("rb", tips[1], star, exactly(10.0));
  network.resistor("rc", tips[2], star, exactly(10.0));
  network.resistor("tie", tips[2], reference, exactly(infinite));
  const auto ports = reduce_to_ports(network, nominal_values(network), tips);
  ASSERT_TRUE(ports);
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j)
      EXPECT_NEAR(ports->conductance[i * 3 + j], i == j ? 2.0 / 30.0 : -1.0 / 30.0, 1e-12);
  }
}

TEST(Reduction, ReducedNetworkActsAsTheWholeOne) {
  for (unsigned seed = 1; seed <= 40; ++seed) {
    RandomShape shape;
    shape.nodes = 10;
    shape.extra_resistors = 8;
    const Network whole = random_network(seed, shape);
    const std::vector<Node> ports{1, 4, 7};
    const auto reduced = reduce_to_ports(whole, nominal_values(whole), ports);
    ASSERT_TRUE(reduced);
    // What is joined outside: a resistor between ports 0 and 1, one from port 2 to the reference.
    Network joined = whole;
    joined.resistor("outside_1", ports[0], ports[1], exactly(150.0));
    joined.resistor("outside_2", ports[2], reference, exactly(33.0));
    const Solution expected = solve(joined);
    std::vector<double> v;
    for (const Node port : ports) v.push_back(expected.voltage[static_cast<std::size_t>(port)]);
    const double through = (v[0] - v[1]) / 150.0;
    const std::vector<double> drawn{through, -through, v[2] / 33.0};
    for (std::size_t i = 0; i < 3; ++i) {
      double delivered = reduced->short_circuit[i];
      for (std::size_t j = 0; j < 3; ++j) delivered -= reduced->conductance[i * 3 + j] * v[j];
      EXPECT_NEAR(delivered, drawn[i], 1e-9 * (1.0 + std::abs(reduced->short_circuit[i]))) << "seed " << seed;
    }
  }
}

TEST(Reduction, RefusesAPortThatASourceHolds) {
  Network network;
  network.voltage("v", reference, network.node("s"), exactly(12.0));
  network.resistor("r", network.node("s"), reference, exactly(6.0));
  EXPECT_FALSE(reduce_to_ports(network, nominal_values(network), {*network.find_node("s")}));
}

TEST(ChangingNetwork, FollowsALongWalkOfChanges) {
  RandomShape shape;
  shape.nodes = 15;
  shape.extra_resistors = 15;
  const Network network = random_network(5, shape);
  Values values = nominal_values(network);
  ChangingNetwork changing(network, values);
  std::mt19937 random(3);
  std::vector<std::size_t> resistors;
  for (std::size_t e = 0; e < values.size(); ++e) {
    if (network.elements()[e].kind == Kind::resistor) resistors.push_back(e);
  }
  for (int step = 0; step < 1000; ++step) {
    const std::size_t e = resistors[random() % resistors.size()];
    values[e] = std::exp(std::uniform_real_distribution<double>(0.0, 10.0)(random));
    if (step % 50 == 7 && e > 20) values[e] = 0.0;
    changing.set_resistance(static_cast<ElementIndex>(e), values[e]);
    const Solution expected = solve(network, values);
    if (!expected.usable()) continue;
    for (std::size_t node = 0; node < expected.voltage.size(); ++node) {
      ASSERT_NEAR(changing.voltages()[node], expected.voltage[node], 1e-12 * (1.0 + 24.0)) << "step " << step;
    }
  }
  EXPECT_LT(changing.factorisations(), 150);  // most changes were updates
}

TEST(ChangingNetwork, GoesThroughOpenAndShort) {
  Network network;
  network.voltage("v", reference, network.node("s"), exactly(5.0));
  network.resistor("up", network.node("s"), network.node("z"), exactly(1000.0));
  const ElementIndex contact = network.resistor("contact", network.node("z"), reference, exactly(1000.0));
  ChangingNetwork changing(network, nominal_values(network));
  const auto z = static_cast<std::size_t>(*network.find_node("z"));
  EXPECT_NEAR(changing.voltages()[z], 2.5, 1e-12);
  changing.set_resistance(contact, infinite);
  EXPECT_NEAR(changing.voltages()[z], 5.0, 1e-12);
  changing.set_resistance(contact, 0.0);
  EXPECT_NEAR(changing.voltages()[z], 0.0, 1e-12);
  changing.set_resistance(contact, 4000.0);
  EXPECT_NEAR(changing.voltages()[z], 4.0, 1e-12);
}

TEST(ChangingNetwork, RefusesNonlinearElements) {
  Network network;
  network.diode("d", network.node("a"), reference, exactly(0.6), exactly(1.0));
  EXPECT_THROW(ChangingNetwork(network, nominal_values(network)), std::invalid_argument);
}

}  // namespace
}  // namespace zoneproof::circuit
