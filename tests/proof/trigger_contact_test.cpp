// Contacts that trigger: of the right detector, reporting the alarm, free, and strong enough.
#include "proof/trigger_contact.hpp"

#include <gtest/gtest.h>

#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

/// z3 has the spare contact of d_reading, z6 relay1 and z7 relay2 of d_receiver; z4 shares a pair with z3.
site::Site tern_hollow() { return demo::site_of(demo::bytes("tern-hollow.site.json"), "tern-hollow.site.json"); }

chain::Evidence evidence_of(const site::Site& site, const std::string& trigger, const std::string& check) {
  for (const chain::Evidence& e : check_trigger_contact(site, trigger)) {
    if (e.id == check) return e;
  }
  ADD_FAILURE() << trigger << " has no " << check;
  return {};
}

void expect_broken(const chain::Evidence& e, const char* code) {
  EXPECT_EQ(e.verdict, chain::Verdict::broken);
  ASSERT_TRUE(e.says);
  EXPECT_EQ(e.says->code, code) << text(*e.says);
}

TEST(TriggerContact, IsRightOnTheDemoSite) {
  const site::Site site = tern_hollow();
  for (const char* trigger : {"t3", "t4", "t5", "t6", "t7"}) {
    for (const chain::Evidence& e : check_trigger_contact(site, trigger)) {
      EXPECT_EQ(e.verdict, chain::Verdict::proven) << trigger << " " << e.id << " " << (e.says ? text(*e.says) : "");
    }
  }
}

TEST(TriggerContact, OfAnotherZonesDetectorIsBroken) {
  site::Site site = tern_hollow();
  site.triggers.at("t3").detector.id = "d_prints";  // on the same pair, but z4's
  expect_broken(evidence_of(site, "t3", "contact_of_zone"), "contact_of_other_zone");
  site.triggers.at("t6").detector.id = "d_vault";  // a wireless zone lists no detectors, but this one is z5's
  expect_broken(evidence_of(site, "t6", "contact_of_zone"), "contact_of_other_zone");
}

TEST(TriggerContact, OfADetectorInNoLoopIsBrokenWhereTheLoopIsCompleteAndElseAskedFor) {
  site::Site site = tern_hollow();
  site.triggers.at("t5").detector.id = "d_receiver";
  expect_broken(evidence_of(site, "t5", "contact_of_zone"), "contact_of_no_zone");
  site.zones.at("z5").loop.contacts_complete.value = false;
  const chain::Evidence open = evidence_of(site, "t5", "contact_of_zone");
  EXPECT_EQ(open.verdict, chain::Verdict::unanswered);
  ASSERT_EQ(open.gaps.size(), 1U);
  EXPECT_EQ(open.gaps.front().reason, "incomplete_list");
}

TEST(TriggerContact, OfTamperMaskOrFaultIsBroken) {
  site::Site site = tern_hollow();
  for (const char* contact : {"tamper", "mask", "fault"}) {
    site.triggers.at("t3").contact = contact;
    expect_broken(evidence_of(site, "t3", "contact_reports_alarm"), "contact_reports_no_alarm");
  }
}

TEST(TriggerContact, WithAnIdThatSaysNothingIsAskedFor) {
  site::Site site = tern_hollow();
  site.triggers.at("t3").contact = "c2";
  EXPECT_EQ(evidence_of(site, "t3", "contact_reports_alarm").verdict, chain::Verdict::unanswered);
  site::LoopContact& on_a_loop = site.zones.at("z3").loop.contacts["other"];  // there its role is stated
  on_a_loop.detector.id = "d_reading";
  on_a_loop.contact = "c2";
  on_a_loop.role.value = site::ContactRole::tamper;
  expect_broken(evidence_of(site, "t3", "contact_reports_alarm"), "contact_reports_no_alarm");
}

TEST(TriggerContact, ThatIsNotFreeIsBroken) {
  site::Site site = tern_hollow();
  site.triggers.at("t3").contact = "alarm";
  expect_broken(evidence_of(site, "t3", "contact_used_once"), "contact_in_a_loop");
  site.triggers.at("t7").contact = "relay1";
  expect_broken(evidence_of(site, "t6", "contact_used_once"), "contact_used_twice");
  expect_broken(evidence_of(site, "t7", "contact_used_once"), "contact_used_twice");
}

/// A pull-up of 100 ohm to the supply drives the supply's highest voltage over 100 ohm through the closed contact, by
/// Ohm's law beside the current of the unit's own pull-up.
TEST(TriggerContact, ThatIsTooWeakForThePullUpIsBroken) {
  site::Site site = tern_hollow();
  site::Trigger& trigger = site.triggers.at("t3");
  const site::Unit& unit = site.units.at(trigger.unit.id);
  const double supply = site.parts.at(site.supplies.at(unit.feed.from.id).part.id).supply->mains_V.high;
  trigger.pullup_ohm = site::Value::exactly(100.0, site::Origin::measured);
  site.parts.at(unit.part.id).unit->input.pullup_ohm = {};
  site.parts.at(unit.part.id).unit->input.pullup_ohm.state = site::Value::State::none;
  site::ContactSpec& contact = site.parts.at(site.detectors.at("d_reading").part.id).detector->contacts.at("spare");
  contact.max_A = site::Value::exactly(supply / 100.0 * 0.99, site::Origin::data_sheet);
  expect_broken(evidence_of(site, "t3", "contact_current"), "contact_overloaded");
  contact.max_V = site::Value::exactly(supply * 0.99, site::Origin::data_sheet);
  expect_broken(evidence_of(site, "t3", "contact_voltage"), "contact_overloaded");
  contact.max_A = site::Value::exactly(1.0, site::Origin::data_sheet);
  EXPECT_EQ(evidence_of(site, "t3", "contact_current").verdict, chain::Verdict::proven);
}

}  // namespace
}  // namespace zoneproof::proof
