#include "site/unit.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace zoneproof::site {
namespace {

TEST(KeyUnit, IsReadFromTheEndOfTheKey) {
  EXPECT_EQ(unit_of_key("length_m")->name, "metres");
  EXPECT_EQ(unit_of_key("resistance_ohm_per_km")->suffix, "ohm_per_km");
  EXPECT_EQ(unit_of_key("insulation_Mohm_km")->suffix, "Mohm_km");
  EXPECT_EQ(unit_of_key("conductor_mm2")->symbol, "mm2");
  EXPECT_EQ(unit_of_key("detect_px_per_m")->symbol, "px/m");
  EXPECT_EQ(unit_of_key("view_patch_m2")->symbol, "m2");
  EXPECT_EQ(unit_of_key("peukert_exponent")->symbol, "");
  EXPECT_EQ(unit_of_key("arm"), std::nullopt) << "a word that ends in m is no length";
  EXPECT_EQ(stem_of_key("length_m"), "length");
  EXPECT_EQ(stem_of_key("name"), "name");
}

// Decision table: what somebody wrote as text, for which unit, and what it must have meant.
struct Written {
  const char* text;
  const char* unit;
  double number;
};

TEST(NumberInText, UnderstandsWhatPeopleWrite) {
  const Written table[] = {
      {"5600", "ohm", 5600}, {"5.6k", "ohm", 5600}, {"5k6", "ohm", 5600},  {"5.6 kohm", "ohm", 5600},
      {"4R7", "ohm", 4.7},   {"470R", "ohm", 470},  {"4M7", "ohm", 4.7e6}, {"5,6k", "ohm", 5600},
      {"12 V", "V", 12},     {"12V", "V", 12},      {"-0.5V", "V", -0.5},  {"120 mA", "A", 0.12},
      {"120mA", "A", 0.12},  {"0,4", "A", 0.4},     {"30 ft", "m", 9.144}, {"2.5 mm2", "mm2", 2.5},
      {" 20 m ", "m", 20},   {"5 %", "pct", 5},     {"25 °C", "degC", 25}, {"500 ms", "s", 0.5},
  };
  for (const Written& row : table) {
    const auto number = number_in_text(row.text, row.unit);
    ASSERT_TRUE(number.has_value()) << row.text;
    EXPECT_NEAR(*number, row.number, 1e-9 * std::abs(row.number)) << row.text;
  }
}

TEST(NumberInText, NeverGuesses) {
  EXPECT_EQ(number_in_text("about 5k", "ohm"), std::nullopt);
  EXPECT_EQ(number_in_text("1,200", "ohm"), std::nullopt) << "1.2 or 1200";
  EXPECT_TRUE(may_be_thousands("1,200", false));
  EXPECT_TRUE(may_be_thousands("1.200 ohm", true)) << "a table with a comma as decimal sign";
  EXPECT_FALSE(may_be_thousands("1.200", false));
  for (const char* sure : {"5,6", "5.60", "1200", "0.1234", "1234.567", "5k6", ""}) {
    EXPECT_FALSE(may_be_thousands(sure, true)) << sure;
  }
  EXPECT_EQ(number_in_text("12 A", "V"), std::nullopt) << "another quantity";
  EXPECT_EQ(number_in_text("5k6", "V"), std::nullopt);
  EXPECT_EQ(number_in_text("", "V"), std::nullopt);
  EXPECT_EQ(number_in_text("1.2.3", "V"), std::nullopt);
  EXPECT_EQ(number_in_text("5..6", "V"), std::nullopt);
}

TEST(ForeignUnit, KnowsTheFactorsByTheirDefinition) {
  // International foot and inch, 1959: exactly 0.3048 m and 25.4 mm.
  EXPECT_EQ(foreign_unit_of_key("length_ft")->factor, 0.3048);
  EXPECT_EQ(foreign_unit_of_key("length_in")->factor, 0.0254);
  EXPECT_EQ(foreign_unit_of_key("current_mA")->unit, "A");
  EXPECT_EQ(foreign_unit_of_key("length_m"), std::nullopt);
}

}  // namespace
}  // namespace zoneproof::site
