#include "materials/decimal_sign.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace zoneproof::materials {
namespace {

DecimalSigns signs_of(const std::vector<const char*>& numbers) {
  DecimalSigns signs;
  int line = 2;
  for (const char* number : numbers) signs.see(number, line++);
  return signs;
}

std::string read(const DecimalSigns& signs, const char* number) {
  if (signs.stays_open(number)) return "open";
  const auto value = signs.value_of(number);
  return value ? text(*value) : "none";
}

// How numbers are set apart: ISO 80000-1, 7.3 (from memory): groups of three, point or comma as the decimal sign, a
// zero before it where the number is below one.
TEST(ANumber, ShowsItsDecimalSignByItselfWhereNoGroupOfThreeCanBeMeant) {
  const DecimalSigns none;
  EXPECT_EQ(read(none, "1250"), "1250");
  EXPECT_EQ(read(none, "18,40"), "18.4");
  EXPECT_EQ(read(none, "0,385"), "0.385") << "no thousands begin with 0";
  EXPECT_EQ(read(none, "0.385"), "0.385");
  EXPECT_EQ(read(none, "1250,125"), "1250.125") << "four digits before it are no group";
  EXPECT_EQ(read(none, "1.250,00"), "1250");
  EXPECT_EQ(read(none, "1,250,000.5"), "1250000.5");
  EXPECT_EQ(read(none, "1.250.000"), "1250000");
}

TEST(ANumberWithThreeDigitsBehindItsOnlySign, IsOpenUntilTheListShowsTheSign) {
  EXPECT_EQ(read(signs_of({"12", "1.250", "62,125"}), "1.250"), "open") << "the others are open too";
  EXPECT_EQ(read(signs_of({"0,45"}), "1,250"), "1.25");
  EXPECT_EQ(read(signs_of({"0,45"}), "1.250"), "1250");
  EXPECT_EQ(read(signs_of({"0.45"}), "1.250"), "1.25");
  EXPECT_EQ(read(signs_of({"0.45"}), "1,250"), "1250");
  EXPECT_EQ(read(signs_of({"1.250.000"}), "1,250"), "1.25") << "a mark between groups leaves the other as the sign";
  EXPECT_EQ(read(signs_of({"0.45", "0,45"}), "1.250"), "open") << "a list of two minds shows nothing";
  EXPECT_EQ(read_as_thousands("1.250"), (Decimal{1250, 0}));
  EXPECT_EQ(read_as_decimal("1,250"), (Decimal{1250, 3}));
}

TEST(WhatIsNoNumber, HasNoValueAndShowsNothing) {
  const std::vector<const char*> wrong = {"",          ".",      ",5",      "5,",  "1.25.0",    "1,25,000",
                                          "0.250.000", "-1",     "1 250",   "1e3", "1.250,0.5", "1250.000,5",
                                          "x",         "1..2",   "1'250",   "١٢",  "1,,250",    "12.345,",
                                          ".250.000",  "1.250.", "1.250.00"};
  const DecimalSigns signs = signs_of(wrong);
  for (const char* one : wrong) EXPECT_EQ(read(signs, one), "none") << one;
  EXPECT_EQ(signs.line_with_point(), 0);
  EXPECT_EQ(signs.line_with_comma(), 0);
}

}  // namespace
}  // namespace zoneproof::materials
