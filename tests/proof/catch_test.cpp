// An alarm too short for the panel or the unit leaves no chain proven.
#include <gtest/gtest.h>

#include "electric/answers.hpp"
#include "proof/demo.hpp"

namespace zoneproof::demo {
namespace {

using site::Origin;
using site::Value;

class Catch : public testing::Test {
 protected:
  site::Site kiln_ = site_of(bytes("kiln-yard.site.json"), "kiln-yard.site.json");
  site::Site tern_ = site_of(bytes("tern-hollow.site.json"), "tern-hollow.site.json");

  static site::UnitInputSpec& input(site::Site& site, const std::string& unit) {
    return site.parts.at(site.units.at(unit).part.id).unit->input;
  }
  static site::ZoneTerminalSpec& terminal(site::Site& site) {
    return *site.parts.at(site.panels.at("panel").zone_terminal.id).zone_terminal;
  }
  static chain::Evidence evidence(const site::Site& site, const std::string& zone, const std::string& check) {
    for (const chain::Evidence& one : electric::electrical_answers(site, zone)) {
      if (one.subject == zone && one.id == check) return one;
    }
    throw std::runtime_error("no " + check + " of " + zone);
  }
  static chain::Verdict verdict(const site::Site& site, const std::string& zone, const std::string& check) {
    return evidence(site, zone, check).verdict;
  }
};

TEST_F(Catch, AUnitSlowerThanTheDetectorHoldsIsBroken) {
  input(kiln_, "unit").debounce_s = Value::exactly(2.5, Origin::data_sheet);  // the motion detectors hold for 2 s
  EXPECT_EQ(verdict(kiln_, "z2", "unit_catches_alarm"), chain::Verdict::broken);
  EXPECT_EQ(verdict(kiln_, "z2", "panel_catches_alarm"), chain::Verdict::proven);
  EXPECT_EQ(evidence(kiln_, "z2", "unit_catches_alarm").remedies.size(), 1U);
}

TEST_F(Catch, ADoorOpenedForAMomentThatThePanelCountsNeedsItsPictureToo) {
  // The rulebook's shortest alarm is 0.4 s and this unit catches that; but the panel may count 0.25 s, the unit not.
  input(kiln_, "unit").debounce_s = Value::exactly(0.3, Origin::data_sheet);
  const chain::Evidence door = evidence(kiln_, "z1", "unit_catches_alarm");
  EXPECT_EQ(door.verdict, chain::Verdict::broken);
  EXPECT_LT(*door.value, 0.4);
  EXPECT_GT(*door.value, *door.limit);
  EXPECT_EQ(verdict(kiln_, "z2", "unit_catches_alarm"), chain::Verdict::proven);
}

TEST_F(Catch, APanelTooSlowForADoorIsBroken) {
  terminal(kiln_).debounce_s = Value::exactly(0.5, Origin::data_sheet);
  EXPECT_EQ(verdict(kiln_, "z1", "panel_catches_alarm"), chain::Verdict::broken);
  EXPECT_EQ(verdict(kiln_, "z2", "panel_catches_alarm"), chain::Verdict::proven);
}

TEST_F(Catch, WithLittleToSpareItIsThin) {
  terminal(kiln_).debounce_s = Value::exactly(0.34, Origin::data_sheet);
  EXPECT_EQ(verdict(kiln_, "z1", "panel_catches_alarm"), chain::Verdict::thin);
}

TEST_F(Catch, WhatIsNotKnownIsUnanswered) {
  input(kiln_, "unit").sampling_s = Value();
  terminal(kiln_).scan_s = Value();
  EXPECT_EQ(verdict(kiln_, "z2", "unit_catches_alarm"), chain::Verdict::unanswered);
  EXPECT_EQ(verdict(kiln_, "z2", "panel_catches_alarm"), chain::Verdict::unanswered);
}

TEST_F(Catch, ATypicalTimeIsNoProof) {
  input(kiln_, "unit").debounce_s.origin = Origin::typical;
  EXPECT_EQ(verdict(kiln_, "z2", "unit_catches_alarm"), chain::Verdict::unanswered);
}

TEST_F(Catch, AHoldThatNobodyKnowsIsUnanswered) {
  for (auto& [id, part] : kiln_.parts) {
    if (!part.detector) continue;
    for (auto& [name, contact] : part.detector->contacts) contact.hold_s = Value();
  }
  EXPECT_EQ(verdict(kiln_, "z2", "unit_catches_alarm"), chain::Verdict::unanswered);
  EXPECT_EQ(verdict(kiln_, "z2", "panel_catches_alarm"), chain::Verdict::unanswered);
}

TEST_F(Catch, WithoutTheRuleADoorIsUnanswered) {
  kiln_.rulebooks.at("european_intruder").entries.erase("shortest_alarm_s");
  EXPECT_EQ(verdict(kiln_, "z1", "panel_catches_alarm"), chain::Verdict::unanswered);
}

TEST_F(Catch, AnOutputThatFollowsItsZoneGivesWhatThePanelLeavesOfTheAlarm) {
  site::Output& output = tern_.outputs.at(tern_.triggers.at("t10").output.id);
  output.hold_s = Value();
  output.hold_s.state = Value::State::none;
  const chain::Evidence caught = evidence(tern_, "z10", "unit_catches_alarm");
  const chain::Evidence panel = evidence(tern_, "z10", "panel_catches_alarm");
  ASSERT_TRUE(caught.limit && panel.limit && panel.value);
  EXPECT_LT(*caught.limit, *panel.limit - 0.3);  // less than the contact holds, by what the panel takes to count it
  EXPECT_EQ(caught.verdict, chain::Verdict::proven);
}

TEST_F(Catch, AnOutputWhosePulseIsNotKnownIsUnanswered) {
  for (auto& [id, output] : tern_.outputs) output.hold_s = Value();
  EXPECT_EQ(verdict(tern_, "z10", "unit_catches_alarm"), chain::Verdict::unanswered);
}

}  // namespace
}  // namespace zoneproof::demo
