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
  EXPECT_EQ(unit_of_key("uplink_Mbps")->symbol, "Mbit/s");
  EXPECT_EQ(unit_of_key("stream_kbps")->symbol, "kbit/s");
  EXPECT_EQ(unit_of_key("rate_bps")->symbol, "bit/s");
  EXPECT_EQ(unit_of_key("picture_kbit")->symbol, "kbit");
  EXPECT_EQ(unit_of_key("picture_kB")->symbol, "kB");
  EXPECT_EQ(unit_of_key("disc_GB")->symbol, "GB");
  EXPECT_EQ(unit_of_key("energy_Wh")->symbol, "W h");
  EXPECT_EQ(unit_of_key("walking_mps")->symbol, "m/s");
  EXPECT_EQ(unit_of_key("stream_fps")->symbol, "1/s");
  EXPECT_EQ(unit_of_key("retention_d")->symbol, "d");
  EXPECT_EQ(unit_of_key("load_W")->symbol, "W");
  EXPECT_EQ(unit_of_key("id"), std::nullopt) << "a word that ends in d is no number of days";
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
      {"5600", "ohm", 5600},
      {"5.6k", "ohm", 5600},
      {"5k6", "ohm", 5600},
      {"5.6 kohm", "ohm", 5600},
      {"4R7", "ohm", 4.7},
      {"470R", "ohm", 470},
      {"4M7", "ohm", 4.7e6},
      {"5,6k", "ohm", 5600},
      {"12 V", "V", 12},
      {"12V", "V", 12},
      {"-0.5V", "V", -0.5},
      {"120 mA", "A", 0.12},
      {"120mA", "A", 0.12},
      {"0,4", "A", 0.4},
      {"30 ft", "m", 9.144},
      {"2.5 mm2", "mm2", 2.5},
      {"8 Mbit/s", "Mbps", 8},
      {"8 Mbps", "Mbps", 8},
      {"512 kbps", "Mbps", 0.512},
      {"8 Mbit/s", "bps", 8e6},
      {"2 MB", "kB", 2000},
      {"500 MB", "GB", 0.5},
      {"4 TB", "GB", 4000},
      {"1 GiB", "GB", 1.073741824},
      {"30 days", "d", 30},
      {"2 weeks", "d", 14},
      {"48 h", "d", 2},
      {"1.2 kWh", "Wh", 1200},
      {"1.5 m/s", "mps", 1.5},
      {"36 kmph", "mps", 10},
      {" 20 m ", "m", 20},
      {"5 %", "pct", 5},
      {"25 °C", "degC", 25},
      {"500 ms", "s", 0.5},
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
  EXPECT_EQ(number_in_text("10 M", "Mbps"), std::nullopt) << "ten or ten million of them";
  EXPECT_EQ(number_in_text("5 m", "mm"), std::nullopt) << "metres or millimetres";
  EXPECT_EQ(number_in_text("5k6", "V"), std::nullopt);
  EXPECT_EQ(number_in_text("", "V"), std::nullopt);
  EXPECT_EQ(number_in_text("1.2.3", "V"), std::nullopt);
  EXPECT_EQ(number_in_text("5..6", "V"), std::nullopt);
}

TEST(ForeignUnit, KnowsTheFactorsByTheirDefinition) {
  // International foot and inch, 1959: exactly 0.3048 m and 25.4 mm.
  EXPECT_EQ(foreign_units_of_key("length_ft").at(0).factor, 0.3048);
  EXPECT_EQ(foreign_units_of_key("length_in").at(0).factor, 0.0254);
  EXPECT_EQ(foreign_units_of_key("current_mA").at(0).unit, "A");
  EXPECT_TRUE(foreign_units_of_key("length_m").empty());
  // International mile, 1959: 1609.344 m; IEC 80000-13: 1 KiB = 1024 bytes.
  EXPECT_DOUBLE_EQ(foreign_units_of_key("speed_mph").at(0).factor, 1609.344 / 3600);
  EXPECT_DOUBLE_EQ(foreign_units_of_key("disc_GiB").at(0).factor, 1024.0 * 1024 * 1024 / 1e9);
  EXPECT_DOUBLE_EQ(foreign_units_of_key("disc_TiB").at(0).factor, 1024.0 * 1024 * 1024 * 1024 / 1e9);
  for (const ForeignUnit& megabytes : foreign_units_of_key("picture_MiB")) {
    EXPECT_DOUBLE_EQ(megabytes.factor, 1024.0 * 1024 / (megabytes.unit == "GB" ? 1e9 : 1e3));
  }
}

}  // namespace
}  // namespace zoneproof::site
