#include "handover/termination_schedule.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <set>

#include "drawing/specimen.hpp"
#include "electric/arming_check.hpp"
#include "electric/naming.hpp"
#include "field/readings.hpp"
#include "handover/demo_site.hpp"
#include "handover/places.hpp"
#include "handover/settings_sheet.hpp"
#include "paper/found_on_pages.hpp"
#include "results/levels.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {
namespace {

using Json = nlohmann::ordered_json;
using paper::Blank;
using paper::Cell;
using paper::Table;

const char* const kDemos[] = {"saltmarsh", "kiln-yard", "kiln-yard-corrected", "tern-hollow"};

std::vector<paper::Row> rows_of(const Table& table) {
  std::vector<paper::Row> rows;
  for (const paper::Group& group : table.groups) rows.insert(rows.end(), group.rows.begin(), group.rows.end());
  return rows;
}

Table table_named(const site::Site& site, const Answers& answers, const std::string& id) {
  for (Table& table : termination_tables(site, answers))
    if (table.id == id) return table;
  throw std::logic_error("no table " + id);
}

/// What stands in a row under a column: its figures or words, "____" for a blank.
std::string at(const Table& table, const paper::Row& row, const std::string& column) {
  for (std::size_t i = 0; i < table.columns.size(); ++i)
    if (table.columns[i].id == column)
      return std::holds_alternative<Blank>(row.cells[i]) ? "____" : words_of(row.cells[i], table.columns[i]);
  throw std::logic_error("no column " + column);
}

/// From the text that `levels --json` prints: lowest and highest of a reading over all supply conditions and all states
/// that begin as `state`, as the table is to show them; "____" where any of them is null.
std::pair<std::string, std::string> from_json(const Json& levels, const std::string& trigger, const std::string& zone,
                                              const std::string& unit, const std::string& state,
                                              const std::string& reading) {
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (const Json& level : levels.at("levels")) {
    const bool same_wire = trigger.empty() ? level.at("trigger").is_null() : level.at("trigger") == trigger;
    const std::string found = level.at("state").get<std::string>();
    if (!same_wire || level.at("zone") != zone || level.at("unit") != unit) continue;
    if (found != state && !found.starts_with(state + "_")) continue;
    const Json& pulse = level.at("pulse");
    const Json& range =
        pulse.is_null() ? level.at(reading) : pulse.at(reading == "panel" ? "panel_meter" : "unit_meter");
    if (range.is_null() || range.at("low_V").is_null() || range.at("high_V").is_null()) return {"____", "____"};
    low = std::min(low, range.at("low_V").get<double>());
    high = std::max(high, range.at("high_V").get<double>());
  }
  if (low > high) return {"____", "____"};
  // Rounded outward: what is printed holds all that is told; what is below a millionth of a volt is nobody's reading.
  const double per_step = 1000.0, noise = 1e-6;
  const double down = std::floor(low * per_step + noise) / per_step, up = std::ceil(high * per_step - noise) / per_step;
  return {fmt::format("{:.3f}", down), fmt::format("{:.3f}", up + 0.0)};
}

TEST(TerminationSchedule, FiguresAreThoseOfLevelsAsJson) {
  for (const char* demo : kDemos) {
    const site::Site site = demo_site(demo);
    const Answers& answers = demo_answers(demo);
    const Json levels =
        Json::parse(results::json_of(*results::answer(site, results::LevelsQuestion{}, {}).answer).dump());
    const Table wires = table_named(site, answers, "wires"), terminals = table_named(site, answers, "terminals");
    int compared = 0;
    for (const auto& [id, trigger] : site.triggers) {
      for (const paper::Row& row : rows_of(wires)) {
        if (row.id != "wire-" + id) continue;
        for (const char* state : {"rest", "alarm"}) {
          const auto wanted = from_json(levels, id, trigger.zone.id, "powered", state, "unit_input");
          EXPECT_EQ(at(wires, row, std::string(state) + "_low"), wanted.first) << demo << id;
          EXPECT_EQ(at(wires, row, std::string(state) + "_high"), wanted.second) << demo << id;
          ++compared;
        }
      }
      for (const paper::Row& row : rows_of(terminals)) {
        if (row.id != "terminal-" + id) continue;
        const std::string zone = site::tapped_zone(site, trigger);
        const auto found = from_json(levels, "", zone, "detached", "rest", "panel");
        const auto wired = from_json(levels, id, zone, "powered", "alarm", "panel");
        EXPECT_EQ(at(terminals, row, "found_low"), found.first) << demo << id;
        EXPECT_EQ(at(terminals, row, "found_high"), found.second) << demo << id;
        EXPECT_EQ(at(terminals, row, "alarm_low"), wired.first) << demo << id;
        EXPECT_EQ(at(terminals, row, "alarm_high"), wired.second) << demo << id;
        ++compared;
      }
    }
    EXPECT_GT(compared, 10) << demo;
  }
}

TEST(TerminationSchedule, ArmingFiguresHoldTheBoundsThatProveTells) {
  int compared = 0;
  for (const char* demo : kDemos) {
    const site::Site site = demo_site(demo);
    const Answers& answers = demo_answers(demo);
    for (const auto& entry : site.units) {
      for (const chain::Evidence& evidence : electric::check_arming(site, entry.first)) {
        if ((evidence.id != "arming_armed" && evidence.id != "arming_disarmed") || !evidence.bound) continue;
        const Volts& range = (evidence.id == "arming_armed" ? answers.armed : answers.disarmed).at(entry.first);
        ASSERT_TRUE(range) << demo << entry.first;
        // Prove hears of supplies apart only where they lessen the margin by more than a thousandth (finding.hpp).
        const double within = 1e-3 * std::abs(evidence.margin.value()) + 1e-9;
        EXPECT_LT(std::min(std::abs(*evidence.bound - range->low), std::abs(*evidence.bound - range->high)), within)
            << demo << entry.first << evidence.id;
        EXPECT_TRUE(range->low <= *evidence.bound + 1e-9 && *evidence.bound <= range->high + 1e-9);
        ++compared;
      }
    }
  }
  EXPECT_GT(compared, 8);
}

TEST(TerminationSchedule, SupplyFiguresAreThoseOfSupplyAsJson) {
  const site::Site site = demo_site("saltmarsh");
  const Answers& answers = demo_answers("saltmarsh");
  const Json points = results::json_of(site, answers.supply);
  const Table supply = table_named(site, answers, "supply");
  for (const auto& entry : site.units) {
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (const Json& point : points.at("conditions"))
      for (const Json& load : point.at("loads"))
        if (load.at("id") == entry.first && !load.at("off").get<bool>()) {
          low = std::min(low, load.at("low_V").get<double>());
          high = std::max(high, load.at("high_V").get<double>());
        }
    for (const paper::Row& row : rows_of(supply)) {
      if (row.id != "positive-" + entry.first) continue;
      const double below = low - std::stod(at(supply, row, "volts_low"));
      const double above = std::stod(at(supply, row, "volts_high")) - high;
      constexpr double step = 1e-3, noise = 1e-6;
      EXPECT_TRUE(below > -noise && below < step + noise) << "what is printed holds what was computed";
      EXPECT_TRUE(above > -noise && above < step + noise) << "what is printed holds what was computed";
    }
  }
}

TEST(TerminationSchedule, EveryWireStandsOnceOnPaperAndNothingMeets) {
  for (const char* demo : kDemos) {
    const site::Site site = demo_site(demo);
    for (const drawing::Format paper : {drawing::kA4, drawing::kLetter}) {
      const auto sheets = paper::pages(drawing::test_ruler(),
                                       {termination_schedule(site, demo_answers(demo)), settings_sheet(site, {})},
                                       demo_style(site, paper));
      EXPECT_THAT(paper::faults_on(sheets), testing::IsEmpty()) << demo;
      for (const auto& [id, trigger] : site.triggers) {
        if (!trigger.unit.known()) continue;
        const auto count = [&](const std::string& wanted) {
          int found = 0;
          for (const paper::Found& group : paper::groups_with(sheets, wanted)) found += group.id == wanted;
          return found;
        };
        EXPECT_EQ(count("wire-" + id), site::has_wire(trigger) ? 1 : 0) << demo << id;
        EXPECT_EQ(count("back-" + id), site::has_wire(trigger) ? 1 : 0) << demo << id;
        EXPECT_EQ(count("input-" + id), 1) << demo << id;
      }
    }
  }
}

TEST(TerminationSchedule, WhatIsNotKnownIsABlankAndNeverAGuess) {
  site::Site site = demo_site("saltmarsh");
  const Answers& answers = demo_answers("saltmarsh");
  site::Trigger& trigger = site.triggers.at("t1");
  const auto cell = [&](const char* column) {
    const Table wires = table_named(site, answers, "wires");
    for (const paper::Row& row : rows_of(wires))
      if (row.id == "wire-t1") return at(wires, row, column);
    return std::string("no row");
  };
  EXPECT_EQ(cell("colour"), "____");  // the site file knows no colours
  EXPECT_NE(cell("from"), "____");
  EXPECT_EQ(cell("resistor"), "none");
  trigger.at_input.value.reset();
  EXPECT_EQ(cell("from"), "____");
  trigger.series_ohm = {};
  EXPECT_EQ(cell("resistor"), "____");
  trigger.cable = {};
  EXPECT_EQ(cell("cable"), "____");
  trigger.channel.value.reset();
  EXPECT_EQ(cell("channel"), "____");
  EXPECT_EQ(cell("camera"), "____");
  trigger.input.value.reset();
  EXPECT_EQ(cell("to"), "____");
  trigger.source.value.reset();
  EXPECT_EQ(cell("from"), "____");
}

TEST(TerminationSchedule, ALevelThatRestsOnWhatIsNotKnownIsABlank) {
  site::Site site = demo_site("kiln-yard");
  for (auto& entry : site.zones) entry.second.loop.eol_ohm = {};
  const Answers answers = answers_of(site, readings_of(site));
  const Table wires = table_named(site, answers, "wires");
  int blanks = 0;
  for (const paper::Row& row : rows_of(wires)) {
    const auto trigger = site.triggers.find(row.id.substr(std::string("wire-").size()));
    if (trigger == site.triggers.end() || !trigger->second.source.is(site::TriggerSource::loop_tap)) continue;
    blanks += at(wires, row, "rest_low") == "____" && at(wires, row, "rest_high") == "____";
  }
  EXPECT_GT(blanks, 0);
}

TEST(TerminationSchedule, OnTheWayBackEverythingIsDeadBeforeAWireComesOffAndTheNegativeIsTheLast) {
  for (const char* demo : kDemos) {
    const site::Site site = demo_site(demo);
    const Table back = table_named(site, demo_answers(demo), "back");
    auto unit = site.units.begin();
    for (const paper::Group& group : back.groups) {
      const std::string supply = electric::thing_words(site, site::supply_of(site, unit->second.feed));
      ASSERT_GT(group.rows.size(), 4U);
      EXPECT_THAT(at(back, group.rows[0], "off"), testing::HasSubstr("on test"));
      EXPECT_THAT(at(back, group.rows[1], "off"), testing::HasSubstr("sounder"));
      EXPECT_THAT(at(back, group.rows[2], "off"), testing::HasSubstr(supply));
      EXPECT_THAT(at(back, group.rows.back(), "back"), testing::HasSubstr("off test"));
      enum Stage { first, dead, off, live, read, last } stage = first;
      std::string last_off;
      std::set<std::string> batteries;
      for (const paper::Row& row : group.rows) {
        const bool is_dead = row.id.starts_with("back-dead-"), is_live = row.id.starts_with("back-live-"),
                   is_read = row.id.starts_with("back-read-");
        const Stage now = row.id.starts_with("back-first-")  ? first
                          : row.id.starts_with("back-last-") ? last
                          : is_dead                          ? dead
                          : is_live                          ? live
                          : is_read                          ? read
                                                             : off;
        EXPECT_GE(now, stage) << demo << " " << row.id;
        stage = now;
        if (now == off) last_off = at(back, row, "off");
        EXPECT_EQ(at(back, row, "found_low").empty(), now != read) << row.id;
        EXPECT_TRUE(std::holds_alternative<paper::Tick>(row.cells.front()));
        for (const auto& entry : site.batteries) {
          const std::string name = electric::thing_words(site, entry.first);
          if (at(back, row, is_live ? "back" : "off").find(name) != std::string::npos)
            batteries.insert((is_live ? "live " : "dead ") + name);
        }
      }
      EXPECT_THAT(last_off, testing::HasSubstr("negative")) << group.heading;
      EXPECT_GE(batteries.size(), 2U) << "a battery comes off and goes on again";
      ++unit;
    }
  }
}

TEST(TerminationSchedule, OnTheWayBackASupplyThatNobodyKnowsIsNamedAsSuch) {
  site::Site site = demo_site("kiln-yard");
  site.units.at("unit").feed = {};
  const Table back = table_named(site, demo_answers("kiln-yard"), "back");
  EXPECT_THAT(at(back, rows_of(back).at(2), "off"), testing::HasSubstr("not in the site file"));
}

TEST(TerminationSchedule, OnTheWayBackADatumThatIsMissingIsNamed) {
  site::Site site = demo_site("kiln-yard");
  const std::string trigger = site.triggers.begin()->first;
  const auto said = [&](const std::string& id, const std::string& column) {
    const Table back = table_named(site, demo_answers("kiln-yard"), "back");
    for (const paper::Row& row : rows_of(back))
      if (row.id == id) return at(back, row, column);
    return std::string("no row");
  };
  site.panels.at("panel").outputs_found.clear();
  EXPECT_THAT(said("back-arming-unit", "back"), testing::HasSubstr("was programmed is not in the site file"));
  site.triggers.at(trigger).core_colour = "GNYE";
  EXPECT_THAT(said("back-" + trigger, "off"),
              testing::AllOf(testing::HasSubstr("core GNYE of"), testing::HasSubstr("Zone 1")));
  site.triggers.at(trigger).cable.id = "none";
  EXPECT_THAT(said("back-" + trigger, "off"), testing::HasSubstr("wire GNYE within the enclosure"));
  site.triggers.at(trigger).cable = {};
  EXPECT_THAT(said("back-" + trigger, "off"), testing::HasSubstr("its cable"));
  EXPECT_THAT(said("back-" + trigger, "off"), testing::Not(testing::HasSubstr("its screw")));
  site.triggers.at(trigger).at_input = {};
  EXPECT_THAT(said("back-" + trigger, "off"), testing::HasSubstr("its screw, its cable"));
  site.triggers.at(trigger).source.value.reset();
  EXPECT_THAT(said("back-" + trigger, "off"), testing::HasSubstr("what it is taken from"));
  site.units.at("unit").feed.cable = {};
  EXPECT_THAT(said("back-negative-unit", "off"), testing::HasSubstr("its cable"));
}

/// A contact without potential has two cores, and both come off.
TEST(TerminationSchedule, OnTheWayBackBothCoresOfAContactAreNamed) {
  site::Site site = demo_site("kiln-yard");
  site::Trigger& trigger = site.triggers.begin()->second;
  trigger.source.value = site::TriggerSource::spare_contact;
  trigger.core_colour = "WH";
  trigger.return_core_colour = "BN";
  const Table back = table_named(site, demo_answers("kiln-yard"), "back");
  std::string told;
  for (const paper::Row& row : rows_of(back))
    if (row.id == "back-" + site.triggers.begin()->first) told = at(back, row, "off");
  EXPECT_THAT(told, testing::HasSubstr("not in the site file"));  // which contact it is
  trigger.detector.id = "d_shop";
  trigger.contact = site.parts.at(site.detectors.at("d_shop").part.id).detector->contacts.begin()->first;
  const Table again = table_named(site, demo_answers("kiln-yard"), "back");
  for (const paper::Row& row : rows_of(again))
    if (row.id == "back-" + site.triggers.begin()->first) told = at(again, row, "off");
  EXPECT_THAT(told, testing::HasSubstr("cores WH and BN of"));
}

/// Of a site with one unit the way back leads to what was there before: the readings of Restore, without the unit.
TEST(TerminationSchedule, OnTheWayBackReadingsCountWithABatteryThatIsChargedAgain) {
  const site::Site site = demo_site("kiln-yard");
  const Table back = table_named(site, demo_answers("kiln-yard"), "back");
  const site::Site before = field::just_on_mains(field::without_units(site));
  int read = 0;
  for (const paper::Row& row : rows_of(back)) {
    if (!row.id.starts_with("back-read-")) continue;
    const std::string zone = site::tapped_zone(site, site.triggers.at(row.id.substr(std::string("back-read-").size())));
    const auto expected =
        *field::zone_readings(before,
                              {zone, {}, electric::SupplyCondition::mains, "", electric::UnitCondition::detached})
             .panel;
    EXPECT_NEAR(std::stod(at(back, row, "found_low")), *expected.low, 1.1e-3) << zone;
    EXPECT_NEAR(std::stod(at(back, row, "found_high")), *expected.high, 1.1e-3) << zone;
    ++read;
  }
  EXPECT_GT(read, 4);
}

TEST(TerminationSchedule, SaysOfAWireFromAHoldUpZoneThatItIsNotTrippedForThisWork) {
  const paper::Chapter chapter = termination_schedule(demo_site("tern-hollow"), demo_answers("tern-hollow"));
  int told = 0;
  for (const paper::Block& block : chapter.blocks)
    if (const auto* table = std::get_if<Table>(&block))
      for (const std::string& note : table->notes)
        if (note.find("Zone 10 (Desk)") != std::string::npos) {
          EXPECT_EQ(table->id, "wires-of-unit_house");
          EXPECT_THAT(note, testing::HasSubstr("not tripped"));
          ++told;
        }
  EXPECT_EQ(told, 1);
}

TEST(TerminationSchedule, TheWireBetweenNegativesStaysWhileAnotherUnitHangsOnTheSupply) {
  site::Site site = demo_site("tern-hollow");  // two units on one supply, whose negative is joined to the panel's
  const auto said = [&](const std::string& unit) {
    const Table back = table_named(site, demo_answers("tern-hollow"), "back");
    for (const paper::Row& row : rows_of(back))
      if (row.id == "back-bond-b_negatives-" + unit) return at(back, row, "off");
    return std::string("stays");
  };
  EXPECT_THAT(said("unit_vault"), testing::HasSubstr("only with the last unit"));
  EXPECT_THAT(said("unit_house"), testing::HasSubstr("only with the last unit"));
  site.units.at("unit_house").feed.from.id = "panel_supply";
  EXPECT_EQ(said("unit_vault"), site.bonds.at("b_negatives").name) << "now it hangs on that supply alone";
  EXPECT_EQ(said("unit_house"), "stays") << "the panel's own supply keeps its joins";
}

TEST(TerminationSchedule, ADryContactTakesTwoCores) {
  int contacts = 0;
  for (const char* demo : kDemos) {
    const site::Site site = demo_site(demo);
    const Table wires = table_named(site, demo_answers(demo), "wires");
    for (const auto& [id, trigger] : site.triggers) {
      const bool dry = trigger.source.is(site::TriggerSource::spare_contact) ||
                       trigger.source.is(site::TriggerSource::receiver_relay);
      if (!dry) continue;
      ++contacts;
      std::vector<std::string> ends;
      for (const paper::Row& row : rows_of(wires))
        if (row.id == "wire-" + id || row.id == "wire-" + id + "-2") ends.push_back(at(wires, row, "to"));
      ASSERT_EQ(ends.size(), 2u) << demo << id;
      EXPECT_NE(ends[0], ends[1]);
    }
  }
  EXPECT_GT(contacts, 0);
}

}  // namespace
}  // namespace zoneproof::handover
