// One datum taken away or set against the others: the link that rests on it is never proven.
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <map>
#include <ostream>

#include "electric/arming_check.hpp"
#include "electric/supply_check.hpp"
#include "electric/zone_circuit.hpp"
#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

using chain::Link;

struct Edit {
  const char* name;
  std::function<void(site::Site&)> apply;
  const char* link;
  const char* verdict;
  const char* check;
};
void PrintTo(const Edit& edit, std::ostream* stream) { *stream << edit.name; }

site::ZoneTerminalSpec& terminal(site::Site& site) {
  const std::string part = site.panels.at("panel").zone_terminal.id;
  return *site.parts.at(part).zone_terminal;
}
site::UnitInputSpec& input(site::Site& site) { return site.parts.at(site.units.at("unit").part.id).unit->input; }
site::InputSetting& setting(site::Site& site) { return site.triggers.at("t1").setting; }
site::Loop& loop(site::Site& site) { return site.zones.at("z1").loop; }
site::Output& arming(site::Site& site) { return site.outputs.at("output_1"); }

void forget_roles(site::Site& site) {
  for (auto& [id, contact] : loop(site).contacts) contact.role.value.reset();
}

const Edit edits[] = {
    {"role_unknown", forget_roles, "loop", "unanswered", "panel_reads_alarm"},
    {"role_unknown_at_unit", forget_roles, "trigger", "unanswered", "unit_reads_alarm"},
    {"no_contacts", [](site::Site& s) { loop(s).contacts.clear(); }, "loop", "broken", "panel_reads_alarm"},
    {"no_contacts_at_unit", [](site::Site& s) { loop(s).contacts.clear(); }, "trigger", "broken", "unit_reads_alarm"},
    {"drive_unknown", [](site::Site& s) { terminal(s).drive.value.reset(); }, "loop", "unanswered",
     "panel_reads_alarm"},
    {"drive_scanned", [](site::Site& s) { terminal(s).drive.value = site::TerminalDrive::scanned; }, "loop",
     "unanswered", "panel_reads_alarm"},
    {"medium_unknown", [](site::Site& s) { s.zones.at("z1").medium.value.reset(); }, "loop", "unanswered",
     "panel_reads_alarm"},
    {"eol_place_unknown", [](site::Site& s) { loop(s).eol_place.value.reset(); }, "loop", "unanswered",
     "panel_reads_alarm"},
    {"setting_with_a_wide_tolerance",
     [](site::Site& s) {
       setting(s).normal_max_V.low = 2.0;
       setting(s).normal_max_V.high = 3.6;
     },
     "trigger", "broken", "unit_reads_rest"},
    {"setting_beyond_what_the_unit_measures",
     [](site::Site& s) { input(s).measuring_max_V = site::Value::exactly(2.6, site::Origin::data_sheet); }, "trigger",
     "broken", "setting_fits"},
    {"two_limits_on_one_threshold", [](site::Site& s) { input(s).judging.value = site::Judging::threshold; }, "trigger",
     "broken", "setting_fits"},
    {"setting_off_the_grid",
     [](site::Site& s) { input(s).step_V = site::Value::exactly(0.2, site::Origin::data_sheet); }, "trigger", "broken",
     "setting_fits"},
    {"step_unknown", [](site::Site& s) { input(s).step_V.state = site::Value::State::unknown; }, "trigger",
     "unanswered", "setting_fits"},
    {"judging_unknown", [](site::Site& s) { input(s).judging.value.reset(); }, "trigger", "unanswered", "setting_fits"},
    {"arming_follows_a_zone", [](site::Site& s) { arming(s).follows.value = site::FollowedEvent::zone_state; },
     "trigger", "broken", "armed_with_zone"},
    {"arming_is_a_pulse", [](site::Site& s) { arming(s).mode.value = site::OutputMode::pulse; }, "trigger", "broken",
     "armed_with_zone"},
    {"arming_mode_unknown", [](site::Site& s) { arming(s).mode.value.reset(); }, "trigger", "unanswered",
     "armed_with_zone"},
    {"arming_follows_unknown", [](site::Site& s) { arming(s).follows.value.reset(); }, "trigger", "unanswered",
     "armed_with_zone"},
    {"feed_output_unknown", [](site::Site& s) { s.units.at("unit").feed.output.clear(); }, "deliver", "unanswered",
     "supply_voltage"},
};

