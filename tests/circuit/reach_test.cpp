// What a quantity can depend on, in networks small enough to be seen through.
#include "circuit/reach.hpp"

#include <gtest/gtest.h>

namespace zoneproof::circuit {
namespace {

/// Two cabinets: each a source with a load, their negatives joined by one wire; a divider in the first.
struct Cabinets {
  Network network;
  Node middle;
  ElementIndex divider, near_load, bond, far_source, far_load;

  Cabinets() {
    const Node rail = network.node("rail"), far_minus = network.node("far_minus"), far_rail = network.node("far_rail");
    middle = network.node("middle");
    network.voltage("source", reference, rail, {12.0, 11.0, 13.0});
    divider = network.resistor("upper", rail, middle, {1000.0, 900.0, 1100.0});
    network.resistor("lower", middle, reference, {1000.0, 900.0, 1100.0});
    near_load = network.resistor("near_load", rail, reference, {10.0, 5.0, 20.0});
    bond = network.resistor("bond", reference, far_minus, {0.1, 0.05, 0.2});
    far_source = network.voltage("far_source", far_minus, far_rail, {12.0, 11.0, 13.0});
    far_load = network.constant_power("far_load", far_rail, far_minus, {5.0, 4.0, 6.0}, 7.0);
  }
};

TEST(Reach, EndsAtASourceAndAtTheOneWireThatJoinsTwoCabinets) {
  const Cabinets c;
  const std::vector<bool> kept = within_reach(c.network, {Quantity::voltage(c.middle)});
  EXPECT_TRUE(kept[static_cast<std::size_t>(c.divider)]);
  for (const ElementIndex gone : {c.near_load, c.bond, c.far_source, c.far_load})
    EXPECT_FALSE(kept[static_cast<std::size_t>(gone)]) << c.network.element(gone).name;
}

TEST(Reach, ASecondWireMakesTheOtherCabinetCount) {
  Cabinets c;
  c.network.resistor("screen", c.middle, *c.network.find_node("far_rail"), {50.0, 40.0, 60.0});
  const std::vector<bool> kept = within_reach(c.network, {Quantity::voltage(c.middle)});
  EXPECT_TRUE(kept[static_cast<std::size_t>(c.bond)]);
  EXPECT_TRUE(kept[static_cast<std::size_t>(c.far_source)]);
  EXPECT_FALSE(kept[static_cast<std::size_t>(c.far_load)]) << "it hangs on the source alone";
}

/// Names of the nodes that something open may move.
std::vector<std::string> moved(const Cabinets& c, const Open& open) {
  const std::vector<bool> is = moved_by(c.network, open);
  std::vector<std::string> names;
  for (Node node = 0; node < c.network.node_count(); ++node) {
    if (is[static_cast<std::size_t>(node)]) names.push_back(c.network.node_name(node));
  }
  return names;
}

TEST(Reach, WhatIsOpenMovesWhatHangsBehindIt) {
  const Cabinets c;
  using Names = std::vector<std::string>;
  EXPECT_EQ(moved(c, {{c.divider}, {}}), Names({"middle"}));
  EXPECT_EQ(moved(c, {{c.far_load}, {}}), Names()) << "it hangs on the source alone";
  EXPECT_EQ(moved(c, {{c.far_source}, {}}), Names({"far_rail"})) << "one wire between the cabinets carries nothing";
  EXPECT_EQ(moved(c, {{c.bond}, {}}), Names({"far_minus", "far_rail"}));
  EXPECT_EQ(moved(c, {{}, {{c.middle, *c.network.find_node("far_rail")}}}), Names({"far_minus", "far_rail", "middle"}));
}

}  // namespace
}  // namespace zoneproof::circuit
