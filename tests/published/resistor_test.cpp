#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>
#include <string>

#include "published/shelf_data.hpp"

// The shelf's resistors against the preferred numbers of IEC 60063 and the marking of IEC 60062.
namespace zoneproof::published {
namespace {

const std::string resistors = "parts/resistors.json";

// IEC 60063, series E12 and E24: tables, not a formula.
const std::set<int> e12 = {10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82};
const std::set<int> e24 = {10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30,
                           33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91};
// IEC 60063, series E96.
const std::set<int> e96 = {100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130, 133, 137, 140, 143,
                           147, 150, 154, 158, 162, 165, 169, 174, 178, 182, 187, 191, 196, 200, 205, 210,
                           215, 221, 226, 232, 237, 243, 249, 255, 261, 267, 274, 280, 287, 294, 301, 309,
                           316, 324, 332, 340, 348, 357, 365, 374, 383, 392, 402, 412, 422, 432, 442, 453,
                           464, 475, 487, 499, 511, 523, 536, 549, 562, 576, 590, 604, 619, 634, 649, 665,
                           681, 698, 715, 732, 750, 768, 787, 806, 825, 845, 866, 887, 909, 931, 953, 976};

double ohms(const std::string& id) { return figure(resistors, "/parts/" + id + "/resistor/resistance_ohm").nominal; }

/// The leading `digits` digits of a value that has no more of them.
int mantissa(double value, int digits) {
  const double scaled = value / std::pow(10.0, std::floor(std::log10(value) + 1e-9) - (digits - 1));
  EXPECT_NEAR(scaled, std::round(scaled), 1e-6) << value;
  return static_cast<int>(std::lround(scaled));
}

std::set<std::string> of_source(const std::string& part_of_source) {
  std::set<std::string> ids;
  for (const std::string& id : keys(resistors, "/parts")) {
    if (text(resistors, "/parts/" + id + "/source").find(part_of_source) != std::string::npos) ids.insert(id);
  }
  return ids;
}

TEST(Resistors, FivePercentOnesAreTheWholeSeriesE24OverFourDecades) {
  std::set<int> mantissas;
  const std::set<std::string> ids = of_source("series E24, 5 %");
  for (const std::string& id : ids) mantissas.insert(mantissa(ohms(id), 2));
  EXPECT_EQ(mantissas, e24);
  std::set<double> values;
  for (const std::string& id : ids) values.insert(ohms(id));
  EXPECT_EQ(values.size(), 4 * e24.size() + 1);  // 100 ohm to 910 kohm, and 1 Mohm, each once
  EXPECT_EQ(ids.size(), values.size());
  EXPECT_DOUBLE_EQ(*values.begin(), 100.0);
  EXPECT_DOUBLE_EQ(*values.rbegin(), 1e6);
  for (const int value : e12) EXPECT_TRUE(mantissas.contains(value)) << value;
}

TEST(Resistors, SeriesE24IsNotTheRoundedFormula) {
  // round(10 * 10^(i/24)) gives 26 29 32 35 38 42 46 83 where the standard has 27 30 33 36 39 43 47 82.
  std::set<int> differing;
  for (int i = 0; i < 24; ++i) {
    const int formula = static_cast<int>(std::lround(10.0 * std::pow(10.0, i / 24.0)));
    if (!e24.contains(formula)) differing.insert(formula);
  }
  EXPECT_THAT(differing, testing::ElementsAre(26, 29, 32, 35, 38, 42, 46, 83));
  for (const std::string& id : of_source("E24")) EXPECT_FALSE(differing.contains(mantissa(ohms(id), 2))) << id;
}

TEST(Resistors, OnePercentOnesOfSeriesE96AreInItsTable) {
  const std::set<std::string> ids = of_source("series E96");
  ASSERT_FALSE(ids.empty());
  for (const std::string& id : ids) EXPECT_TRUE(e96.contains(mantissa(ohms(id), 3))) << id;
  for (const char* id : {"resistor_2k21_1pct", "resistor_4k75_1pct", "resistor_5k62_1pct"})
    EXPECT_TRUE(ids.contains(id));
}

TEST(Resistors, SeriesE96IsExactlyTheRoundedFormula) {
  // tools/make_parts.py makes the shelf's values by this formula: it must give the standard's table without exception.
  std::set<int> formula;
  for (int i = 0; i < 96; ++i) formula.insert(static_cast<int>(std::lround(100.0 * std::pow(10.0, i / 96.0))));
  EXPECT_EQ(formula, e96);
}

TEST(Resistors, ToleranceIsThatOfTheSeries) {
  // IEC 60063: E24 5 %, E96 1 %.
  for (const std::string& id : keys(resistors, "/parts")) {
    const Figure value = figure(resistors, "/parts/" + id + "/resistor/resistance_ohm");
    const bool one_percent = id.ends_with("_1pct");
    EXPECT_NEAR(value.high / value.nominal, one_percent ? 1.01 : 1.05, 1e-9) << id;
    EXPECT_NEAR(value.low / value.nominal, one_percent ? 0.99 : 0.95, 1e-9) << id;
  }
}

TEST(Resistors, IdsCarryTheMarkingOfIec60062) {
  // IEC 60062 letter code: 470R, 4K7, 47K5, 1M; the letter stands where the point would. Ids have small letters.
  for (const std::string& id : keys(resistors, "/parts")) {
    std::string code = id.substr(9, id.rfind('_') - 9);
    const std::size_t letter = code.find_first_of("rkm");
    ASSERT_NE(letter, std::string::npos) << id;
    const double scale = code[letter] == 'k' ? 1e3 : code[letter] == 'm' ? 1e6 : 1.0;
    code[letter] = '.';
    EXPECT_NEAR(std::stod(code) * scale, ohms(id), 1e-9) << id;
  }
  EXPECT_DOUBLE_EQ(ohms("resistor_470r_5pct"), 470.0);
  EXPECT_DOUBLE_EQ(ohms("resistor_4k7_5pct"), 4700.0);
  EXPECT_DOUBLE_EQ(ohms("resistor_470k_5pct"), 470e3);
  EXPECT_DOUBLE_EQ(ohms("resistor_1m_5pct"), 1e6);
  EXPECT_EQ(text(resistors, "/parts/resistor_1m_5pct/name"), "Resistor, 1M, 5 %");
}

}  // namespace
}  // namespace zoneproof::published
