#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include "circuit/random_network.hpp"
#include "circuit/solve.hpp"

namespace zoneproof::circuit {
namespace {

Network any_network(bool sources_of_current, bool nonlinear) {
  RandomShape shape;
  shape.nodes = *rc::gen::inRange(2, 12);
  shape.extra_resistors = *rc::gen::inRange(0, 10);
  shape.currents = sources_of_current ? 1 : 0;
  shape.loads = nonlinear ? *rc::gen::inRange(0, 3) : 0;
  shape.diodes = nonlinear ? *rc::gen::inRange(0, 3) : 0;
  return random_network(*rc::gen::inRange(1U, 1000000U), shape);
}

Node any_node(const Network& network) { return *rc::gen::inRange(0, network.node_count()); }

void expect_same(const Solution& a, const Solution& b, double tolerance) {
  for (std::size_t node = 0; node < std::min(a.voltage.size(), b.voltage.size()); ++node) {
    RC_ASSERT(std::abs(a.voltage[node] - b.voltage[node]) <= tolerance * (1.0 + std::abs(a.voltage[node])));
  }
}

void add_copy(Network& network, const Element& e) {
  switch (e.kind) {
    case Kind::resistor: network.resistor(e.name, e.from, e.to, e.value); return;
    case Kind::voltage: network.voltage(e.name, e.from, e.to, e.value); return;
    case Kind::current: network.current(e.name, e.from, e.to, e.value); return;
    case Kind::constant_power: network.constant_power(e.name, e.to, e.from, e.value, e.lockout_volts); return;
    case Kind::diode: network.diode(e.name, e.from, e.to, e.value, e.on_ohm); return;
    case Kind::limited_source:
      network.limited_source(e.name, e.from, e.to, e.value, e.limit_amps, e.limit, e.foldback_amps);
      return;
  }
}

RC_GTEST_PROP(Properties, ResistorOfInfiniteValueChangesNothing, ()) {
  Network network = any_network(true, true);
  const Solution before = solve(network);
  network.resistor("tap", any_node(network), any_node(network), Range::exactly(infinite));
  expect_same(before, solve(network), 0.0);
}

RC_GTEST_PROP(Properties, TwoInSeriesAreTheirSum, ()) {
  Network one = any_network(true, true);
  Network two = one;
  const Node a = any_node(one);
  const Node b = any_node(one);
  const double first = *rc::gen::inRange(1, 10000);
  const double second = *rc::gen::inRange(1, 10000);
  one.resistor("both", a, b, Range::exactly(first + second));
  const Node middle = two.node("middle");
  two.resistor("first", a, middle, Range::exactly(first));
  two.resistor("second", middle, b, Range::exactly(second));
  const Solution expected = solve(one);
  RC_PRE(expected.usable());
  expect_same(expected, solve(two), 1e-9);
}

RC_GTEST_PROP(Properties, TwoInParallelAddTheirConductances, ()) {
  Network one = any_network(true, true);
  Network two = one;
  const Node a = any_node(one);
  const Node b = any_node(one);
  const double first = *rc::gen::inRange(1, 10000);
  const double second = *rc::gen::inRange(1, 10000);
  one.resistor("both", a, b, Range::exactly(first * second / (first + second)));
  two.resistor("first", a, b, Range::exactly(first));
  two.resistor("second", a, b, Range::exactly(second));
  const Solution expected = solve(one);
  RC_PRE(expected.usable());
  expect_same(expected, solve(two), 1e-9);
}

RC_GTEST_PROP(Properties, ScalingAllResistancesKeepsTheVoltagesOfVoltageSources, ()) {
  Network network = any_network(false, false);
  const Solution before = solve(network);
  Values scaled = nominal_values(network);
  const double factor = *rc::gen::inRange(1, 1000) * 0.01;
  for (std::size_t e = 0; e < scaled.size(); ++e) {
    if (network.elements()[e].kind == Kind::resistor) scaled[e] *= factor;
  }
  expect_same(before, solve(network, scaled), 1e-9);
}

RC_GTEST_PROP(Properties, OrderOfElementsChangesNothing, ()) {
  const Network network = any_network(true, true);
  std::vector<std::size_t> order(network.elements().size());
  std::iota(order.begin(), order.end(), 0U);
  std::mt19937 random(*rc::gen::inRange(1U, 1000000U));
  std::shuffle(order.begin(), order.end(), random);
  Network shuffled;
  for (Node node = 1; node < network.node_count(); ++node) shuffled.node(network.node_name(node));
  for (const std::size_t e : order) add_copy(shuffled, network.elements()[e]);
  expect_same(solve(network), solve(shuffled), 1e-9);
}

RC_GTEST_PROP(Properties, FloatingNodesAreNamed, ()) {
  Network network = any_network(true, true);
  const Solution before = solve(network);
  const Node island = network.node("island");
  const Node shore = network.node("shore");
  network.resistor("bridge", island, shore, Range::exactly(10.0));
  network.voltage("cell", island, network.node("cliff"), Range::exactly(1.5));
  const Solution after = solve(network);
  RC_ASSERT(after.trouble == Trouble::floating);
  RC_ASSERT(after.troubled_nodes == (std::vector<Node>{island, shore, *network.find_node("cliff")}));
  expect_same(before, after, 0.0);
}

}  // namespace
}  // namespace zoneproof::circuit
