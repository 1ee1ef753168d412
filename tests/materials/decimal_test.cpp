#include "materials/decimal.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace zoneproof::materials {
namespace {

TEST(ADecimal, IsWhatStandsThereAndNothingElse) {
  EXPECT_EQ(decimal_of("12.50"), (Decimal{1250, 2}));
  EXPECT_EQ(decimal_of("0.000001"), (Decimal{1, 6}));
  EXPECT_EQ(decimal_of("007"), (Decimal{7, 0}));
  EXPECT_EQ(decimal_of("12,50", ','), (Decimal{1250, 2}));
  EXPECT_EQ(decimal_of("999999999999999"), (Decimal{999'999'999'999'999, 0}));
  for (const char* text : {"", ".", "5.", ".5", "-1", "+1", "1e3", " 1", "1 ", "1,250.00", "0.0000001", "1.2.3", "x",
                           "1000000000000000", "0x10", "١"})
    EXPECT_FALSE(decimal_of(text).has_value()) << text;
}

// Half away from zero, as commercial rounding has it (DIN 1333, rounding half up of amounts that are not negative).
TEST(ADecimal, IsRoundedHalfAwayFromZero) {
  EXPECT_EQ(rounded({25, 1}, 0), (Decimal{3, 0}));
  EXPECT_EQ(rounded({35, 1}, 0), (Decimal{4, 0}));
  EXPECT_EQ(rounded({24, 1}, 0), (Decimal{2, 0}));
  EXPECT_EQ(rounded({2675, 3}, 2), (Decimal{268, 2})) << "a binary 2.675 is less than that and would give 2.67";
  EXPECT_EQ(rounded({5, 6}, 2), (Decimal{0, 2}));
  EXPECT_EQ(rounded({12, 1}, 4), (Decimal{12, 1}));
}

TEST(ADecimal, OfABinaryNumberIsTheShortestThatReadsBackAsIt) {
  EXPECT_EQ(decimal_of(0.1), (Decimal{1, 1}));
  EXPECT_EQ(decimal_of(34.0), (Decimal{34, 0}));
  EXPECT_EQ(decimal_of(1e-9), (Decimal{0, 6}));
  EXPECT_EQ(decimal_of(0.1 + 0.2), (Decimal{300000, 6}));
  EXPECT_FALSE(decimal_of(-1.0).has_value());
  EXPECT_FALSE(decimal_of(std::nan("")).has_value());
  EXPECT_FALSE(decimal_of(1e15).has_value());
}

RC_GTEST_PROP(AProduct, IsThatOfWholeNumbersRoundedOnce, ()) {
  // Small enough for 64 bits, so that plain whole numbers tell the truth.
  const auto a = *rc::gen::inRange<std::int64_t>(0, 1'000'000), b = *rc::gen::inRange<std::int64_t>(0, 1'000'000);
  const int pa = *rc::gen::inRange(0, 4), pb = *rc::gen::inRange(0, 4), places = *rc::gen::inRange(0, 4);
  std::int64_t expected = a * b;
  for (int i = pa + pb; i < places; ++i) expected *= 10;
  std::int64_t unit = 1;
  for (int i = places; i < pa + pb; ++i) unit *= 10;
  expected = (expected + unit / 2) / unit;
  RC_ASSERT(product({a, pa}, {b, pb}, places) == expected);
}

TEST(AProduct, OfTheLargestAmountsIsExactOrRefused) {
  // 999999999.999999 * 999999.999999 = 999999999999998.998999... : fifteen digits before the point.
  EXPECT_EQ(product({999'999'999'999'999, 6}, {999'999'999'999, 6}, 0), 999'999'999'998'999);
  EXPECT_FALSE(product({999'999'999'999'999, 0}, {999'999'999'999'999, 0}, 0).has_value());
  EXPECT_EQ(product({999'999'999'999'999, 6}, {0, 0}, 2), 0);
}

TEST(AnAmount, IsShownWithAllItsPlaces) {
  EXPECT_EQ(amount_text(125000, 2), "1250.00");
  EXPECT_EQ(amount_text(5, 2), "0.05");
  EXPECT_EQ(amount_text(0, 3), "0.000");
  EXPECT_EQ(amount_text(7, 0), "7");
  EXPECT_EQ(text(Decimal{1250, 2}), "12.5");
  EXPECT_EQ(text(Decimal{1200, 2}), "12");
}

}  // namespace
}  // namespace zoneproof::materials
