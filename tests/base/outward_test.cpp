#include "base/outward.hpp"

#include <gtest/gtest.h>

#include <rapidcheck/gtest.h>
#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "base/fixed.hpp"

namespace zoneproof {
namespace {

TEST(Outward, EndsOfAnIntervalMoveAwayFromItsMiddle) {
  EXPECT_DOUBLE_EQ(rounded_down(2.3238, 2), 2.32);
  EXPECT_DOUBLE_EQ(rounded_up(2.6041, 2), 2.61);
  EXPECT_DOUBLE_EQ(rounded_down(-0.0031, 3), -0.004);
  EXPECT_DOUBLE_EQ(rounded_up(11263.0, -2), 11300.0);
  EXPECT_DOUBLE_EQ(rounded_down(11263.0, -2), 11200.0);
  EXPECT_DOUBLE_EQ(rounded_up(0.1 + 0.2, 1), 0.3) << "the last bits of a sum are no step";
  EXPECT_FALSE(std::signbit(rounded_up(0.0, 2)));
}

TEST(Outward, SentencesHoldTheWholeInterval) {
  EXPECT_EQ(shown(lowest({2.3279, "V"})), "2.32 V");
  EXPECT_EQ(shown(highest({2.6021, "V"})), "2.61 V");
  EXPECT_EQ(shown(highest({9.996, "V"})), "10 V");
  EXPECT_EQ(shown(lowest({11263.0, "ohm"})), "11.2 kohm");
  EXPECT_EQ(shown(highest({11263.0, "ohm"})), "11.3 kohm");
  EXPECT_EQ(shown(lowest({-0.01234, "V"})), "-12.4 mV");
  EXPECT_EQ(shown(highest({90.0, "s"})), "90 s");
  EXPECT_EQ(shown(lowest({0.0, "s"})), "0 s");
}

RC_GTEST_PROP(Outward, AnIntervalAsPrintedHoldsWhatItStandsFor, ()) {
  const double value = *rc::gen::inRange(-1000000000, 1000000000) / 1e5;
  const int decimals = *rc::gen::inRange(-2, 4);
  const double low = std::strtod(fixed(rounded_down(value, decimals), std::max(0, decimals)).c_str(), nullptr);
  const double high = std::strtod(fixed(rounded_up(value, decimals), std::max(0, decimals)).c_str(), nullptr);
  const double step = std::pow(10.0, -decimals), noise = 1e-9 * std::max(step, std::fabs(value)) + 1e-12;
  RC_ASSERT(low <= value + noise);
  RC_ASSERT(high >= value - noise);
  RC_ASSERT(high - low <= step + noise);
}

}  // namespace
}  // namespace zoneproof
