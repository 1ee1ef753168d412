#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <regex>
#include <set>
#include <string>

#include "published/shelf_data.hpp"

// What every part and every rulebook entry owes to the person who relies on it: a source, an honest mark, ordered
// ranges, and figures that do not contradict each other.
namespace zoneproof::published {
namespace {

/// Calls `visit(pointer)` for `pointer` and everything below it.
template <class Visit>
void walk(const std::string& file, const std::string& pointer, const Visit& visit) {
  visit(pointer);
  for (const std::string& key : keys(file, pointer)) walk(file, pointer + "/" + key, visit);
}

template <class Visit>
void each_part(const Visit& visit) {
  for (const std::string& file : shelf_files("parts")) {
    for (const std::string& id : keys(file, "/parts")) visit(file, id, "/parts/" + id);
  }
}

TEST(Shelf, EveryPartHasNameSourceOriginAndTheObjectOfItsKind) {
  std::set<std::string> ids, names;
  each_part([&](const std::string& file, const std::string& id, const std::string& part) {
    EXPECT_TRUE(std::regex_match(id, std::regex("[a-z][a-z0-9_]{0,39}"))) << id;
    EXPECT_TRUE(ids.insert(id).second) << id << " twice";
    EXPECT_TRUE(names.insert(text(file, part + "/name")).second) << text(file, part + "/name") << " twice";
    EXPECT_FALSE(text(file, part + "/source").empty()) << id;
    EXPECT_TRUE(has(file, part + "/" + text(file, part + "/kind"))) << id;
    EXPECT_THAT((std::set<std::string>{"data_sheet", "standard", "envelope", "typical"}),
                testing::Contains(text(file, part + "/origin")))
        << id;
  });
  EXPECT_GE(ids.size(), 250u);
}

TEST(Shelf, EveryRangeIsOrderedAndEveryNoteOfATypicalPartSaysWhatToDo) {
  each_part([&](const std::string& file, const std::string& id, const std::string& part) {
    walk(file, part, [&](const std::string& pointer) {
      if (!is_figure(file, pointer)) return;
      const Figure value = figure(file, pointer);
      EXPECT_LE(value.low, value.nominal) << pointer;
      EXPECT_LE(value.nominal, value.high) << pointer;
    });
    if (text(file, part + "/origin") != "typical") return;
    EXPECT_THAT(text(file, part + "/note"), testing::ContainsRegex("[Mm]easure|Test|Load it|differs|sheet")) << id;
  });
}

TEST(Shelf, EachKindHasAPartWithPapersAndOneWithout) {
  for (const char* kind :
       {"battery", "supply", "panel", "expander", "zone_terminal", "unit", "detector", "output", "load"}) {
    std::set<std::string> origins;
    each_part([&](const std::string& file, const std::string&, const std::string& part) {
      if (text(file, part + "/kind") == kind) origins.insert(text(file, part + "/origin"));
    });
    EXPECT_TRUE(origins.contains("data_sheet")) << kind;
    EXPECT_TRUE(origins.contains("typical")) << kind;
  }
}

TEST(Shelf, SupplyLimitsLieAboveRatings) {
  const std::string file = "parts/supplies.json";
  for (const std::string& id : keys(file, "/parts")) {
    const std::string supply = "/parts/" + id + "/supply";
    for (const std::string& output : keys(file, supply + "/outputs")) {
      const std::string place = supply + "/outputs/" + output;
      EXPECT_GE(figure(file, place + "/limit_A").low, figure(file, place + "/rating_A").nominal) << place;
      EXPECT_EQ(has(file, place + "/foldback_A"), text(file, place + "/protection") == "foldback") << place;
      if (has(file, place + "/foldback_A")) {
        EXPECT_LT(figure(file, place + "/foldback_A").high, figure(file, place + "/limit_A").low) << place;
      }
    }
  }
}

TEST(Shelf, UnitsStopBelowTheirSupplyRangeAndTellLowFromHigh) {
  const std::string file = "parts/units.json";
  for (const std::string& id : keys(file, "/parts")) {
    const std::string unit = "/parts/" + id + "/unit";
    EXPECT_LT(figure(file, unit + "/lockout_V").high, figure(file, unit + "/supply_min_V").low) << id;
    EXPECT_NE(has(file, unit + "/power_W"), has(file, unit + "/current_A")) << id << ": power or current, not both";
    EXPECT_LT(figure(file, unit + "/arming/low_max_V").high, figure(file, unit + "/arming/high_min_V").low) << id;
    EXPECT_LE(figure(file, unit + "/input/measuring_max_V").nominal, figure(file, unit + "/input/damage_max_V").nominal)
        << id;
    EXPECT_EQ(has(file, unit + "/input/presets"), text(file, unit + "/input/judging") == "presets") << id;
    if (is_figure(file, unit + "/input/clamp_forward_V")) {
      // A clamp that conducts within the measuring range would bend every reading.
      EXPECT_GE(figure(file, unit + "/input/inner_rail_V").low + figure(file, unit + "/input/clamp_forward_V").low,
                figure(file, unit + "/input/measuring_max_V").nominal)
          << id;
    }
  }
}

TEST(Rulebooks, EveryEntrySaysUnitMeaningSourceAndMark) {
  for (const std::string& book : shelf_files("rulebooks")) {
    for (const std::string& id : keys(book, "/rulebook/entries")) {
      const std::string entry = "/rulebook/entries/" + id;
      EXPECT_FALSE(text(book, entry + "/unit").empty()) << book << " " << id;
      EXPECT_FALSE(text(book, entry + "/meaning").empty()) << book << " " << id;
      EXPECT_NE(has(book, entry + "/value"), has(book, entry + "/points")) << book << " " << id;
      const std::string source = text(book, entry + "/source");
      EXPECT_FALSE(source.empty()) << book << " " << id;
      if (flag(book, entry + "/verified")) {
        EXPECT_THAT(source, testing::Not(testing::ContainsRegex("from memory|no source|trade page")))
            << book << " " << id;
      }
    }
  }
}

TEST(Rulebooks, EveryBookClassesEveryStateAndAsksForTheSameMargins) {
  const std::set<std::string> states = {"rest",        "alarm",   "second_alarm", "both_alarm",
                                        "tamper_open", "shorted", "masked",       "fault"};
  for (const std::string& book : shelf_files("rulebooks")) {
    const auto found = keys(book, "/rulebook/states");
    EXPECT_EQ(std::set<std::string>(found.begin(), found.end()), states) << book;
    EXPECT_EQ(text(book, "/rulebook/states/rest/trigger"), "must_not") << book;
    EXPECT_EQ(text(book, "/rulebook/states/alarm/trigger"), "must_trigger") << book;
    for (const char* id : {"loop_margin_V",
                           "trigger_margin_V",
                           "arming_margin_V",
                           "supply_margin_V",
                           "detector_supply_margin_V",
                           "load_supply_margin_V",
                           "disturbance_share_pct",
                           "supply_headroom_pct",
                           "fuse_load_pct",
                           "negative_shift_V",
                           "autonomy_margin_pct",
                           "shortest_alarm_s",
                           "catch_margin_s",
                           "joint_ohm",
                           "leakage_ohm",
                           "eol_contact_ohm",
                           "area_temperature_degC",
                           "alarm_duration_h",
                           "recharge_share_pct",
                           "battery_ageing_factor",
                           "battery_design_factor",
                           "battery_temperature_factor",
                           "battery_life_years"}) {
      EXPECT_TRUE(has(book, std::string("/rulebook/entries/") + id)) << book << " " << id;
    }
  }
}

TEST(Shelf, ComputedFilesAreWhatTheirToolWrites) {
  const std::string root = ZONEPROOF_SOURCE_DIR;
  EXPECT_EQ(std::system(("python3 '" + root + "/tools/make_parts.py' '" + root + "/data/parts' --check").c_str()), 0);
}

}  // namespace
}  // namespace zoneproof::published
