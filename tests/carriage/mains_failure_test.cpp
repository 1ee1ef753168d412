// What goes dark when the mains fail, case by case, by hand.
#include "carriage/mains_failure.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "carriage/network_site.hpp"

namespace zoneproof::carriage {
namespace {

using chain::Verdict;

std::vector<chain::Evidence> mains_answers(const std::string& patch = "[]") {
  return check_mains_failure(network_of(small_network(), patch));
}

/// What hangs on the backup, in watts.
double hanging() {
  const double volts = (44 + std::sqrt(44.0 * 44 - 4 * 6.5 * 5.1)) / 2, ampere = 6.5 / volts;
  const double yard = 6.5 + ampere * ampere * 5.1;  // at the port
  return (9 + yard / 0.8) + (2 + 6.5 / 0.8) + 25 + 12;
}

TEST(MainsFailure, ABackupLastsAsLongAsItsAgedEnergyOverAllThatHangsOnIt) {
  const auto all = mains_answers();
  const auto hold = only(all, "backup_hold", "backup");
  EXPECT_NEAR(*hold.value, 1400 * 0.8 / (hanging() + 15), 1e-9);
  EXPECT_EQ(hold.limit, 12.0);
  EXPECT_NEAR(*hold.required_margin, 1.2, 1e-12);
  EXPECT_EQ(hold.verdict, Verdict::proven);
  EXPECT_NEAR(*only(all, "backup_load", "backup").value, hanging(), 1e-9);
  for (const auto& one : all) EXPECT_EQ(one.verdict, Verdict::proven) << one.id << " of " << one.subject;
}

TEST(MainsFailure, EverythingOnTheWayOfAClipIsAsked) {
  const auto all = mains_answers();
  for (const char* device : {"yard", "hall", "recorder", "switch", "injector", "router", "line"}) {
    const auto hold = only(all, "mains_hold", device);
    EXPECT_EQ(hold.value, only(all, "backup_hold", "backup").value) << device;
    EXPECT_EQ(hold.condition, "backup") << device;
  }
  EXPECT_FALSE(any(all, "mains_hold", "unit")) << "its supply answers for a unit";
  EXPECT_EQ(only(all, "carrier_hold", "line").value, 24.0);
}

TEST(MainsFailure, TheWorstCornerCounts) {
  const auto hold = only(mains_answers(R"([
    {"op": "replace", "path": "/parts/stand/ups/energy_Wh", "value": {"value": 1400, "min": 1300, "max": 1500}},
    {"op": "replace", "path": "/parts/keeper/recorder/power_W", "value": {"value": 25, "min": 15, "max": 30}},
    {"op": "replace", "path": "/parts/adder/injector/efficiency_pct", "value": {"value": 80, "min": 65, "max": 90}}])"),
                         "backup_hold", "backup");
  EXPECT_NEAR(*hold.value, 1300 * 0.8 / (hanging() + 15 + 5 - 6.5 / 0.8 + 6.5 / 0.65), 1e-9);
  ASSERT_FALSE(hold.corner.empty());
  EXPECT_EQ(hold.corner.front().pointer, "/parts/stand/ups/energy_Wh");
}

TEST(MainsFailure, ADeviceOnTheMainsIsDarkAtOnce) {
  for (const auto& [collection, device] : std::vector<std::pair<std::string, std::string>>{{"cameras", "yard"},
                                                                                           {"recorders", "recorder"},
                                                                                           {"switches", "switch"},
                                                                                           {"injectors", "injector"},
                                                                                           {"routers", "router"},
                                                                                           {"uplinks", "line"}}) {
    const auto all = mains_answers(R"([{"op": "replace", "path": "/)" + collection + "/" + device +
                                   R"(/powered_by", "value": "none"}])");
    const auto dark = only(all, "mains_hold", device);
    EXPECT_EQ(dark.verdict, Verdict::broken) << device;
    EXPECT_EQ(dark.value, 0.0) << device;
    EXPECT_FALSE(dark.remedies.empty()) << device;
  }
}

TEST(MainsFailure, WhatIsPoweredOverItsDataCableIsDarkWithItsSwitch) {
  const auto all = mains_answers(R"([{"op": "replace", "path": "/switches/switch/powered_by", "value": "none"}])");
  EXPECT_EQ(only(all, "mains_hold", "yard").verdict, Verdict::broken);
  EXPECT_EQ(only(all, "mains_hold", "hall").verdict, Verdict::proven) << "its injector hangs on the backup";
}

TEST(MainsFailure, ASwitchThatNoClipPassesMayBeDark) {
  const auto all = mains_answers(R"([{"op": "add", "path": "/switches/other",
    "value": {"part": "giver", "powered_by": "none", "powers_complete": true}}])");
  EXPECT_FALSE(any(all, "mains_hold", "other"));
}

TEST(MainsFailure, AModemInItsRouterIsDarkWithIt) {
  const auto all = mains_answers(R"([{"op": "replace", "path": "/routers/router/powered_by", "value": "none"}])");
  EXPECT_EQ(only(all, "mains_hold", "line").verdict, Verdict::broken);
}

