// A demo site whose zones are scanned: 5 ms of every 20 ms. What is proven, broken and open, worked out by hand.
#include <gtest/gtest.h>

#include <algorithm>

#include "electric/levels.hpp"
#include "electric/trigger_check.hpp"
#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

site::Value sheet(double value) { return site::Value::exactly(value, site::Origin::data_sheet); }

/// Kiln yard with scanned terminals, 10 nF at each, cables of 100 pF a metre.
site::Site scanned_yard() {
  site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
  site::ZoneTerminalSpec& terminal = *site.parts.at(site.panels.at("panel").zone_terminal.id).zone_terminal;
  terminal.drive.value = site::TerminalDrive::scanned;
  terminal.on_s = sheet(0.005);
  terminal.period_s = sheet(0.02);
  terminal.off_V = sheet(0.0);
  terminal.look_s = sheet(0.004);
  terminal.capacitance_nF = sheet(10.0);
  terminal.filter_s = sheet(0.0);
  for (auto& [id, part] : site.parts) {
    if (part.cable) part.cable->capacitance_nF_per_km = sheet(100.0);
    if (part.unit) part.unit->input.capacitance_nF = sheet(1.0);
  }
  return site;
}

site::UnitInputSpec& input_of(site::Site& site) { return site.parts.at(site.units.at("unit").part.id).unit->input; }

void set_input(site::Site& site, double filter_s, double sampling_s, double debounce_s) {
  input_of(site).filter_s = sheet(filter_s);
  input_of(site).sampling_s = sheet(sampling_s);
  input_of(site).debounce_s = sheet(debounce_s);
}

chain::Evidence reading(const site::Site& site, const std::string& check) {
  const std::vector<electric::Level> levels =
      electric::zone_levels(site, "z1", "t1", {{electric::SupplyCondition::mains}, {electric::UnitCondition::powered}});
  for (chain::Evidence& evidence : electric::check_trigger(site, "t1", levels)) {
    if (evidence.id == check) return evidence;
  }
  throw std::runtime_error("no " + check);
}

bool says(const chain::Evidence& evidence, const char* code) { return evidence.says && evidence.says->code == code; }

bool remedied_by_a_contact(const chain::Evidence& evidence) {
  return std::any_of(evidence.remedies.begin(), evidence.remedies.end(),
                     [](const Message& remedy) { return remedy.code == "pulses_need_a_contact"; });
}

// Pulses of 5 ms settle in well under 1 ms: looks every 1 ms meet each of them.
TEST(ScannedYard, CanBeReadByAUnitWhoseLooksMeetEveryPulse) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.001, 0.0);
  const chain::Evidence evidence = reading(site, "unit_meets_pulses");
  EXPECT_EQ(evidence.verdict, chain::Verdict::proven);
  EXPECT_TRUE(says(evidence, "pulses_met"));
  EXPECT_GT(*evidence.value, 0.004);
  EXPECT_LT(*evidence.value, 0.005);
}

// Every 10 ms of a period of 20 ms is two moments; a pulse of 5 ms stands between them for ever if the phase is so.
TEST(ScannedYard, CannotBeReadByAUnitThatMayLookBetweenThePulsesEachTime) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.01, 0.05);
  const chain::Evidence evidence = reading(site, "unit_meets_pulses");
  EXPECT_EQ(evidence.verdict, chain::Verdict::broken);
  EXPECT_TRUE(says(evidence, "pulses_never_met"));
  EXPECT_TRUE(remedied_by_a_contact(evidence));
  EXPECT_DOUBLE_EQ(*evidence.value, 0.005);
  EXPECT_DOUBLE_EQ(*evidence.limit, 0.01);
}

// Every 7 ms falls on twenty moments of a period of 20 ms: some meet the pulse, but looks that drift may not.
TEST(ScannedYard, IsLeftToChanceWhereLooksAreFartherApartThanThePulseIsLong) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.007, 0.05);
  const chain::Evidence evidence = reading(site, "unit_meets_pulses");
  EXPECT_EQ(evidence.verdict, chain::Verdict::unanswered);
  EXPECT_TRUE(says(evidence, "pulses_met_by_chance"));
  EXPECT_TRUE(remedied_by_a_contact(evidence));
}