class LessKnown : public testing::TestWithParam<Edit> {};

TEST_P(LessKnown, IsNeverProven) {
  const Edit& edit = GetParam();
  site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
  edit.apply(site);
  const demo::LinkVerdict found = demo::verdicts_of(site, demo::prove(site)).at({"z1", edit.link});
  EXPECT_EQ(found.verdict, edit.verdict);
  EXPECT_EQ(std::count(found.checks.begin(), found.checks.end(), edit.check), 1)
      << testing::PrintToString(found.checks);
}

INSTANTIATE_TEST_SUITE_P(kiln_yard, LessKnown, testing::ValuesIn(edits),
                         [](const auto& param) { return std::string(param.param.name); });

TEST(ArmedWithZone, AZoneOfAnotherPartitionFindsTheUnitDisarmed) {
  site::Site site = demo::tern_hollow();
  site.outputs.at("output_1").partitions.front().id = "vault";
  const demo::LinkVerdict found = demo::verdicts_of(site, demo::prove(site)).at({"z1", "trigger"});
  EXPECT_EQ(found.verdict, "broken");
  EXPECT_EQ(std::count(found.checks.begin(), found.checks.end(), "armed_with_zone"), 1);
}

// Nobody arms anything before a hold-up: the unit has to act on that input by day as well.
TEST(ArmedWithZone, AZoneThatAlarmsAtAnyHourIsProvenOnlyWhereTheUnitActsOnItAtAnyHour) {
  const auto verdict_with = [](std::optional<bool> at_any_hour) {
    site::Site site = demo::tern_hollow();
    site.triggers.at("t10").setting.at_any_hour.value = at_any_hour;
    const demo::LinkVerdict found = demo::verdicts_of(site, demo::prove(site)).at({"z10", "trigger"});
    EXPECT_EQ(std::count(found.checks.begin(), found.checks.end(), "armed_with_zone"), 1);
    return found.verdict;
  };
  EXPECT_EQ(verdict_with(false), "broken");
  EXPECT_EQ(verdict_with(std::nullopt), "unanswered");
  EXPECT_EQ(verdict_with(true), "proven");
}

TEST(SpareContact, MovesWithItsOwnDetectorOnly) {
  site::Site site = demo::tern_hollow();
  auto& contacts = site.zones.at("z3").loop.contacts;
  site::LoopContact second = contacts.at("reading");  // another detector on the pair, without a wire to the unit
  second.detector.id = "d_hall";
  contacts.emplace("second_pir", second);
  const demo::LinkVerdict found = demo::verdicts_of(site, demo::prove(site)).at({"z3", "trigger"});
  EXPECT_EQ(found.verdict, "broken");
  EXPECT_EQ(std::count(found.checks.begin(), found.checks.end(), "unit_reads_alarm"), 1);
}

TEST(Protection, UnknownLeavesItOpenWhetherTheOutputStarts) {
  site::Site site = demo::tern_hollow();
  for (auto& [id, output] : site.parts.at(site.supplies.at("video_supply").part.id).supply->outputs) {
    output.protection.value.reset();
  }
  int open = 0;
  for (const chain::Evidence& evidence : electric::check_supply(site)) {
    if (evidence.subject != "video_supply" || evidence.id != "starts") continue;
    EXPECT_EQ(evidence.verdict, chain::Verdict::unanswered);
    ++open;
  }
  EXPECT_EQ(open, 1);
}