TEST(MainsFailure, AModemOfItsOwnHangsOnTheBackupWithItsPower) {
  const auto all = mains_answers(R"([{"op": "replace", "path": "/uplinks/line/powered_by", "value": "backup"},
                               {"op": "replace", "path": "/uplinks/line/power_W", "value": 10}])");
  EXPECT_NEAR(*only(all, "backup_load", "backup").value, hanging() + 10, 1e-9);
}

TEST(MainsFailure, AModemAtTheSocketOfARouterHangsOnItsBackupToo) {
  const auto all = mains_answers(R"([{"op": "replace", "path": "/uplinks/line/power_W", "value": 10}])");
  EXPECT_NEAR(*only(all, "backup_load", "backup").value, hanging() + 10, 1e-9);
  EXPECT_NEAR(*only(all, "backup_hold", "backup").value, 1400 * 0.8 / (hanging() + 10 + 15), 1e-9);
}

TEST(MainsFailure, AModemOnTheBackupWithoutAPowerOfItsOwnLeavesThatOpen) {
  const auto all = mains_answers(R"([{"op": "replace", "path": "/uplinks/line/powered_by", "value": "backup"}])");
  for (const char* check : {"backup_hold", "backup_load"}) {
    EXPECT_EQ(only(all, check, "backup").verdict, Verdict::unanswered);
    EXPECT_TRUE(lacks(only(all, check, "backup"), "/uplinks/line/power_W", "undecided"));
  }
}

TEST(MainsFailure, ACarrierThatGivesUpFirstIsBroken) {
  const auto carrier = only(mains_answers(R"([{"op": "replace", "path": "/uplinks/line/carrier_hold_h", "value": 4}])"),
                            "carrier_hold", "line");
  EXPECT_EQ(carrier.verdict, Verdict::broken);
  EXPECT_FALSE(carrier.remedies.empty());
}

TEST(MainsFailure, GradeThreeAsksForSixtyHours) {
  const auto hold =
      only(mains_answers(R"([{"op": "replace", "path": "/rulebook/grade", "value": 3}])"), "backup_hold", "backup");
  EXPECT_EQ(hold.limit, 60.0);
  EXPECT_EQ(hold.verdict, Verdict::broken);
  EXPECT_FALSE(hold.remedies.empty());
}

TEST(MainsFailure, TheRemedyOfABackupLasts) {
  // What grade 3 asks for with its reserve of a tenth, over the load, at 80 % of its energy.
  const double needed = 66 * (hanging() + 15) / 0.8;
  const auto hold = only(mains_answers(R"([{"op": "replace", "path": "/rulebook/grade", "value": 3},
    {"op": "replace", "path": "/parts/stand/ups/energy_Wh", "value": )" +
                                       std::to_string(needed + 1) + "}]"),
                         "backup_hold", "backup");
  EXPECT_EQ(hold.verdict, Verdict::proven);
}

TEST(MainsFailure, WhatWasTriedCountsBeforeWhatIsComputed) {
  const auto all =
      mains_answers(R"([{"op": "add", "path": "/backups/backup/hold_h", "value": {"value": 9, "min": 8, "max": 9}},
    {"op": "remove", "path": "/parts/stand/ups/energy_Wh"}, {"op": "remove", "path": "/backups/backup/loads_complete"}])");
  EXPECT_EQ(only(all, "backup_hold", "backup").value, 8.0);
  EXPECT_EQ(only(all, "backup_hold", "backup").verdict, Verdict::broken);
  EXPECT_EQ(only(all, "mains_hold", "recorder").verdict, Verdict::broken);
}

TEST(MainsFailure, ABackupAboveItsShareIsThinAndAboveItsRatingBroken) {
  const auto load = [](int rating) {
    return only(mains_answers(R"([{"op": "replace", "path": "/parts/stand/ups/rating_W", "value": )" +
                              std::to_string(rating) + "}]"),
                "backup_load", "backup")
        .verdict;
  };
  EXPECT_EQ(load(static_cast<int>(hanging() / 0.8) + 1), Verdict::proven);
  EXPECT_EQ(load(static_cast<int>(hanging() / 0.8) - 1), Verdict::thin);
  EXPECT_EQ(load(static_cast<int>(hanging()) - 1), Verdict::broken);
}

TEST(MainsFailure, ABackupThatIsTooSmallAlreadyIsBrokenWhateverElseHangsOnIt) {
  const auto all = mains_answers(R"([{"op": "replace", "path": "/parts/stand/ups/energy_Wh", "value": 300},
                               {"op": "remove", "path": "/backups/backup/loads_complete"}])");
  EXPECT_EQ(only(all, "backup_hold", "backup").verdict, Verdict::broken);
}

/// The switch fed by a supply of the alarm system, as the entry "entry" of loads.
std::vector<chain::Evidence> on_a_load(const std::string& more = "") {
  return mains_answers(
      R"([{"op": "add", "path": "/loads", "value": {"entry": {"name": "Entry", "part": "entry", "feed": {"from": "none"}}}},
    {"op": "replace", "path": "/switches/switch/powered_by", "value": "entry"})" +
      more + "]");
}

