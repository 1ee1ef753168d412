// Boxes in which diodes change their state and loads collapse: what lies outside the vertex theorem still has bounds.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "circuit/ranges.hpp"

#include "circuit/worst_case.hpp"

namespace zoneproof::circuit {
namespace {

// The input of a unit whose inner rail comes up: both clamps change their state inside the box.
Network clamped_input(double rail_low, double leak_high) {
  Network network;
  const Node input = network.node("input");
  const Node rail = network.node("rail");
  network.voltage("supply", reference, network.node("plus"), {13.6, 12.2, 14.3});
  network.voltage("rail", reference, rail, {5.0, rail_low, 5.15});
  network.resistor("pull_up", network.node("plus"), input, within(10e3, 0.01));
  network.resistor("inner_pull_up", rail, input, within(10e3, 0.05));
  network.resistor("impedance", input, reference, within(200e3, 0.1));
  network.resistor("starved", network.node("plus"), reference, {18.0, 13.0, leak_high});
  network.diode("clamp_high", input, rail, {0.6, 0.4, 0.8}, {1000.0, 900.0, 1100.0});
  network.diode("clamp_low", reference, input, {0.6, 0.4, 0.8}, {1000.0, 900.0, 1100.0});
  return network;
}

// Points of the box, its ends over-represented, each solved in full; the diodes' on_ohm included.
template <class Check>
void sample(Network network, unsigned seed, int count, Check check) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  const auto draw = [&](const Range& range) {
    const double t = uniform(random);
    const double value = t < 0.25 ? range.low : t > 0.75 ? range.high : range.low + t * (range.high - range.low);
    return range.wide() ? value : range.nominal;
  };
  const std::vector<Element> box = network.elements();
  for (int i = 0; i < count; ++i) {
    for (std::size_t e = 0; e < box.size(); ++e) {
      Element& element = network.element(static_cast<ElementIndex>(e));
      element.value = Range::exactly(draw(box[e].value));
      if (element.kind == Kind::diode) element.on_ohm = Range::exactly(draw(box[e].on_ohm));
    }
    check(solve(network));
  }
}

TEST(WorstCaseStates, ClampsThatChangeTheirStateInsideTheBoxAreExact) {
  for (const double rail_low : {0.0, 3.0, 4.9}) {
    const Network network = clamped_input(rail_low, 1e10);
    const Quantity asked = Quantity::voltage(*network.find_node("input"));
    const WorstCase result = worst_case(network, {asked}).front();
    EXPECT_TRUE(result.low.exact && result.high.exact) << "rail from " << rail_low;
    sample(network, 3, 20000, [&](const Solution& solution) {
      EXPECT_GE(solution.at(asked), result.low.bound - 1e-9);
      EXPECT_LE(solution.at(asked), result.high.bound + 1e-9);
    });
  }
}

// By hand: with the rail at 0 V the upper clamp conducts. Least with everything at its lower end and the load strong.
TEST(WorstCaseStates, LowestClampedLevelIsTheOneComputedByHand) {
  const Network network = clamped_input(0.0, 1e10);
  const WorstCase result = worst_case(network, {Quantity::voltage(*network.find_node("input"))}).front();
  const double conductance = 1.0 / 10100.0 + 1.0 / 9500.0 + 1.0 / 180e3 + 1.0 / 900.0;
  EXPECT_NEAR(result.low.attained, (12.2 / 10100.0 + 0.4 / 900.0) / conductance, 1e-9);
}

TEST(WorstCaseStates, UnpoweredInputHasBoundsAtZero) {
  Network network;
  const Node input = network.node("input");
  const Node rail = network.node("rail");
  network.resistor("dead", network.node("plus"), reference, {500.0, 100.0, 5000.0});
  network.resistor("rail_load", rail, reference, {500.0, 100.0, 5000.0});
  network.resistor("pull_up", network.node("plus"), input, within(10e3, 0.01));
  network.resistor("inner_pull_up", rail, input, within(10e3, 0.05));
  network.diode("clamp_high", input, rail, {0.6, 0.4, 0.8}, {1000.0, 900.0, 1100.0});
  network.diode("clamp_low", reference, input, {0.6, 0.4, 0.8}, {1000.0, 900.0, 1100.0});
  const WorstCase result = worst_case(network, {Quantity::voltage(input)}).front();
  EXPECT_NEAR(result.low.bound, 0.0, 1e-6);
  EXPECT_NEAR(result.high.bound, 0.0, 1e-6);
}

TEST(WorstCaseStates, RandomClampedMeshesKeepFiniteBoundsThatNoSampleBreaks) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  int exact = 0;
  constexpr int meshes = 60;
  for (int mesh = 0; mesh < meshes; ++mesh) {
    Network network = clamped_input(5.0 * uniform(random), std::pow(10.0, 2.0 + 8.0 * uniform(random)));
    const Node tap = network.node("tap");
    network.resistor("tap_wire", *network.find_node("input"), tap, {100.0, 0.0, 1e3});
    network.resistor("tap_end", tap, reference, {4700.0, 4700.0 * uniform(random), 1e6});
    network.voltage("loop", reference, network.node("loop"), {5.0, 5.0 * uniform(random), 5.2});
    network.resistor("loop_series", network.node("loop"), tap, within(1e3 + 1e4 * uniform(random), 0.2));
    network.diode("tap_clamp", tap, *network.find_node("rail"), {0.6, 0.3, 0.8}, {50.0, 10.0, 200.0});
    const Quantity asked = Quantity::voltage(tap);
    const WorstCase result = worst_case(network, {asked}).front();
    EXPECT_TRUE(std::isfinite(result.low.bound) && std::isfinite(result.high.bound)) << "mesh " << mesh;
    exact += (result.low.exact ? 1 : 0) + (result.high.exact ? 1 : 0);
    sample(network, static_cast<unsigned>(mesh), 1000, [&](const Solution& solution) {
      EXPECT_GE(solution.at(asked), result.low.bound - 1e-9) << "mesh " << mesh;
      EXPECT_LE(solution.at(asked), result.high.bound + 1e-9) << "mesh " << mesh;
    });
  }
  EXPECT_GT(exact, meshes);
}

