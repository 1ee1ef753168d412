// The voltage at a load of constant power against published figures and other solvers.
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include "carriage/network_site.hpp"
#include "carriage/poe.hpp"
#include "carriage/poe_link.hpp"
#include "chain/limit.hpp"
#include "circuit/ngspice_deck.hpp"
#include "circuit/solve.hpp"
#include "site/shelf.hpp"

namespace zoneproof::carriage {
namespace {

constexpr double agreement_volts = 1e-9;
constexpr double ngspice_volts = 1e-5;

/// IEEE 802.3 clauses 33 and 145, as trade pages quote them: power at the port and at the device, lowest voltage at the
/// port, resistance there and back, pairs, and the lowest voltage at the device where it was seen (of classes 5 and 7
/// it was not: the root stands there).
struct ClassRow {
  int poe_class;
  double port_W, device_W;
  int pairs;
  double port_V, loop_ohm;
  double device_V;     ///< root
  double published_W;  ///< port_W - I^2 R to the digits that the pages print
};
constexpr ClassRow kClasses[] = {
    {0, 15.4, 12.95, 2, 44, 20, 37.0, 12.950}, {3, 15.4, 12.95, 2, 44, 20, 37.0, 12.950},
    {4, 30, 25.5, 2, 50, 12.5, 42.5, 25.500},  {5, 45, 40, 4, 50, 6.25, 44.36, 39.94},
    {6, 60, 51, 4, 50, 6.25, 42.5, 51.000},    {7, 75, 62, 4, 52, 6.25, 42.99, 61.998},
    {8, 90, 71.3, 4, 52, 6.25, 41.18, 71.278},
};

TEST(ClassTable, WhatTheCableTakesIsTheDifferenceOfItsTwoPowers) {
  for (const ClassRow& row : kClasses) {
    const double ampere = row.port_W / row.port_V, device_W = row.port_W - ampere * ampere * row.loop_ohm;
    EXPECT_NEAR(device_W, row.published_W, 0.006) << row.poe_class;
    EXPECT_NEAR(device_W, row.device_W, 0.063) << row.poe_class;  // class 5 is rounded up to 40 W
    const auto volts = voltage_at_load(row.port_V, row.loop_ohm, device_W);
    ASSERT_TRUE(volts.has_value()) << row.poe_class;
    EXPECT_NEAR(*volts, row.port_V - ampere * row.loop_ohm, agreement_volts) << row.poe_class;
  }
}

TEST(ClassTable, LowestVoltageOfADeviceIsTheRoot) {
  for (const ClassRow& row : kClasses) {
    const auto volts = voltage_at_load(row.port_V, row.loop_ohm, row.device_W);
    ASSERT_TRUE(volts.has_value()) << row.poe_class;
    EXPECT_NEAR(*volts, row.device_V, 0.05) << row.poe_class;
  }
  EXPECT_NEAR(*voltage_at_load(44, 20, 12.95), 37.0, agreement_volts);
  EXPECT_NEAR(*voltage_at_load(50, 12.5, 25.5), 42.5, agreement_volts);
  EXPECT_NEAR(*voltage_at_load(50, 6.25, 51), 42.5, agreement_volts);
}

TEST(ClassTable, StandsInTheRulebooks) {
  for (const char* book : {"european_intruder", "common_practice", "north_american_burglary"}) {
    site::Site site = network_of(small_network());
    site.rulebooks[book] = *site::rulebook_for_site(book);
    site.rulebook.book.id = book;
    const auto of = [&](const char* rule, int poe_class) { return chain::limit_at(site, rule, poe_class).value; };
    for (const ClassRow& row : kClasses) {
      EXPECT_EQ(of("poe_port_W", row.poe_class), row.port_W) << book << row.poe_class;
      EXPECT_EQ(of("poe_device_W", row.poe_class), row.device_W) << book << row.poe_class;
      EXPECT_EQ(of("poe_port_min_V", row.poe_class), row.port_V) << book << row.poe_class;
      EXPECT_EQ(of("poe_loop_ohm", row.poe_class), row.loop_ohm) << book << row.poe_class;
      EXPECT_EQ(of("poe_pairs", row.poe_class), row.pairs) << book << row.poe_class;
      EXPECT_NEAR(*of("poe_device_min_V", row.poe_class), row.device_V, 0.1) << book << row.poe_class;
      EXPECT_NE(of("poe_port_W", row.poe_class), 34.2) << "57 V times 0.6 A is no class";
      EXPECT_NE(of("poe_port_W", row.poe_class), 99.0) << "what a supply may give is no class";
    }
    EXPECT_EQ(of("poe_port_W", 1), 4.0);
    EXPECT_EQ(of("poe_device_W", 1), 3.84);
    EXPECT_EQ(of("poe_port_W", 2), 7.0);
    EXPECT_EQ(of("poe_device_W", 2), 6.49);
    EXPECT_FALSE(of("poe_port_W", 9).has_value()) << "a table is not extended";
    EXPECT_FALSE(chain::limit_at(site, "poe_port_W", 3).verified) << "trade pages are no standard";
  }
}

TEST(ClassTable, PartsOfTheShelfKeepToTheirClass) {
  const site::Site site = network_of(small_network());
  const auto of = [&](const char* rule, const site::Count& poe_class) {
    return chain::limit_at(site, rule, static_cast<double>(*poe_class.value)).value.value();
  };
  int cameras = 0, givers = 0;
  const auto gives = [&](const std::string& id, const site::Count& poe_class, const site::Value& port_V) {
    if (!poe_class.known()) return;
    ++givers;
    EXPECT_GE(port_V.low, of("poe_port_min_V", poe_class)) << id;
  };
  for (const auto& [id, part] : site::parts_shelf()) {
    if (part.injector) gives(id, part.injector->poe_class, part.injector->poe_min_V);
    if (part.network_switch) gives(id, part.network_switch->poe_class, part.network_switch->poe_min_V);
    if (!part.camera || !part.camera->poe_class.known()) continue;
    ++cameras;
    EXPECT_LE(part.camera->power_W.high, of("poe_device_W", part.camera->poe_class)) << id;
  }
  EXPECT_GE(cameras, 10);
  EXPECT_GE(givers, 5);
}

/// A camera of that class at the end of everything that the standard allows.
Json at_the_limit(const ClassRow& row) {
  Json file = small_network();
  Json& parts = file["parts"];
  parts["eye"]["camera"]["poe_class"] = row.poe_class;
  parts["eye"]["camera"]["power_W"] = row.device_W;
  parts["giver"]["network_switch"]["poe_class"] = row.poe_class;
  parts["giver"]["network_switch"]["poe_min_V"] = row.port_V;
  parts["pairs"]["cable"]["resistance_ohm_per_km"] = row.loop_ohm * row.pairs / 2 * 10;
  file["cables"]["k_yard"]["length_m"] = 100;
  file["cables"]["k_yard"]["joint_ohm"] = 0;
  return file;
}

TEST(ClassTable, ASiteBuiltToItsLimitsHasItsFigures) {
  for (const ClassRow& row : kClasses) {
    SCOPED_TRACE(row.poe_class);
    const site::Site site = network_of(at_the_limit(row));
    const auto answers = check_power_over_data(site);
    EXPECT_NEAR(*only(answers, "poe_loop", "yard").value, row.loop_ohm, 1e-9);
    EXPECT_EQ(*only(answers, "poe_power", "yard").margin, 0.0);
    EXPECT_NEAR(*only(answers, "poe_voltage", "yard").value, row.device_V, 0.05);
    EXPECT_EQ(*only(answers, "cable_run", "l_yard").margin, 0.0);
    const electric::Tracked port = power_at_port(site, powered_by_giver(site, "switch").front());
    EXPECT_NEAR(port.range.high, row.port_W, 0.1);  // class 5: 40 W is 39.94 rounded
  }
}

TEST(ClassTable, ATypeOneCableTurns2_45WattsIntoHeat) {
  // A trade page on losses: 0.35 A through 20 ohm.
  const site::Site site = network_of(at_the_limit(kClasses[1]));
  EXPECT_NEAR(power_at_port(site, powered_by_giver(site, "switch").front()).range.high - 12.95, 2.45, 1e-9);
}

TEST(ConstantPower, IsTheLargerRoot) {
  // Of V^2 - Vs V + P R = 0, by hand.
  EXPECT_NEAR(*voltage_at_load(12, 2, 6), 10.8990, 5e-5);
  EXPECT_NEAR(6 / *voltage_at_load(12, 2, 6), 0.55051, 5e-6);
  EXPECT_NEAR(*voltage_at_load(12, 2, 12), 9.4641, 5e-5);
  EXPECT_EQ(voltage_at_load(12, 2, 18), 6.0);  // the last: Vs / 2
  EXPECT_EQ(voltage_at_load(12, 3, 12), 6.0);
  EXPECT_FALSE(voltage_at_load(12, 2, 18.001).has_value());
  EXPECT_FALSE(voltage_at_load(12, 3.001, 12).has_value());
  EXPECT_EQ(voltage_at_load(12, 0, 500), 12.0);
  EXPECT_EQ(voltage_at_load(12, 2, 0), 12.0);
}

TEST(ConstantPower, GivesWhatAKnownCurrentLeaves) {
  // A page on antennas: 1.8 ohm there and back, 5.0 V, 0.2 and 0.5 A; it prints 4.63 V for the first, which is 4.64.
  EXPECT_NEAR(*voltage_at_load(5.0, 1.8, 4.64 * 0.2), 4.64, 1e-9);
  EXPECT_NEAR(*voltage_at_load(5.0, 1.8, 4.10 * 0.5), 4.10, 1e-9);
}

RC_GTEST_PROP(ConstantPower, TakesThePowerThatItIsSaidToTake, ()) {
  const double volts = *rc::gen::inRange(300, 570) / 10.0, ohm = *rc::gen::inRange(1, 400) / 10.0;
  const double watt = *rc::gen::inRange(1, 900) / 10.0;
  const auto root = voltage_at_load(volts, ohm, watt);
  RC_ASSERT(root.has_value() == (4 * watt * ohm <= volts * volts));
  if (!root) return;
  RC_ASSERT(std::abs(*root * (volts - *root) / ohm - watt) < 1e-7);
  RC_ASSERT(*root >= volts / 2);
  const auto more = voltage_at_load(volts, ohm * 1.01, watt), harder = voltage_at_load(volts, ohm, watt * 1.01);
  RC_ASSERT(!more || *more <= *root);
  RC_ASSERT(!harder || *harder <= *root);
}

TEST(ConstantPower, IsWhatTheCircuitSolverAndNgspiceFind) {
  std::vector<std::string> decks;
  std::vector<double> roots;
  for (const ClassRow& row : kClasses) {
    circuit::Network network;
    const circuit::Node port = network.node("port"), camera = network.node("camera");
    network.voltage("source", circuit::reference, port, circuit::Range::exactly(row.port_V));
    network.resistor("loop", port, camera, circuit::Range::exactly(row.loop_ohm));
    network.constant_power("load", camera, circuit::reference, circuit::Range::exactly(row.device_W), 1.0);
    const circuit::Solution solution = circuit::solve(network);
    ASSERT_TRUE(solution.usable());
    roots.push_back(*voltage_at_load(row.port_V, row.loop_ohm, row.device_W));
    EXPECT_NEAR(solution.voltage[static_cast<std::size_t>(camera)], roots.back(), 1e-7) << row.poe_class;
    decks.push_back(circuit::ngspice_deck(network, circuit::nominal_values(network), &solution));
  }
  const auto found = circuit::run_ngspice(decks, std::string(ZONEPROOF_BINARY_DIR) + "/ngspice_poe");
  for (std::size_t i = 0; i < roots.size(); ++i) {
    ASSERT_EQ(found.at(i).count("camera"), 1u) << decks[i];
    EXPECT_NEAR(found[i].at("camera"), roots[i], ngspice_volts);
  }
}

}  // namespace
}  // namespace zoneproof::carriage