TEST(MainsFailure, ALoadOfTheAlarmSystemStandsForWhatHangsOnIt) {
  const auto all = on_a_load();
  EXPECT_FALSE(any(all, "mains_hold", "switch")) << "the autonomy of its supply answers";
  EXPECT_FALSE(any(all, "mains_hold", "yard"));
  const auto covers = only(all, "load_covers", "entry");
  // The switch with the yard camera behind it, at the 10 V down to which the entry works.
  const double watts = hanging() - (2 + 6.5 / 0.8) - 25 - 12;
  EXPECT_NEAR(*covers.value, watts / 10, 1e-9);
  EXPECT_EQ(covers.limit, 3.0);
  EXPECT_EQ(covers.verdict, Verdict::proven);
  const auto less = only(on_a_load(R"(, {"op": "replace", "path": "/parts/entry/load/current_A", "value": 1.7})"),
                         "load_covers", "entry");
  EXPECT_EQ(less.verdict, Verdict::broken);
  EXPECT_FALSE(less.remedies.empty());
  EXPECT_FALSE(any(mains_answers(), "load_covers", "entry"))
      << "an entry that powers nothing of the network stands for itself";
}

TEST(MainsFailure, ALoadWhoseCurrentIsMissingCoversNothing) {
  for (const char* gone : {"/parts/entry/load/current_A", "/parts/entry/load/supply_min_V", "/loads/entry/part",
                           "/parts/giver/network_switch/power_W"}) {
    const auto open =
        only(on_a_load(std::string(R"(, {"op": "remove", "path": ")") + gone + "\"}"), "load_covers", "entry");
    EXPECT_EQ(open.verdict, Verdict::unanswered) << gone;
    EXPECT_TRUE(lacks(open, gone)) << gone;
  }
}

TEST(MainsFailure, AWayThatIsNotKnownLeavesOpenWhatIsOnIt) {
  const auto all = mains_answers(without("/data_links/l_recorder"));
  EXPECT_EQ(only(all, "clip_way", "yard").verdict, Verdict::unanswered);
  EXPECT_TRUE(lacks(only(all, "clip_way", "yard"), "/data_links"));
  EXPECT_EQ(only(mains_answers(without("/units/unit/monitoring")), "clip_way", "unit").verdict, Verdict::unanswered);
  EXPECT_FALSE(any(mains_answers(), "clip_way", "yard"));
}

TEST(MainsFailure, GuessesNeverProve) {
  const auto hold = only(mains_answers(R"([{"op": "replace", "path": "/parts/keeper/recorder/power_W",
    "value": {"value": 25, "origin": "typical"}}])"),
                         "backup_hold", "backup");
  EXPECT_EQ(hold.verdict, Verdict::unanswered);
  EXPECT_TRUE(lacks(hold, "/parts/keeper/recorder/power_W", "typical"));
}

TEST(MainsFailure, WhatIsMissingIsNamed) {
  expect_unanswered(
      check_mains_failure,
      {{"/switches/switch/powered_by", "mains_hold", "switch"},
       {"/switches/switch/powered_by", "mains_hold", "yard"},
       {"/cameras/yard/powered_by", "mains_hold", "yard"},
       {"/injectors/injector/powered_by", "mains_hold", "hall"},
       {"/recorders/recorder/powered_by", "mains_hold", "recorder"},
       {"/routers/router/powered_by", "mains_hold", "line"},
       {"/uplinks/line/powered_by", "mains_hold", "line"},
       {"/uplinks/line/carrier_hold_h", "carrier_hold", "line"},
       {"/backups/backup/part", "backup_hold", "backup"},
       {"/backups/backup/part", "backup_load", "backup"},
       {"/backups/backup/loads_complete", "backup_hold", "backup", nullptr, "incomplete_list"},
       {"/backups/backup/loads_complete", "backup_load", "backup", nullptr, "incomplete_list"},
       {"/switches/switch/powers_complete", "backup_hold", "backup", nullptr, "incomplete_list"},
       {"/parts/stand/ups/energy_Wh", "backup_hold", "backup"},
       {"/parts/stand/ups/own_W", "backup_hold", "backup"},
       {"/parts/stand/ups/rating_W", "backup_load", "backup"},
       {"/parts/giver/network_switch/power_W", "backup_hold", "backup"},
       {"/parts/giver/network_switch/efficiency_pct", "backup_hold", "backup"},
       {"/parts/adder/injector/power_W", "backup_load", "backup"},
       {"/parts/keeper/recorder/power_W", "backup_hold", "backup"},
       {"/parts/gate/router/power_W", "backup_hold", "backup"},
       {"/parts/eye/camera/power_W", "backup_hold", "backup"},
       {"/cables/k_yard/joints", "backup_hold", "backup"},
       {"/rulebooks/european_intruder/entries/backup_ageing_pct", "backup_hold", "backup", nullptr, "no_rule"},
       {"/rulebooks/european_intruder/entries/standby_h_grade_2", "carrier_hold", "line",
        "/rulebooks/european_intruder/entries/standby_h", "no_rule"}});
}

}  // namespace
}  // namespace zoneproof::carriage
