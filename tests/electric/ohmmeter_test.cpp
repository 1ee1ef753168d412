// What an ohmmeter shows of a dead site, held against decks drawn by hand (decks/README.md) and run by ngspice.
#include "electric/ohmmeter.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "electric/hand_deck.hpp"

namespace zoneproof::electric {
namespace {

constexpr double agreement_share = 1e-6;  // of the resistance; the worst case is exact to 1e-3 ohm
constexpr double agreement_ohm = 1.1e-3;

/// Every detector of the decks needs a supply; its alarm and mask relays release, its lid switch does not care.
std::string energised(const std::string& alarm_contact, const std::string& released) {
  return R"({"parts": {"detector_part": {"detector": {"supply_min_V": 9, "supply_max_V": 15, "current_A": 0.01,
             "contacts": {")" +
         alarm_contact + R"(": {"without_supply": ")" + released +
         R"("}, "lid": {"kind": "reed", "at_rest": "closed", "closed_ohm": 0.35, "open_ohm": 5000000,
             "reports": "tamper", "without_supply": "unaffected"}}}}},
             "detectors": {"da": {"feed": {"from": "psu", "output": "aux", "cable": "none"}},
                           "db": {"feed": {"from": "psu", "output": "aux", "cable": "none"}},
                           "dc": {"feed": {"from": "psu", "output": "aux", "cable": "none"}},
                           "dd": {"feed": {"from": "psu", "output": "aux", "cable": "none"}},
                           "dm": {"feed": {"from": "psu", "output": "aux", "cable": "none"}}}})";
}

void expect_ohms(double ours, double theirs, const std::string& what) {
  EXPECT_NEAR(ours, theirs, agreement_ohm + agreement_share * theirs) << what;
}

/// Holds the engine against every point of a deck: nominal points equal, corner points the ends, others within.
void hold(const std::string& deck, const site::Site& site) {
  const Ohms dead = loop_ohms(site, "z1", FarEnd::as_it_is), joined = loop_ohms(site, "z1", FarEnd::joined);
  double lowest = circuit::infinite, highest = 0.0;
  for (const HandPoint& point : run_deck(deck)) {
    SCOPED_TRACE(deck + " " + point.state);
    const Ohms& ours = point.state == "dead" ? dead : joined;
    ASSERT_TRUE(ours.known) << (ours.gaps.empty() ? "" : ours.gaps.front().pointer);
    const double theirs = point.values.at("pair");
    if (point.claim == Claim::nominal) expect_ohms(*ours.nominal, theirs, "nominal");
    EXPECT_LE(*ours.low, theirs + agreement_ohm + agreement_share * theirs);
    EXPECT_GE(*ours.high, theirs - agreement_ohm - agreement_share * theirs);
    if (point.state != "dead" || point.claim == Claim::within) continue;
    lowest = std::min(lowest, theirs);
    highest = std::max(highest, theirs);
  }
  expect_ohms(*dead.low, lowest, "lowest");
  expect_ohms(*dead.high, highest, "highest");
  EXPECT_TRUE(dead.low_exact && dead.high_exact);
}

std::string with_lid(std::string patch) {
  patch.insert(1, R"("zones": {"z1": {"loop": {"contacts": {"c": {"contact": "lid"}}}}},)");
  return patch;
}

TEST(AnUnpoweredDetectorsRelayHasReleased, AndADoubleEndOfLineLoopReadsAlarmWithItsTolerances) {
  site::Site site = deck_site("double_eol", with_lid(energised("closed", "open")));
  for (site::Value* ohm : {&site.zones.at("z1").loop.eol_ohm, &site.zones.at("z1").loop.alarm_ohm}) {
    const double nominal = ohm->nominal;
    ohm->replace_with(site::Value::between(0.95 * nominal, nominal, 1.05 * nominal, site::Origin::measured));
    ohm->spread = site::Spread::min_max;
  }
  hold("dead_double_eol", site);
}

