#include "handover/settings_sheet.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fmt/format.h>

#include "drawing/specimen.hpp"
#include "handover/demo_site.hpp"
#include "paper/found_on_pages.hpp"
#include "results/proof.hpp"

namespace zoneproof::handover {
namespace {

using paper::Blank;
using paper::Table;

std::map<std::string, std::string> input_row(const site::Site& site, const std::string& trigger,
                                             const proof::Proof& proof = {}) {
  const Table inputs = settings_tables(site, proof).at(0);
  for (const paper::Group& group : inputs.groups)
    for (const paper::Row& row : group.rows) {
      if (row.id != "input-" + trigger) continue;
      std::map<std::string, std::string> told;
      for (std::size_t i = 0; i < row.cells.size(); ++i)
        told[inputs.columns[i].id] = std::holds_alternative<Blank>(row.cells[i]) ? "____"
                                     : std::holds_alternative<paper::Tick>(row.cells[i])
                                         ? "[]"
                                         : words_of(row.cells[i], inputs.columns[i]);
      return told;
    }
  return {};
}

TEST(SettingsSheet, SaysOfAnInputWhatTheSiteFileSays) {
  const auto told = input_row(demo_site("saltmarsh"), "t1");
  EXPECT_EQ(told.at("input"), "1");
  EXPECT_EQ(told.at("zone_number"), "1");
  EXPECT_EQ(told.at("zone_name"), "Main entrance");
  EXPECT_EQ(told.at("type"), "entry and exit");
  EXPECT_EQ(told.at("normal_min"), "1.3");
  EXPECT_EQ(told.at("normal_max"), "2.9");
  EXPECT_EQ(told.at("alarm_min"), "");
  EXPECT_EQ(told.at("sense"), "outside of normal");
  EXPECT_EQ(told.at("channel"), "1");
}

TEST(SettingsSheet, TellsAnInputThatIsActedOnWhileDisarmedToo) {
  EXPECT_EQ(input_row(demo_site("saltmarsh"), "t16").at("sense"), "above 3 V, at any hour (also disarmed)");
}

/// What is alarm, by what is set: rows of a decision table.
TEST(SettingsSheet, TellsWhatIsAlarm) {
  using site::Value;
  const Value open = Value::absent();
  const auto volts = [](double value) { return Value::exactly(value, site::Origin::data_sheet); };
  struct Case {
    Value normal_min, normal_max, alarm_min, alarm_max;
    const char* sense;
  };
  const Case cases[] = {{volts(1.3), volts(2.9), {}, {}, "outside of normal"},
                        {open, volts(2.9), {}, {}, "above 2.9 V"},
                        {volts(1.3), open, {}, {}, "below 1.3 V"},
                        {volts(1.3), volts(2.9), volts(4.0), open, "the alarm range"},
                        {{}, volts(2.9), {}, {}, "____"},
                        {volts(1.3), {}, {}, {}, "____"},
                        {open, open, {}, {}, "____"}};
  for (const Case& one : cases) {
    site::Site site = demo_site("saltmarsh");
    site::InputSetting& setting = site.triggers.at("t1").setting;
    setting.normal_min_V = one.normal_min;
    setting.normal_max_V = one.normal_max;
    setting.alarm_min_V = one.alarm_min;
    setting.alarm_max_V = one.alarm_max;
    EXPECT_EQ(input_row(site, "t1").at("sense"), one.sense);
  }
}

TEST(SettingsSheet, WhatTheSiteFileDoesNotSayIsABlank) {
  site::Site site = demo_site("saltmarsh");
  site.triggers.at("t1").setting = {};
  const auto told = input_row(site, "t1");
  for (const char* column : {"zone_number", "zone_name", "type", "normal_min", "normal_max", "sense"})
    EXPECT_EQ(told.at(column), "____") << column;
}

TEST(SettingsSheet, ChannelsForLiveViewOnlyAreToldApart) {
  const site::Site site = demo_site("saltmarsh");
  const Table channels = settings_tables(site, {}).at(1);
  long long live = 0, told = 0;
  for (const auto& entry : site.channels) live += entry.second.live_only.yes();
  for (const paper::Group& group : channels.groups)
    for (const paper::Row& row : group.rows)
      for (std::size_t i = 0; i < row.cells.size(); ++i)
        told += words_of(row.cells[i], channels.columns[i]) == "live view only";
  EXPECT_GT(live, 0);
  EXPECT_EQ(told, live);
}

/// Nobody's address is not the address of a camera that nobody knows.
TEST(SettingsSheet, AnAddressOfAnUnknownDeviceIsNotThatOfAnUnknownCamera) {
  site::Site site = demo_site("kiln-yard");
  site.addresses.begin()->second.device = {};
  site.addresses.begin()->second.address = "192.0.2.77";
  for (auto& entry : site.channels) entry.second.camera = entry.second.recorder = {};
  for (const Table& table : settings_tables(site, {}))
    for (const paper::Group& group : table.groups)
      for (const paper::Row& row : group.rows)
        for (std::size_t i = 0; i < row.cells.size(); ++i)
          if (!std::holds_alternative<Blank>(row.cells[i])) {
            EXPECT_EQ(words_of(row.cells[i], table.columns[i]).find("192.0.2.77"), std::string::npos);
          }
}

/// The demonstration has its mistakes: input 5 is set to 5 V to 7 V, and rest reads half of that.
TEST(SettingsSheet, WhatTheProofBreaksIsMarkedAndHasNoBoxToTick) {
  const site::Site site = demo_site("kiln-yard");
  const proof::Proof proof = results::proof_of(site, "", {});
  std::map<std::string, std::pair<std::string, std::string>> told;
  for (const auto& entry : site.triggers) {
    const auto row = input_row(site, entry.first, proof);
    told[row.at("input")] = {row.at("proof"), row.at("typed")};
  }
  EXPECT_EQ(told.at("5"), std::pair(std::string("broken: see the summary"), std::string()));
  EXPECT_EQ(told.at("7"), std::pair(std::string("thin: see the summary"), std::string("[]")));
  for (const char* input : {"1", "2", "3", "4", "6", "8"})
    EXPECT_EQ(told.at(input), std::pair(std::string("proven"), std::string("[]"))) << input;
}

TEST(SettingsSheet, InputsThatNothingIsOnAreTold) {
  site::Site site = demo_site("saltmarsh");
  const auto notes = [&] {
    std::string all;
    for (const paper::Block& block : settings_sheet(site, {}).blocks)
      if (const auto* table = std::get_if<Table>(&block))
        if (table->id == "inputs-of-unit_plant")
          for (const std::string& note : table->notes) all += note;
    return all;
  };
  const std::string before = notes();
  site.triggers.erase("t10");  // input 2 of the plant unit
  EXPECT_THAT(notes(), testing::HasSubstr("2"));
  EXPECT_NE(notes(), before);
  site.triggers.at("t1").unit = {};  // its wire may be on that input: nobody switches that off
  EXPECT_EQ(notes(), "");
}

// "Tick what is typed in": every setting has its box, and what the cameras send is told.
TEST(SettingsSheet, HasABoxForEverySettingAndTheStreamsOfTheCameras) {
  std::size_t boxes = 0, streams = 0;
  const site::Site site = demo_site("kiln-yard");
  for (const paper::Block& block : settings_sheet(site, {}).blocks) {
    const auto* table = std::get_if<Table>(&block);
    if (table == nullptr) continue;
    for (const paper::Row& row : table->groups.front().rows) {
      if (table->id.starts_with("general-of-")) boxes += std::holds_alternative<paper::Tick>(row.cells.back()) ? 1 : 0;
      if (table->id.starts_with("cameras-of-"))
        streams += std::holds_alternative<paper::Tick>(row.cells.back()) ? 1 : 0;
    }
  }
  EXPECT_GT(boxes, 8U);
  EXPECT_EQ(streams, 5U) << "five cameras, each with one stream";
}

/// The site file has no place for a secret; nothing that looks like one may come to paper by way of a field for it.
TEST(SettingsSheet, HasNoFieldForASecret) {
  const site::Site site = demo_site("saltmarsh");
  for (const paper::Block& block : settings_sheet(site, {}).blocks) {
    const auto* values = std::get_if<Table>(&block);
    if (values == nullptr || !values->id.starts_with("general-of-")) continue;
    int passwords = 0;
    for (const paper::Row& row : values->groups.front().rows) {
      const std::string& name = std::get<paper::Words>(row.cells.at(0)).says;
      const paper::Cell& value = row.cells.at(1);
      if (name.find("assword") == std::string::npos && name.find("ode") == std::string::npos) continue;
      ++passwords;
      ASSERT_TRUE(std::holds_alternative<paper::Words>(value));  // no blank: nobody is asked to write one down
      EXPECT_EQ(std::get<paper::Words>(value).says, "never on this sheet");
      EXPECT_FALSE(std::holds_alternative<paper::Tick>(row.cells.at(2)));
    }
    EXPECT_EQ(passwords, 1);
  }
}

}  // namespace
}  // namespace zoneproof::handover