TEST(SupplyCurrent, IsAskedForWhereThePartOfTheSupplyIsUnknown) {
  site::Site site = demo::tern_hollow();
  site.supplies.at("video_supply").part.id.clear();
  int open = 0;
  for (const chain::Evidence& evidence : electric::check_supply(site)) {
    if (evidence.subject != "video_supply" || evidence.id != "supply_current") continue;
    EXPECT_EQ(evidence.verdict, chain::Verdict::unanswered);
    EXPECT_EQ(evidence.gaps.at(0).pointer, "/supplies/video_supply/part");
    ++open;
  }
  EXPECT_EQ(open, 1);
}

double sunk(const site::Site& site) {
  for (const chain::Evidence& evidence : electric::check_arming(site, "unit_house")) {
    if (evidence.id == "arming_sink") return evidence.value.value_or(0.0);
  }
  return 0.0;
}

/// Of an ideal diode the network has no solution; whatever the file says of the clamps, there is a network.
TEST(Clamps, WithAResistanceThatIsZeroUnknownOrNoneAreBuiltOrAskedFor) {
  const auto gaps = [](site::Value::State forward, site::Value::State on_ohm) {
    site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
    const auto set = [](site::Value& value, site::Value::State state, double number) {
      const std::string pointer = value.pointer;
      value = site::Value::exactly(number, site::Origin::data_sheet);
      value.state = state;
      value.pointer = pointer;
    };
    set(input(site).clamp_forward_V, forward, 0.6);
    set(input(site).clamp_on_ohm, on_ohm, 0.0);
    electric::ZoneSituation situation;
    situation.zone = "z1";
    situation.trigger = "t1";
    const electric::ZoneCircuit circuit = electric::build_zone_circuit(site, situation);
    std::vector<std::string> missing;
    for (const chain::Gap& gap : circuit.wiring.gaps())
      missing.push_back(gap.pointer.substr(gap.pointer.rfind('/') + 1));
    return missing;
  };
  using State = site::Value::State;
  EXPECT_EQ(gaps(State::unknown, State::none), std::vector<std::string>{"clamp_forward_V"});
  EXPECT_EQ(gaps(State::known, State::none), std::vector<std::string>{"clamp_on_ohm"});
  EXPECT_TRUE(gaps(State::known, State::unknown).empty());  // an element's datum, named where it moves a level
  EXPECT_TRUE(gaps(State::known, State::known).empty());
}

TEST(Arming, WhatIsUnknownLeavesItsQuestionsOpenAndNoneOut) {
  const auto answers = [](const std::function<void(site::Site&)>& forget) {
    site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
    forget(site);
    std::map<std::string, chain::Verdict> verdicts;
    for (const chain::Evidence& e : electric::check_arming(site, "unit")) verdicts[e.id] = e.verdict;
    return verdicts;
  };
  const auto all = answers([](site::Site&) {});
  ASSERT_EQ(all.count("arming_sink"), 1U);
  const std::function<void(site::Site&)> kinds[] = {
      [](site::Site& s) { s.units.at("unit").arming.output.id.clear(); },
      [](site::Site& s) { s.units.at("unit").part.id.clear(); },
      [](site::Site& s) { s.units.at("unit").arming.armed_level.value.reset(); },
      [](site::Site& s) { arming(s).part.id.clear(); },
      [](site::Site& s) { arming(s).panel.id.clear(); },
      [](site::Site& s) { s.parts.at(arming(s).part.id).output->kind.value.reset(); },
  };
  for (const auto& forget : kinds) {
    const auto left = answers(forget);
    EXPECT_EQ(left.size(), all.size());
    EXPECT_NE(left.at("arming_armed"), chain::Verdict::proven);
  }
  EXPECT_EQ(answers(kinds[5]).at("arming_sink"), chain::Verdict::unanswered);
}

TEST(ArmingOutput, SinksThePullUpsOfAllUnitsOnIt) {
  site::Site site = demo::tern_hollow();
  const double one = sunk(site);
  ASSERT_GT(one, 0.0);
  site.units.at("unit_vault").arming.output = site.units.at("unit_house").arming.output;
  EXPECT_GT(sunk(site), 1.5 * one);
}

}  // namespace
}  // namespace zoneproof::proof
