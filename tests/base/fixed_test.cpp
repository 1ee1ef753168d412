#include "base/fixed.hpp"

#include <gtest/gtest.h>

#include <rapidcheck/gtest.h>
#include <cmath>
#include <cstdlib>

namespace zoneproof {
namespace {

TEST(Fixed, KeepsZerosAndGivesNothingASign) {
  EXPECT_EQ(fixed(4.62, 3), "4.620");
  EXPECT_EQ(fixed(-0.0004, 3), "0.000");
  EXPECT_EQ(fixed(-0.0006, 3), "-0.001");
  EXPECT_EQ(fixed(-0.4, 0), "0");
  EXPECT_EQ(fixed(12.0, 0), "12");
  EXPECT_EQ(fixed(std::nan(""), 3), "?");
  EXPECT_EQ(fixed(HUGE_VAL, 3), "?");
}

TEST(Fixed, SignificantDigitsLoseNeedlessZerosOnly) {
  EXPECT_EQ(significant(5600.0, 2), "5600");
  EXPECT_EQ(significant(0.002311, 3), "0.00231");
  EXPECT_EQ(significant(99.96, 3), "100");
  EXPECT_EQ(significant(10.0, 3), "10");
  EXPECT_EQ(significant(0.0, 3), "0");
}

RC_GTEST_PROP(Fixed, IsTheNearestOfItsDecimals, ()) {
  const double value = *rc::gen::inRange(-1000000000, 1000000000) / 1e5;
  const int decimals = *rc::gen::inRange(0, 6);
  RC_ASSERT(std::fabs(std::strtod(fixed(value, decimals).c_str(), nullptr) - value) <=
            0.5 * std::pow(10.0, -decimals) + 1e-9);
}

}  // namespace
}  // namespace zoneproof
