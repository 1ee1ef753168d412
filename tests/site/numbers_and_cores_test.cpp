// What the parts of a site have and what the site uses of it: cores, inputs, channels; and names that are told apart.
// The counts are made by hand from kSmallSite: its cable "run" has two cores, its panel eight inputs.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "base/file.hpp"
#include "base/json_text.hpp"
#include "site/cable_uses.hpp"
#include "site/file.hpp"
#include "small_site_json.hpp"

namespace zoneproof::site {
namespace {

using Json = nlohmann::ordered_json;
using testing::ElementsAre;
using testing::HasSubstr;

/// The only message about a site, and whether the site was taken all the same.
struct Told {
  Message message;
  bool taken;
};
Told only(const Json& site) {
  const ReadResult result = read_site(write_json(site), "brook.site.json");
  std::string all;
  for (const Message& message : result.messages) all += full_text(message) + "\n";
  EXPECT_EQ(result.messages.size(), 1U) << all;
  if (result.messages.empty()) return {};
  EXPECT_FALSE(remedy(result.messages.front()).empty());
  return {result.messages.front(), result.site.has_value()};
}

std::size_t problems(const Json& site) { return read_site(write_json(site), "brook.site.json").messages.size(); }

/// A pair is two conductors and a tapped terminal's wire a third: a cable of two cores does not hold them.
TEST(Cores, ACableOfTwoCoresHoldsNoThirdWire) {
  Json site = small_site_json();
  site["triggers"]["t1"]["cable"] = "run";
  const Told told = only(site);
  EXPECT_EQ(told.message.code, "site_cores_short");
  EXPECT_FALSE(told.taken);
  EXPECT_EQ(told.message.place.pointer, "/cables/run");
  EXPECT_THAT(text(told.message), HasSubstr("2 by its part"));
  EXPECT_THAT(text(told.message), HasSubstr("at least 3 are taken (supply of box_a: 2, trigger of Front door: 1)"));
  site["parts"]["two_core"]["cable"]["cores"] = 3;
  EXPECT_EQ(problems(site), 0U);
}

TEST(Cores, OfACableWhoseCoresNobodyCountedNothingIsSaid) {
  Json site = small_site_json();
  site["triggers"]["t1"]["cable"] = "run";
  site["parts"]["two_core"]["cable"].erase("cores");
  EXPECT_EQ(problems(site), 0U);
}

TEST(Cores, EveryKindOfUseIsCounted) {
  Json site = small_site_json();
  site["parts"]["two_core"]["cable"]["cores"] = 1;
  site["zones"]["door"]["loop"]["cable"] = "run";
  site["units"]["unit"]["arming"]["cable"] = "run";
  site["bonds"]["strap"].erase("resistance_ohm");
  site["bonds"]["strap"]["cable"] = "run";
  site["triggers"]["t1"]["cable"] = "run";
  // Two of the supply, one of the pair (its way back may be the minus), one each of arming, bond and tap.
  EXPECT_THAT(text(only(site).message),
              HasSubstr("at least 6 are taken (supply of box_a: 2, loop of Front door: 1, bond strap: 1, "
                        "arming of unit: 1, trigger of Front door: 1)"));
}

TEST(Cores, InParallelTheyCountAsOftenAsTheyAreJoined) {
  Json site = small_site_json();
  site["cables"]["run"]["cores_in_parallel"] = 2;
  EXPECT_THAT(text(only(site).message), HasSubstr("at least 4 are taken (supply of box_a: 4)"));
}

TEST(Cores, AScreenIsNoCore) {
  Json site = small_site_json();
  site["bonds"]["strap"].erase("resistance_ohm");
  site["bonds"]["strap"]["cable"] = "run";
  EXPECT_EQ(only(site).message.code, "site_cores_short");
  site["bonds"]["strap"]["kind"] = "coaxial_screen";
  EXPECT_EQ(problems(site), 0U);
}

/// Two loops that have one way back are three conductors; while the file does not say which way back they have, no
/// more than that is certain.
TEST(Cores, LoopsThatMayShareTheirWayBackAreRefusedOnlyWhereEvenThatIsTooMuch) {
  Json site = small_site_json();
  site["junctions"]["box_a"]["feed"]["cable"] = "none";
  site["zones"]["door"]["loop"]["cable"] = "run";
  site["zones"]["back"] = {{"panel", "panel"}, {"medium", "wired"}, {"input", 2}, {"loop", {{"cable", "run"}}}};
  EXPECT_THAT(text(only(site).message), HasSubstr("at least 3 are taken (loop of back: 2, loop of Front door: 1)"));
  site["parts"]["two_core"]["cable"]["cores"] = 3;
  const Told doubtful = only(site);
  EXPECT_EQ(doubtful.message.code, "site_cores_tight");
  EXPECT_TRUE(doubtful.taken) << "a warning";
  EXPECT_THAT(text(doubtful.message), HasSubstr("3 cores by its part, and 4 are taken"));
  for (const char* zone : {"door", "back"}) site["zones"][zone]["loop"]["shared_return"] = "common";
  site["shared_returns"]["common"] = {{"panel", "panel"}, {"cable", "run"}};
  EXPECT_EQ(problems(site), 0U);
  for (const char* zone : {"door", "back"}) site["zones"][zone]["loop"]["shared_return"] = "none";
  EXPECT_EQ(only(site).message.code, "site_cores_short") << "a way back of its own each: four";
}

/// A contact without potential needs a second core, which may be another contact's or one of the supply.
TEST(Cores, TheWayBackOfContactsMayBeShared) {
  Json site = small_site_json();
  site["parts"]["two_core"]["cable"]["cores"] = 4;
  site["parts"]["pir"]["detector"]["contacts"]["spare"] = {{"kind", "relay"}};
  site["zones"]["air"] = {{"number", 2}, {"name", "Air"}};
  site["triggers"]["t1"] = {{"zone", "door"},    {"source", "spare_contact"},
                            {"detector", "eye"}, {"contact", "alarm"},
                            {"unit", "unit"},    {"input", 1},
                            {"cable", "run"},    {"contact_to", "high"}};
  EXPECT_EQ(problems(site), 0U) << "supply and contact: four";
  site["triggers"]["t2"] = site["triggers"]["t1"];
  site["triggers"]["t2"]["zone"] = "air";
  site["triggers"]["t2"]["contact"] = "spare";
  site["triggers"]["t2"]["input"] = 2;
  EXPECT_EQ(only(site).message.code, "site_cores_tight") << "six, or four with a way back that is a supply core";
  site["parts"]["two_core"]["cable"]["cores"] = 5;
  for (const char* trigger : {"t1", "t2"}) site["triggers"][trigger]["return_core_colour"] = "BN";
  EXPECT_EQ(problems(site), 0U) << "the same core, by its colour";
  site["parts"]["two_core"]["cable"]["cores"] = 3;
  EXPECT_EQ(only(site).message.code, "site_cores_short");
}

TEST(Cores, WhatIsCertainIsNeverMoreThanWhatIsCounted) {
  for (const char* demo : {"kiln-yard", "kiln-yard-corrected", "saltmarsh", "tern-hollow"}) {
    const ReadResult read = load_site(std::string(ZONEPROOF_SOURCE_DIR "/data/demo/") + demo + ".site.json");
    ASSERT_TRUE(read.site) << demo;
    EXPECT_TRUE(read.messages.empty()) << demo << ": " << full_text(read.messages.front());
    for (const auto& [cable, uses] : cable_uses(*read.site)) {
      for (const CableUse& use : uses) EXPECT_LE(use.at_least, use.cores) << demo << " " << cable << " " << use.of;
    }
  }
}

TEST(Numbers, AUnitHasTheInputsAndChannelsOfItsPart) {
  Json site = small_site_json();
  site["parts"]["box"]["unit"]["inputs"] = 8;
  site["parts"]["box"]["unit"]["channels"] = 4;
  site["triggers"]["t1"]["input"] = 8;
  site["triggers"]["t1"]["channel"] = 4;
  EXPECT_EQ(problems(site), 0U);
  site["triggers"]["t1"]["input"] = 9;
  const Told input = only(site);
  EXPECT_EQ(input.message.code, "site_no_such_unit_input");
  EXPECT_FALSE(input.taken) << "no paper may send anybody there";
  EXPECT_EQ(input.message.place.pointer, "/triggers/t1/input");
  EXPECT_THAT(text(input.message), HasSubstr("\"unit\" has no input 9: its part box has 8"));
  site["triggers"]["t1"]["input"] = 1;
  site["triggers"]["t1"]["channel"] = 5;
  const Told channel = only(site);
  EXPECT_EQ(channel.message.code, "site_no_such_channel");
  EXPECT_EQ(channel.message.place.pointer, "/triggers/t1/channel");
  site["parts"]["box"]["unit"].erase("channels");
  EXPECT_EQ(problems(site), 0U) << "nobody knows how many it has";
}

TEST(Numbers, APanelHasTheWiredInputsOfItsPart) {
  Json site = small_site_json();
  site["triggers"]["t1"]["at_input"] = 9;
  const Told tap = only(site);
  EXPECT_EQ(tap.message.code, "site_no_such_panel_input");
  EXPECT_EQ(tap.message.place.pointer, "/triggers/t1/at_input");
  site["triggers"]["t1"]["at_input"] = 8;
  site["zones"]["back"] = {{"panel", "panel"}, {"input", 9}};
  const Told doubtful = only(site);
  EXPECT_EQ(doubtful.message.code, "site_panel_input_doubtful");
  EXPECT_TRUE(doubtful.taken) << "it may be wireless, whose numbers are no terminals";
  site["zones"]["back"]["medium"] = "wireless";
  EXPECT_EQ(problems(site), 0U);
  site["triggers"]["t1"]["at_input"] = 9;
  EXPECT_EQ(problems(site), 0U) << "that such a zone has no loop to tap is for the proof to say";
  site["triggers"]["t1"]["at_input"] = 8;
  site["zones"]["back"]["medium"] = "wired";
  const Told wired = only(site);
  EXPECT_EQ(wired.message.code, "site_no_such_panel_input");
  EXPECT_EQ(wired.message.place.pointer, "/zones/back/input");
  EXPECT_FALSE(wired.taken);
}

TEST(Numbers, OneInputOfAPanelForTwoZonesThatMayBeWiredIsAWarning) {
  Json site = small_site_json();
  site["zones"]["back"] = {{"panel", "panel"}, {"input", 1}};
  EXPECT_EQ(only(site).message.code, "site_zone_input_doubtful");
  EXPECT_TRUE(only(site).taken);
  site["zones"]["back"]["medium"] = "addressable";
  EXPECT_EQ(problems(site), 0U);
}

TEST(Numbers, TheWiresOfTwoZonesOnOneInputOfAUnitAreAWarning) {
  Json site = small_site_json();
  site["triggers"]["t2"] = {{"zone", "air"}, {"unit", "unit"}, {"input", 1}};
  const Told told = only(site);
  EXPECT_EQ(told.message.code, "site_unit_input_twice");
  EXPECT_TRUE(told.taken) << "the chain is broken by it, and papers say so";
  EXPECT_THAT(text(told.message), HasSubstr("Front door"));
  site["triggers"]["t2"]["zone"] = "door";
  EXPECT_EQ(problems(site), 0U) << "of one zone they may be one wire";
  site["triggers"]["t2"].erase("zone");
  EXPECT_EQ(problems(site), 0U) << "of which zone is not known: perhaps of this one";
}

TEST(Names, OneNameForTwoZonesOfAPanelIsAWarningThatTellsBoth) {
  Json site = small_site_json();
  site["zones"]["back"] = {{"panel", "panel"}, {"name", "Front door"}, {"number", 7}};
  const Told told = only(site);
  EXPECT_EQ(told.message.code, "site_zone_name_twice");
  EXPECT_TRUE(told.taken);
  EXPECT_THAT(text(told.message), HasSubstr("\"Front door\""));
  EXPECT_THAT(text(told.message), HasSubstr("zone 7"));
  EXPECT_THAT(text(told.message), HasSubstr("zone 1"));
  site["panels"]["other"] = {{"part", "old_panel"}};
  site["zones"]["back"]["panel"] = "other";
  EXPECT_EQ(problems(site), 0U);
  for (const char* zone : {"back", "door"}) site["zones"][zone].erase("panel");
  EXPECT_EQ(problems(site), 0U) << "two panels that nobody named are not one";
}

/// A list that is cut off stays what it is of: a thousand warnings refuse no file.
TEST(Names, AThousandWarningsAreListedInPartAndRefuseNothing) {
  Json site = small_site_json();
  for (int i = 0; i < 1000; ++i) site["zones"]["z" + std::to_string(i)] = {{"panel", "panel"}, {"name", "Front door"}};
  const ReadResult result = read_site(write_json(site), "x");
  EXPECT_TRUE(result.site.has_value());
  ASSERT_EQ(result.messages.size(), 26U);
  EXPECT_EQ(result.messages.back().code, "site_and_more_warnings");
}

}  // namespace
}  // namespace zoneproof::site
