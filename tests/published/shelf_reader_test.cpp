#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstddef>
#include <string>

#include "base/embedded.hpp"
#include "published/shelf_data.hpp"
#include "site/shelf.hpp"

// The program's own reader against the files as they lie: nothing may be lost, changed or even remarked upon on the way
// from data/ into the program.
namespace zoneproof::published {
namespace {

TEST(ShelfReader, TakesEveryFileWithoutAWord) {
  for (const EmbeddedFile& file : embedded_files()) {
    const std::string path(file.path);
    if (path.starts_with("parts/")) {
      for (const Message& message : site::read_parts(file.bytes, path).messages) ADD_FAILURE() << full_text(message);
    } else if (path.starts_with("rulebooks/")) {
      for (const Message& message : site::read_rulebook(file.bytes, path).messages) ADD_FAILURE() << full_text(message);
    }
  }
}

TEST(ShelfReader, HasAllPartsAndAllRulebooks) {
  std::size_t parts = 0;
  for (const std::string& file : shelf_files("parts")) {
    for (const std::string& id : keys(file, "/parts")) {
      ++parts;
      const auto found = site::parts_shelf().find(id);
      ASSERT_NE(found, site::parts_shelf().end()) << id;
      EXPECT_EQ(found->second.name, text(file, "/parts/" + id + "/name"));
      EXPECT_EQ(found->second.shelf_version, "2026.3") << id;
    }
  }
  EXPECT_EQ(site::parts_shelf().size(), parts);
  EXPECT_EQ(site::rulebook_shelf().size(), shelf_files("rulebooks").size());
}

TEST(ShelfReader, KeepsRangesAndOrigins) {
  const std::string file = "parts/cables.json";
  for (const std::string& id : keys(file, "/parts")) {
    const Figure written = figure(file, "/parts/" + id + "/cable/resistance_ohm_per_km");
    const site::Value& read = site::parts_shelf().at(id).cable->resistance_ohm_per_km;
    EXPECT_DOUBLE_EQ(read.low, written.low) << id;
    EXPECT_DOUBLE_EQ(read.nominal, written.nominal) << id;
    EXPECT_DOUBLE_EQ(read.high, written.high) << id;
    EXPECT_DOUBLE_EQ(read.tempco_ppm_K.value_or(0.0), written.tempco_ppm_K) << id;
  }
  EXPECT_EQ(site::parts_shelf().at("alarm_6x0_22").cable->resistance_ohm_per_km.origin, site::Origin::standard);
  EXPECT_EQ(site::parts_shelf().at("alarm_6x0_22_clad").cable->resistance_ohm_per_km.origin, site::Origin::typical);
  EXPECT_EQ(site::parts_shelf().at("terminal_cp01_pu680r").zone_terminal->pullup_ohm.origin, site::Origin::typical);
  EXPECT_EQ(site::parts_shelf().at("unit_8_ranges_1m").unit->power_W.origin, site::Origin::data_sheet);
}

TEST(ShelfReader, FindsTheStandbyTimeOfTheGradeAndNothingWithoutOne) {
  site::Site yard;
  yard.rulebook.book.id = "european_intruder";
  yard.rulebooks["european_intruder"] = site::rulebook_for_site("european_intruder").value();
  EXPECT_EQ(site::rule(yard, "standby_h"), nullptr);
  yard.rulebook.grade.value = 3;
  ASSERT_NE(site::rule(yard, "standby_h"), nullptr);
  EXPECT_DOUBLE_EQ(site::rule(yard, "standby_h")->value.nominal, 60.0);
}

}  // namespace
}  // namespace zoneproof::published
