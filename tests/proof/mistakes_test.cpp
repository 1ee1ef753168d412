// Mistakes that no scenario makes: each breaks the link that it breaks in the building, or is refused when it is read.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "electric/answers.hpp"
#include "proof/demo.hpp"
#include "proof/pairing.hpp"
#include "site/file.hpp"

namespace zoneproof::proof {
namespace {

using Json = nlohmann::ordered_json;
using Pointer = Json::json_pointer;

site::Site with(const char* file, const std::vector<std::pair<const char*, Json>>& edits) {
  Json json = demo::json(file);
  for (const auto& [pointer, value] : edits) json[Pointer(pointer)] = value;
  return demo::site_of(json.dump(), file);
}

/// The evidence of one check of one zone; fails the test where there is none.
chain::Evidence electrical(const site::Site& site, const std::string& zone, const std::string& check) {
  for (const chain::Evidence& evidence : electric::electrical_answers(site, zone)) {
    if (evidence.subject == zone && evidence.id == check) return evidence;
  }
  ADD_FAILURE() << zone << " has no " << check;
  return {};
}

std::string refusal(const char* file, const std::vector<std::pair<const char*, Json>>& edits) {
  try {
    with(file, edits);
  } catch (const std::runtime_error& refused) {
    return refused.what();
  }
  return "";
}

const char* const kTern = "tern-hollow.site.json";
const char* const kKiln = "kiln-yard.site.json";

TEST(Mistake, AnOutputThatTriggersIsAskedForMoreThanItCarries) {
  EXPECT_EQ(electrical(with(kTern, {}), "z8", "trigger_sink").verdict, chain::Verdict::proven);
  const chain::Evidence sink = electrical(with(kTern, {{"/triggers/t8/pullup_ohm/value", 100}}), "z8", "trigger_sink");
  EXPECT_EQ(sink.verdict, chain::Verdict::broken);  // 14 V over 100 ohm is more than 0.1 A
  EXPECT_GT(sink.value.value_or(0.0), 0.1);
  EXPECT_EQ(electrical(with(kTern, {{"/triggers/t9/pullup_ohm/value", 10}}), "z9", "trigger_sink").verdict,
            chain::Verdict::broken);
}

TEST(Mistake, TwoEntriesOfOneNumberedOutputAreOneScrew) {
  const site::Site site = with(kTern, {{"/outputs/output_3/number", 1}});
  const auto all = check_pairing(site);
  const auto twice = std::find_if(all.begin(), all.end(), [](const chain::Evidence& e) {
    return e.id == "output_used_once" && e.says && e.says->code == "output_entered_twice";
  });
  ASSERT_NE(twice, all.end());
  EXPECT_EQ(twice->verdict, chain::Verdict::broken);
}

TEST(Mistake, AnAlarmRangeThatHoldsTheRestLevelIsNoSetting) {
  const site::Site site =
      with(kKiln, {{"/triggers/t1/setting/alarm_min_V", 1.0}, {"/triggers/t1/setting/alarm_max_V", "none"}});
  const chain::Evidence fits = electrical(site, "z1", "setting_fits");
  EXPECT_EQ(fits.verdict, chain::Verdict::broken);
  EXPECT_EQ(fits.says->code, "setting_overlaps");
}

TEST(Mistake, AnEndOfAWindowOfAnotherMeaningThatNobodyKnowsLeavesTheReadingOpen) {
  const Json json = demo::json(kKiln);
  const std::string part = json.at(Pointer("/panels/panel/zone_terminal")).get<std::string>();
  const std::string at = "/parts/" + part + "/zone_terminal/windows/unclear";
  const site::Site site = with(kKiln, {{at.c_str(), {{"means", "masked"}, {"min_V", 2.0}}}});
  EXPECT_EQ(electrical(site, "z1", "panel_reads_rest").verdict, chain::Verdict::unanswered);
}

TEST(Mistake, ARulebookThatAsksForNoPictureProvesNone) {
  site::Site site = with(kKiln, {});
  for (auto& [id, book] : site.rulebooks) {
    for (auto& [happening, rule] : book.states) rule.trigger.value = site::TriggerClass::either;
  }
  EXPECT_EQ(electrical(site, "z1", "unit_reads_alarm").verdict, chain::Verdict::unanswered);
  EXPECT_EQ(electrical(site, "z1", "unit_reads_rest").verdict, chain::Verdict::unanswered);
}

TEST(Mistake, AMarginThatSomebodyAssumedProvesNothing) {
  site::Site site = with(kKiln, {});
  for (auto& [id, book] : site.rulebooks) book.entries.at("trigger_margin_V").value.origin = site::Origin::assumed;
  EXPECT_EQ(electrical(site, "z1", "unit_reads_alarm").verdict, chain::Verdict::unanswered);
}

TEST(Mistake, ALimitInAnotherUnitIsRefused) {
  const Json json = demo::json(kKiln);
  const std::string book = json.at(Pointer("/rulebook/book")).get<std::string>();
  const std::string at = "/rulebooks/" + book + "/entries/alarm_duration_h/unit";
  EXPECT_NE(refusal(kKiln, {{at.c_str(), "d"}}).find("alarm_duration_h is a limit in h"), std::string::npos);
}

TEST(Mistake, APairOnTwoTerminalsIsRefused) {
  EXPECT_NE(refusal(kTern, {{"/zones/z4/input", 8}}).find("one pair is on one terminal"), std::string::npos);
}

TEST(Mistake, AUnitThatLocksOutWithinItsOwnRangeIsRefused) {
  const Json json = demo::json(kKiln);
  const std::string part = json.at(Pointer("/units/unit/part")).get<std::string>();
  const std::string at = "/parts/" + part + "/unit/lockout_V";
  EXPECT_NE(refusal(kKiln, {{at.c_str(), 12}}).find("lockout_V"), std::string::npos);
}

TEST(Mistake, AUnitThatDrawsNothingIsStillSolved) {
  site::Site site = with(kKiln, {});
  site.parts.at(site.units.at("unit").part.id).unit->power_W = site::Value::exactly(0.0, site::Origin::data_sheet);
  EXPECT_EQ(electrical(site, "z1", "unit_reads_rest").verdict, chain::Verdict::proven);
}

TEST(Mistake, AWayBackToAnotherPanelIsNoneForThePair) {
  // A second panel with a supply of its own whose negative nothing joins to the first.
  Json json = demo::json(kKiln);
  json["supplies"]["annexe_supply"] = json["supplies"].front();
  json["panels"]["annexe"] = json["panels"]["panel"];
  json["panels"]["annexe"]["feed"]["from"] = "annexe_supply";
  json["cables"]["annexe_cable"] = json["cables"].front();
  json["shared_returns"]["way_back"] = {{"panel", "panel"}, {"cable", "annexe_cable"}};
  json["zones"]["z1"]["loop"]["shared_return"] = "way_back";
  const site::Site right = demo::site_of(json.dump(), "right");
  EXPECT_EQ(electrical(right, "z1", "panel_reads_rest").verdict, chain::Verdict::proven);
  json["shared_returns"]["way_back"]["panel"] = "annexe";
  const site::Site wrong = demo::site_of(json.dump(), "wrong");
  EXPECT_NE(electrical(wrong, "z1", "panel_reads_rest").verdict, chain::Verdict::proven);
}

}  // namespace
}  // namespace zoneproof::proof
