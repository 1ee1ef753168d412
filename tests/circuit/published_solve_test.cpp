// Published operating points. The source stands beside each check.
#include <gtest/gtest.h>

#include <cmath>

#include "circuit/ranges.hpp"

#include "circuit/solve.hpp"

namespace zoneproof::circuit {
namespace {

double volt(const Network& network, const char* node) {
  return solve(network).voltage[static_cast<std::size_t>(*network.find_node(node))];
}

double loaded_divider(double source, double top, double bottom, double load) {
  Network network;
  network.voltage("v", reference, network.node("s"), exactly(source));
  network.resistor("top", network.node("s"), network.node("out"), exactly(top));
  network.resistor("bottom", network.node("out"), reference, exactly(bottom));
  network.resistor("load", network.node("out"), reference, exactly(load));
  return volt(network, "out");
}

// electronica.guru question 38105: 10 V over 100k / 100k, read with a 1 Mohm meter.
TEST(PublishedDivider, MeterOfOneMegohm) { EXPECT_NEAR(loaded_divider(10.0, 100e3, 100e3, 1e6), 4.76, 5e-3); }

// Published laboratory report on a loaded divider: 6 V over 1k / 2k, loads 1 Mohm, 10 kohm, 667 ohm.
TEST(PublishedDivider, ThreeLoads) {
  EXPECT_NEAR(loaded_divider(6.0, 1e3, 2e3, 1e6), 3.997, 5e-4);
  EXPECT_NEAR(loaded_divider(6.0, 1e3, 2e3, 10e3), 3.749, 1.1e-3);  // printed 3.749, exact 3.7500
  EXPECT_NEAR(loaded_divider(6.0, 1e3, 2e3, 667.0), 2.0, 1e-3);
}

// transtutors 13178867: relative loading error Rth / (Rth + RL), Rth = R1 || R2.
TEST(PublishedDivider, RelativeErrorIsTheveninShare) {
  const double thevenin = 5.5e3 * 5e3 / 10.5e3;
  const double open = loaded_divider(50.0, 5.5e3, 5e3, infinite);
  const double loaded = loaded_divider(50.0, 5.5e3, 5e3, 10e3);
  EXPECT_NEAR((open - loaded) / open, thevenin / (thevenin + 10e3), 1e-12);
}

// SIA CP-01 draft working paper: short <= 0.75 V for 0-120 ohm, normal 1.1-4.1 V for 190-3000 ohm,
// open 4.6-5.0 V for 7800 ohm and more. The paper gives no circuit; 5 V behind 680 ohm reproduces every figure to its
// printed digit.
TEST(PublishedZoneLoop, ThresholdsOfASixHundredEightyOhmPullUp) {
  const auto level = [](double ohm) {
    Network network;
    network.voltage("v", reference, network.node("s"), exactly(5.0));
    network.resistor("pull_up", network.node("s"), network.node("zone"), exactly(680.0));
    network.resistor("loop", network.node("zone"), reference, exactly(ohm));
    return volt(network, "zone");
  };
  EXPECT_NEAR(level(0.0), 0.0, 1e-12);
  EXPECT_NEAR(level(120.0), 0.75, 5e-3);
  EXPECT_NEAR(level(190.0), 1.1, 5e-2);
  EXPECT_NEAR(level(3000.0), 4.1, 5e-2);
  EXPECT_NEAR(level(7800.0), 4.6, 5e-2);
  EXPECT_NEAR(level(infinite), 5.0, 1e-12);
}

// A pair of conductors to a load of constant current: supply - conductor - load - conductor. Returns the drop at the
// load.
double drop_of_pair(double supply, double ohm_per_conductor, double ampere) {
  Network network;
  network.voltage("v", reference, network.node("s"), exactly(supply));
  network.resistor("out", network.node("s"), network.node("plus"), exactly(ohm_per_conductor));
  network.resistor("back", network.node("minus"), reference, exactly(ohm_per_conductor));
  network.current("load", network.node("plus"), network.node("minus"), exactly(ampere));
  const Solution solution = solve(network);
  return supply - solution.at(Quantity::voltage(*network.find_node("plus"), *network.find_node("minus")));
}

// Published training text on voltage drop: 16 AWG stranded, 4.99 ohm/kft (NEC chapter 9 table 8, 75 degC), 100 ft one
// way, 4 A, 24 V: 4.0 V.
TEST(PublishedVoltageDrop, SixteenGaugeAtFourAmperes) {
  EXPECT_NEAR(drop_of_pair(24.0, 4.99 * 0.1, 4.0), 4.0, 5e-2);
  EXPECT_NEAR(drop_of_pair(24.0, 4.99 * 0.1, 4.0), 3.992, 1e-9);
}

// Published text for licence candidates: K = 12.9 ohm cmil/ft, 100 ft, 20 A, 120 V: 12 AWG (6530 cmil) 7.9 V, 8 AWG
// (16510 cmil) 3.1 V.
TEST(PublishedVoltageDrop, CircularMils) {
  EXPECT_NEAR(drop_of_pair(120.0, 12.9 * 100.0 / 6530.0, 20.0), 7.9, 5e-2);
  EXPECT_NEAR(drop_of_pair(120.0, 12.9 * 100.0 / 16510.0, 20.0), 3.1, 5e-2);
}

// doityourselfsolarenergyprojects.blogspot: 1.3 mm2, 0.01785 ohm mm2/m, 20 m one way, 1 A, 12 V: 0.549 V.
TEST(PublishedVoltageDrop, TwentyMetresOfThinPair) {
  EXPECT_NEAR(drop_of_pair(12.0, 0.01785 * 20.0 / 1.3, 1.0), 0.549, 5e-4);
}

// Published table of a supply's long cable: 1.8 ohm round trip, 5.0 V: 0.2 A drops 0.36 V, 0.5 A drops 0.90 V and
// leaves 4.10 V. The page prints 4.63 V for the first, which is rounded wrong: 4.64 V is right.
TEST(PublishedVoltageDrop, WronglyRoundedRemainderIsNotReproduced) {
  EXPECT_NEAR(drop_of_pair(5.0, 0.9, 0.2), 0.36, 5e-3);
  EXPECT_NEAR(drop_of_pair(5.0, 0.9, 0.5), 0.90, 5e-3);
  EXPECT_NEAR(5.0 - drop_of_pair(5.0, 0.9, 0.2), 4.64, 1e-9);
  EXPECT_GT(std::abs(5.0 - drop_of_pair(5.0, 0.9, 0.2) - 4.63), 5e-3);
}

// A circulating example takes one conductor only: 1500 ft at 6.51 ohm/kft and 0.3 A as "2.91 V". The return is a
// wire: 5.86 V.
TEST(PublishedVoltageDrop, SingleConductorLengthIsNotReproduced) {
  EXPECT_NEAR(drop_of_pair(24.0, 6.51 * 1.5, 0.3), 5.86, 5e-3);
  EXPECT_GT(drop_of_pair(24.0, 6.51 * 1.5, 0.3), 2.0 * 2.91);
}

struct PowerOverEthernet {
  int power_class;
  double source_volt, ohm, device_watt, device_volt;
};

// IEEE 802.3 clauses 33 and 145, lowest source voltage, cable and device power of each class (limits as in studylib
// 18277218 "Calculating PoE power loss"): the lowest device voltage is the upper root. Published 37 V (class 3), 42.5 V
// (4 and 6), 41.1 V (8).
TEST(PublishedConstantPower, DeviceVoltagesOfPowerOverEthernet) {
  for (const PowerOverEthernet& row :
       {PowerOverEthernet{3, 44.0, 20.0, 12.95, 37.0}, PowerOverEthernet{4, 50.0, 12.5, 25.5, 42.5},
        PowerOverEthernet{6, 50.0, 6.25, 51.0, 42.5}, PowerOverEthernet{8, 52.0, 6.25, 71.3, 41.1}}) {
    Network network;
    network.voltage("source", reference, network.node("s"), exactly(row.source_volt));
    network.resistor("out", network.node("s"), network.node("plus"), exactly(row.ohm / 2.0));
    network.resistor("back", network.node("minus"), reference, exactly(row.ohm / 2.0));
    network.constant_power("device", network.node("plus"), network.node("minus"), exactly(row.device_watt), 30.0);
    const Solution solution = solve(network);
    ASSERT_EQ(solution.trouble, Trouble::none) << "class " << row.power_class;
    EXPECT_NEAR(solution.at(Quantity::voltage(*network.find_node("plus"), *network.find_node("minus"))),
                row.device_volt, 0.1)
        << "class " << row.power_class;
  }
}

}  // namespace
}  // namespace zoneproof::circuit