TEST(AnUnpoweredDetectorsRelayHasReleased, InEveryArrangement) {
  hold("dead_triple_eol", deck_site("triple_eol", with_lid(energised("closed", "open"))));
  hold("dead_normally_closed", deck_site("normally_closed", with_lid(energised("closed", "open"))));
  hold("dead_single_eol_open", deck_site("single_eol_open", energised("open", "closed")));
  hold("dead_doubled_series", deck_site("doubled_series", energised("closed", "open")));
  hold("dead_shared_return", deck_site("shared_return", energised("closed", "open")));
  hold("dead_eol_closed_at_panel", deck_site("eol_closed_at_panel", energised("closed", "open")));
}

TEST(ADetectorThatNeedsNoSupply, StaysAtRestWhenEverythingIsDead) {
  const Ohms powered_or_not = loop_ohms(deck_site("double_eol"), "z1", FarEnd::as_it_is);
  ASSERT_TRUE(powered_or_not.known);
  EXPECT_NEAR(*powered_or_not.nominal, 5.15 + 0.35 * 6800 / (6800 + 0.35) + 0.35 + 4700 + 5.15, 1e-2);
}

TEST(TheStateOfADeadContactThatNobodyKnows, LeavesTheReadingBlankAndIsNamed) {
  site::Site site = deck_site("double_eol", energised("closed", "open"));
  site.parts.at("detector_part").detector->contacts.at("closed").without_supply.value.reset();
  const Ohms ohms = loop_ohms(site, "z1", FarEnd::as_it_is);
  EXPECT_FALSE(ohms.known);
  ASSERT_FALSE(ohms.gaps.empty());
  EXPECT_EQ(ohms.gaps.front().pointer, "/parts/detector_part/detector/contacts/closed/without_supply");
}

TEST(ALoopThatIsOpenWithoutLeakage, HasNoUpperEnd) {
  site::Site site = deck_site("normally_closed", with_lid(energised("closed", "open")));
  site.parts.at("detector_part").detector->contacts.at("closed").open_ohm.replace_with(site::Value::absent());
  const Ohms ohms = loop_ohms(site, "z1", FarEnd::as_it_is);
  EXPECT_TRUE(ohms.known);
  EXPECT_FALSE(ohms.low.has_value());
  EXPECT_FALSE(ohms.high.has_value());
  const Ohms joined = loop_ohms(site, "z1", FarEnd::joined);
  ASSERT_TRUE(joined.known);
  EXPECT_NEAR(*joined.high, 2 * 5.15, agreement_ohm);
}

TEST(TheCommonNegative, IsWhatTheMinusConductorAndEveryBondMakeOfIt) {
  site::Site site = base_site_with("{}");
  const std::vector<HandPoint> points = run_deck("dead_negatives");
  const Ohms alone = negatives_ohms(site, "u1", "panel");
  ASSERT_TRUE(alone.known);
  expect_ohms(*alone.nominal, points.at(1).values.at("negative"), "its minus conductor alone");
  const Ohms joined =
      negatives_ohms(base_site_with(R"({"bonds": {"b1": {"kind": "wire", "a": "u1", "b": "panel", "cable": "none",
                                          "resistance_ohm": 0.4}}})"),
                     "u1", "panel");
  ASSERT_TRUE(joined.known);
  expect_ohms(*joined.nominal, points.at(0).values.at("negative"), "with a bond");
  site.bonds_complete.value = false;
  EXPECT_EQ(negatives_ohms(site, "u1", "panel").gaps.front().reason, "incomplete_list");
}

TEST(ATriggerWire, HasItsCoreOutAndBackAndTheResistorThatIsPutIntoIt) {
  const Ohms plain = trigger_wire_ohms(base_site_with("{}"), "t1");
  EXPECT_NEAR(*plain.nominal, 2 * (12 * 0.092 + 2 * 0.03), agreement_ohm);
  const Ohms more = trigger_wire_ohms(base_site_with(R"({"triggers": {"t1": {"series_ohm": 10000}}})"), "t1");
  EXPECT_NEAR(*more.nominal, 10000 + 2 * (12 * 0.092 + 2 * 0.03), agreement_ohm);
}

}  // namespace
}  // namespace zoneproof::electric