// A filter of 2 s holds the mean: three quarters of each level, far enough apart for the unit's error and grid.
TEST(ScannedYard, CanBeReadAtAnyMomentThroughALongFilter) {
  site::Site site = scanned_yard();
  site.parts.at(site.panels.at("panel").zone_terminal.id).zone_terminal->on_s = sheet(0.015);
  set_input(site, 2.0, 0.01, 0.05);
  const chain::Evidence evidence = reading(site, "unit_meets_pulses");
  EXPECT_EQ(evidence.verdict, chain::Verdict::proven);
  EXPECT_TRUE(says(evidence, "pulses_read_any_time"));
}

TEST(ScannedYard, LeavesItOpenWhereTheLooksAreOnlyTypical) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.01, 0.05);
  input_of(site).sampling_s = site::Value::exactly(0.01, site::Origin::typical);
  EXPECT_EQ(reading(site, "unit_meets_pulses").verdict, chain::Verdict::unanswered);
}

TEST(SteadyYard, IsNotAskedWhetherItsUnitMeetsPulses) {
  const site::Site site = demo::site_of(demo::bytes("kiln-yard.site.json"), "kiln-yard.site.json");
  EXPECT_THROW(reading(site, "unit_meets_pulses"), std::runtime_error);
}

TEST(ScannedYard, AUnitThatActsOnOneLookReadsAnAlarmBetweenPulses) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.001, 0.0);
  const chain::Evidence evidence = reading(site, "unit_reads_rest");
  EXPECT_EQ(evidence.verdict, chain::Verdict::broken);
  EXPECT_TRUE(std::any_of(evidence.remedies.begin(), evidence.remedies.end(),
                          [](const Message& remedy) { return remedy.code == "pulses_need_a_contact"; }));
}

// Looks every 1 ms meet each pulse of 5 ms; between two of them are 15 ms, less than the 50 ms that an alarm has to
// last.
TEST(ScannedYard, AUnitThatWaitsLongerThanTheGapReadsRest) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.001, 0.05);
  EXPECT_EQ(reading(site, "unit_reads_rest").verdict, chain::Verdict::proven);
  // In alarm the reading falls between pulses too and never stays for 50 ms: nobody knows what it makes of that.
  EXPECT_EQ(reading(site, "unit_reads_alarm").verdict, chain::Verdict::unanswered);
}

TEST(ScannedYard, LooksThatMayPassThePulsesByProveNothing) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.006, 0.05);  // 6 ms apart: a pulse of 5 ms may fall between two
  EXPECT_EQ(reading(site, "unit_reads_rest").verdict, chain::Verdict::unanswered);
}

TEST(ScannedYard, AGapLongerThanTheUnitWaitsIsBroken) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.001, 0.004);  // 15 ms of nothing, looked at every 1 ms, against 4 ms
  EXPECT_EQ(reading(site, "unit_reads_rest").verdict, chain::Verdict::broken);
}

// A filter of 0.5 s shows the mean, a quarter of 2.5 V: never within 1.4 to 2.75 V.
TEST(ScannedYard, ALongFilterShowsTheMeanAndWantsItsRangesThere) {
  site::Site site = scanned_yard();
  set_input(site, 0.5, 0.001, 0.05);
  const chain::Evidence evidence = reading(site, "unit_reads_rest");
  EXPECT_EQ(evidence.verdict, chain::Verdict::broken);
  ASSERT_TRUE(evidence.bound.has_value());
  EXPECT_NEAR(*evidence.bound, 2.5 / 4.0, 0.1);
}

TEST(ScannedYard, WithAFilterThatIsOnlyTypicalNothingIsProvenOrBroken) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.001, 0.0);
  input_of(site).filter_s = site::Value::exactly(0.5, site::Origin::typical);
  const chain::Evidence evidence = reading(site, "unit_reads_rest");
  EXPECT_EQ(evidence.verdict, chain::Verdict::unanswered);
  EXPECT_FALSE(evidence.gaps.empty());
}

TEST(ScannedYard, WithACapacitanceThatNobodyKnowsNothingIsProven) {
  site::Site site = scanned_yard();
  set_input(site, 0.0, 0.001, 0.05);
  input_of(site).capacitance_nF = site::Value();
  EXPECT_EQ(reading(site, "unit_reads_rest").verdict, chain::Verdict::unanswered);
}

}  // namespace
}  // namespace zoneproof::proof