// Two units on one supply, one behind a wire that it cannot run through: the other's voltage has bounds that hold
// whether the first draws nothing or the most that its lockout lets it.
TEST(WorstCaseStates, NeighbourOfACollapsedLoadHasFiniteBounds) {
  Network network;
  const Node rail = network.node("rail");
  network.voltage("supply", reference, network.node("source"), {11.8, 10.5, 13.8});
  network.resistor("inner", network.node("source"), rail, within(0.5, 0.2));
  network.resistor("thin", rail, network.node("far"), {4.8, 4.4, 6.0});
  network.constant_power("far_unit", network.node("far"), reference, {7.2, 6.0, 8.6}, 8.0);
  network.resistor("thick", rail, network.node("near"), within(0.1, 0.2));
  network.constant_power("near_unit", network.node("near"), reference, {2.2, 1.8, 2.6}, 5.0);
  const Quantity asked = Quantity::voltage(*network.find_node("near"));
  const WorstCase result = worst_case(network, {asked}).front();
  EXPECT_EQ(result.trouble, Trouble::collapsed);
  Network free = network;
  free.element(*free.find_element("far_unit")).value = Range::exactly(0.0);
  Network hard = network;  // at its lockout it pulls the most
  hard.element(*hard.find_element("far_unit")).value = Range::exactly(0.0);
  hard.resistor("hardest_pull", *hard.find_node("far"), reference, Range::exactly(8.0 * 8.0 / 8.6));
  EXPECT_GE(result.high.bound, worst_case(free, {asked}).front().high.attained - 1e-9);
  EXPECT_LE(result.low.bound, worst_case(hard, {asked}).front().low.attained + 1e-9);
  EXPECT_GT(result.low.bound, 0.0);
  EXPECT_LT(result.high.bound, 20.0);
}

}  // namespace
}  // namespace zoneproof::circuit
