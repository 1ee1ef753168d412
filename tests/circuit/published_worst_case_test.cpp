// Published worst cases. The source stands beside each check.
#include <gtest/gtest.h>

#include "circuit/ranges.hpp"

#include "circuit/worst_case.hpp"

namespace zoneproof::circuit {
namespace {

Network divider(Range volt, Range top, Range bottom, Range load) {
  Network network;
  network.voltage("v", reference, network.node("s"), volt);
  network.resistor("top", network.node("s"), network.node("out"), top);
  network.resistor("bottom", network.node("out"), reference, bottom);
  network.resistor("load", network.node("out"), reference, load);
  return network;
}

// The published example of an open worst-case library: 5 V +0.1/-0.05, R1 10k 5 %, R2 30k 1 %, R3 10k exact. There the
// output is taken across R3 of a chain of all three: nominal 1.0 V, extremes 0.97441 and 1.03659 V.
TEST(PublishedWorstCase, DividerOfThreeResistors) {
  Network network;
  network.voltage("v", reference, network.node("s"), {5.0, 4.95, 5.1});
  network.resistor("r1", network.node("s"), network.node("a"), within(10e3, 0.05));
  network.resistor("r2", network.node("a"), network.node("out"), within(30e3, 0.01));
  network.resistor("r3", network.node("out"), reference, Range::exactly(10e3));
  const WorstCase result = worst_case(network, {Quantity::voltage(*network.find_node("out"))}).front();
  EXPECT_NEAR(result.nominal, 1.0, 1e-9);
  EXPECT_NEAR(result.low.attained, 0.97441, 5e-6);
  EXPECT_NEAR(result.high.attained, 1.03659, 5e-6);
  EXPECT_TRUE(result.low.exact && result.high.exact);
  EXPECT_EQ(result.certified, 2);  // the source, and r1 and r2 as one series
}

// Identity: a divider of equal arms of tolerance t has the extremes (1 - t) / 2 and (1 + t) / 2 of its source.
TEST(PublishedWorstCase, EqualArmsOfToleranceT) {
  for (const double t : {0.001, 0.01, 0.05, 0.2}) {
    const Network network = divider(Range::exactly(1.0), within(1e3, t), within(1e3, t), Range::exactly(infinite));
    const WorstCase result = worst_case(network, {Quantity::voltage(*network.find_node("out"))}).front();
    EXPECT_NEAR(result.low.attained, (1.0 - t) / 2.0, 1e-12);
    EXPECT_NEAR(result.high.attained, (1.0 + t) / 2.0, 1e-12);
  }
}

// SIA CP-01 draft working paper: its bands as boxes of the loop behind 5 V and 680 ohm give its
// voltages.
TEST(PublishedWorstCase, ZoneLoopBands) {
  struct Band {
    double low_ohm, high_ohm, low_volt, high_volt;
  };
  for (const Band& band :
       {Band{0.0, 120.0, 0.0, 0.75}, Band{190.0, 3000.0, 1.1, 4.1}, Band{7800.0, infinite, 4.6, 5.0}}) {
    const Network network = divider(Range::exactly(5.0), Range::exactly(680.0),
                                    {band.low_ohm, band.low_ohm, band.high_ohm}, Range::exactly(infinite));
    const WorstCase result = worst_case(network, {Quantity::voltage(*network.find_node("out"))}).front();
    EXPECT_NEAR(result.low.attained, band.low_volt, 0.05);
    EXPECT_NEAR(result.high.attained, band.high_volt, 0.05);
    EXPECT_TRUE(result.low.exact && result.high.exact);
  }
}

// IEEE 802.3 clause 33, class 3: any source of 44-57 V, any cable up to 20 ohm, any device up to 12.95 W: never below
// 37 V at the device.
TEST(PublishedWorstCase, LowestVoltageOfAPoweredDevice) {
  Network network;
  network.voltage("source", reference, network.node("s"), {48.0, 44.0, 57.0});
  network.resistor("out", network.node("s"), network.node("plus"), {5.0, 0.1, 10.0});
  network.resistor("back", network.node("minus"), reference, {5.0, 0.1, 10.0});
  network.constant_power("device", network.node("plus"), network.node("minus"), {6.0, 0.44, 12.95}, 30.0);
  const WorstCase result =
      worst_case(network, {Quantity::voltage(*network.find_node("plus"), *network.find_node("minus"))}).front();
  EXPECT_NEAR(result.low.attained, 37.0, 0.05);
  EXPECT_TRUE(result.low.exact);
}

}  // namespace
}  // namespace zoneproof::circuit
