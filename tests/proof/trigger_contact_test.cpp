// Contacts that trigger: of the right detector, reporting the alarm, free, and strong enough.
#include "proof/trigger_contact.hpp"

#include <gtest/gtest.h>

#include <utility>

#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

/// z3 has the spare contact of d_reading, z6 relay1 and z7 relay2 of d_receiver; z4 shares a pair with z3.

chain::Evidence trigger_evidence(const site::Site& site, const std::string& trigger, const std::string& check) {
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

void expect_asked(const chain::Evidence& e, const std::string& pointer) {
  EXPECT_EQ(e.verdict, chain::Verdict::unanswered) << (e.says ? text(*e.says) : "");
  ASSERT_EQ(e.gaps.size(), 1U);
  EXPECT_EQ(e.gaps.front().pointer, pointer);
  EXPECT_EQ(e.gaps.front().reason, "unknown");
}

site::ContactProgram& programmed(site::Site& site, const std::string& contact) {
  return site.detectors.at("d_receiver").programmed.at(contact);
}

site::ContactSpec& spec(site::Site& site, const std::string& detector, const std::string& contact) {
  return site.parts.at(site.detectors.at(detector).part.id).detector->contacts.at(contact);
}

TEST(TriggerContact, IsRightOnTheDemoSite) {
  const site::Site site = demo::tern_hollow();
  for (const char* trigger : {"t3", "t4", "t5", "t6", "t7"}) {
    for (const chain::Evidence& e : check_trigger_contact(site, trigger)) {
      EXPECT_EQ(e.verdict, chain::Verdict::proven) << trigger << " " << e.id << " " << (e.says ? text(*e.says) : "");
    }
  }
}

TEST(TriggerContact, OfAnotherZonesDetectorIsBroken) {
  site::Site site = demo::tern_hollow();
  site.triggers.at("t3").detector.id = "d_prints";  // on the same pair, but z4's
  expect_broken(trigger_evidence(site, "t3", "contact_of_zone"), "contact_of_other_zone");
  site.triggers.at("t6").detector.id = "d_vault";  // a wireless zone lists no detectors, but this one is z5's
  site.triggers.at("t6").contact = "spare";
  expect_broken(trigger_evidence(site, "t6", "contact_of_zone"), "contact_of_other_zone");
}

/// The relays of one receiver differ in nothing but what they are programmed to follow.
TEST(TriggerContact, OfAReceiverIsThatOfTheZoneItIsProgrammedToFollow) {
  site::Site site = demo::tern_hollow();
  std::swap(site.triggers.at("t6").contact, site.triggers.at("t7").contact);
  expect_broken(trigger_evidence(site, "t6", "contact_of_zone"), "contact_programmed_for_other_zone");
  expect_broken(trigger_evidence(site, "t7", "contact_of_zone"), "contact_programmed_for_other_zone");
  std::swap(programmed(site, "relay1").zone.id, programmed(site, "relay2").zone.id);  // and now so is the receiver
  EXPECT_EQ(trigger_evidence(site, "t6", "contact_of_zone").verdict, chain::Verdict::proven);
  EXPECT_EQ(trigger_evidence(site, "t7", "contact_of_zone").verdict, chain::Verdict::proven);
}

TEST(TriggerContact, OfAReceiverWhoseProgrammingIsNotKnownIsAskedFor) {
  const std::string at = "/detectors/d_receiver/programmed/relay1/";
  site::Site site = demo::tern_hollow();
  programmed(site, "relay1").zone.id.clear();
  expect_asked(trigger_evidence(site, "t6", "contact_of_zone"), at + "zone");
  EXPECT_EQ(trigger_evidence(site, "t6", "contact_reports_alarm").verdict, chain::Verdict::proven);
  programmed(site, "relay1").reports.value.reset();
  expect_asked(trigger_evidence(site, "t6", "contact_reports_alarm"), at + "reports");
  site.detectors.at("d_receiver").programmed.clear();
  expect_asked(trigger_evidence(site, "t6", "contact_of_zone"), at + "zone");
  expect_asked(trigger_evidence(site, "t6", "contact_reports_alarm"), at + "reports");
  EXPECT_EQ(trigger_evidence(site, "t6", "contact_used_once").verdict, chain::Verdict::proven);
}

TEST(TriggerContact, OfAReceiverProgrammedToReportAFaultIsBroken) {
  site::Site site = demo::tern_hollow();
  programmed(site, "relay1").reports.value = site::ContactRole::fault;  // a low battery, say
  expect_broken(trigger_evidence(site, "t6", "contact_reports_alarm"), "contact_reports_no_alarm");
  EXPECT_EQ(trigger_evidence(site, "t7", "contact_reports_alarm").verdict, chain::Verdict::proven) << "another relay";
}

TEST(TriggerContact, OfADetectorWithoutALoopIsOfTheZoneThatTheDetectorNames) {
  site::Site site = demo::tern_hollow();
  site::Detector& alone = site.detectors["d_alone"];  // a wireless detector with a spare contact
  alone = site.detectors.at("d_vault");
  alone.zone = {"", "/detectors/d_alone/zone"};
  site.triggers.at("t6").detector.id = "d_alone";
  site.triggers.at("t6").contact = "spare";
  expect_asked(trigger_evidence(site, "t6", "contact_of_zone"), "/detectors/d_alone/zone");
  alone.zone.id = "z7";
  expect_broken(trigger_evidence(site, "t6", "contact_of_zone"), "contact_of_other_zone");
  alone.zone.id = "z6";
  EXPECT_EQ(trigger_evidence(site, "t6", "contact_of_zone").verdict, chain::Verdict::proven);
  site.triggers.at("t5").detector.id = "d_alone";  // z5's loop is complete, and this detector is not in it
  alone.zone.id = "z5";
  expect_broken(trigger_evidence(site, "t5", "contact_of_zone"), "contact_of_no_zone");
}

TEST(TriggerContact, IsNotProvenTheZonesOwnByALoopEntryThatDoesNotSayWhatItIs) {
  site::Site site = demo::tern_hollow();
  site.zones.at("z5").loop.contacts.at("vault").role.value.reset();
  expect_asked(trigger_evidence(site, "t5", "contact_of_zone"), "/zones/z5/loop/contacts/vault/role");
  site.zones.at("z3").loop.contacts.at("reading").zone.id.clear();  // two zones share the pair
  expect_asked(trigger_evidence(site, "t3", "contact_of_zone"), "/zones/z3/loop/contacts/reading/zone");
  site.zones.at("z5").loop.contacts.at("vault").detector.id.clear();
  expect_asked(trigger_evidence(site, "t5", "contact_of_zone"), "/zones/z5/loop/contacts/vault/detector");
}

TEST(TriggerContact, OfADetectorInNoLoopIsBrokenWhereTheLoopIsCompleteAndElseAskedFor) {
  site::Site site = demo::tern_hollow();
  site.detectors["d_other"] = site.detectors.at("d_vault");
  site.triggers.at("t5").detector.id = "d_other";
  expect_broken(trigger_evidence(site, "t5", "contact_of_zone"), "contact_of_no_zone");
  site.zones.at("z5").loop.contacts_complete.value = false;
  const chain::Evidence open = trigger_evidence(site, "t5", "contact_of_zone");
  EXPECT_EQ(open.verdict, chain::Verdict::unanswered);
  ASSERT_EQ(open.gaps.size(), 1U);
  EXPECT_EQ(open.gaps.front().reason, "incomplete_list");
}

TEST(TriggerContact, OfTamperMaskOrFaultIsBroken) {
  site::Site site = demo::tern_hollow();
  for (const auto reports : {site::ContactReports::tamper, site::ContactReports::mask, site::ContactReports::fault}) {
    spec(site, "d_reading", "spare").reports.value = reports;
    expect_broken(trigger_evidence(site, "t3", "contact_reports_alarm"), "contact_reports_no_alarm");
  }
}

/// A tamper contact is what a tamper zone alarms for.
TEST(TriggerContact, OfTamperIsTheAlarmOfATamperZone) {
  site::Site site = demo::tern_hollow();
  spec(site, "d_reading", "spare").reports.value = site::ContactReports::tamper;
  site.zones.at("z3").type.value = site::ZoneType::tamper;
  EXPECT_EQ(trigger_evidence(site, "t3", "contact_reports_alarm").verdict, chain::Verdict::proven);
  site.zones.at("z3").type.value.reset();
  expect_asked(trigger_evidence(site, "t3", "contact_reports_alarm"), "/zones/z3/type");
}

TEST(TriggerContact, ReportsWhatItsPartSaysWhateverItIsCalled) {
  site::Site site = demo::tern_hollow();
  const std::string part = site.detectors.at("d_receiver").part.id;
  auto& contacts = site.parts.at(part).detector->contacts;
  contacts["relay_fault"] = contacts.at("relay1");
  contacts.at("relay_fault").reports.value = site::ContactReports::fault;
  site.triggers.at("t6").contact = "relay_fault";
  expect_broken(trigger_evidence(site, "t6", "contact_reports_alarm"), "contact_reports_no_alarm");
  contacts.at("relay_fault").reports.value.reset();
  contacts.at("relay_fault").reports.pointer = "/parts/p/detector/contacts/relay_fault/reports";
  expect_asked(trigger_evidence(site, "t6", "contact_reports_alarm"), "/parts/p/detector/contacts/relay_fault/reports");
  expect_asked(trigger_evidence(site, "t6", "contact_of_zone"), "/parts/p/detector/contacts/relay_fault/reports");
  site.detectors.at("d_receiver").part.id.clear();
  expect_asked(trigger_evidence(site, "t7", "contact_reports_alarm"), "/detectors/d_receiver/part");
}

TEST(TriggerContact, ThatIsNotFreeIsBroken) {
  site::Site site = demo::tern_hollow();
  site.triggers.at("t3").contact = "alarm";
  expect_broken(trigger_evidence(site, "t3", "contact_used_once"), "contact_in_a_loop");
  site.triggers.at("t7").contact = "relay1";
  expect_broken(trigger_evidence(site, "t6", "contact_used_once"), "contact_used_twice");
  expect_broken(trigger_evidence(site, "t7", "contact_used_once"), "contact_used_twice");
}

/// A pull-up of 100 ohm to the supply drives the supply's highest voltage over 100 ohm through the closed contact, by
/// Ohm's law beside the current of the unit's own pull-up.
TEST(TriggerContact, ThatIsTooWeakForThePullUpIsBroken) {
  site::Site site = demo::tern_hollow();
  site::Trigger& trigger = site.triggers.at("t3");
  const site::Unit& unit = site.units.at(trigger.unit.id);
  const double supply = site.parts.at(site.supplies.at(unit.feed.from.id).part.id).supply->mains_V.high;
  trigger.pullup_ohm = site::Value::exactly(100.0, site::Origin::measured);
  site.parts.at(unit.part.id).unit->input.pullup_ohm = {};
  site.parts.at(unit.part.id).unit->input.pullup_ohm.state = site::Value::State::none;
  site::ContactSpec& contact = site.parts.at(site.detectors.at("d_reading").part.id).detector->contacts.at("spare");
  contact.max_A = site::Value::exactly(supply / 100.0 * 0.99, site::Origin::data_sheet);
  expect_broken(trigger_evidence(site, "t3", "contact_current"), "contact_overloaded");
  contact.max_V = site::Value::exactly(supply * 0.99, site::Origin::data_sheet);
  expect_broken(trigger_evidence(site, "t3", "contact_voltage"), "contact_overloaded");
  contact.max_A = site::Value::exactly(1.0, site::Origin::data_sheet);
  EXPECT_EQ(trigger_evidence(site, "t3", "contact_current").verdict, chain::Verdict::proven);
}

/// t6 pulls its input up to the supply and switches it to the negative.
TEST(TriggerContact, IsNeverStrongEnoughWhileAFigureIsUnknownOrAGuess) {
  const auto asks = [](const site::Site& site, const char* check, const std::string& pointer, const char* reason) {
    const chain::Evidence e = trigger_evidence(site, "t6", check);
    EXPECT_EQ(e.verdict, chain::Verdict::unanswered) << check;
    ASSERT_EQ(e.gaps.size(), 1U) << check;
    EXPECT_EQ(e.gaps.front().pointer, pointer);
    EXPECT_EQ(e.gaps.front().reason, reason);
  };
  const site::Site whole = demo::tern_hollow();
  const site::Trigger& trigger = whole.triggers.at("t6");
  const std::string unit = whole.units.at(trigger.unit.id).part.id;
  const std::string part = whole.detectors.at(trigger.detector.id).part.id;
  const std::string contact = "/parts/" + part + "/detector/contacts/" + trigger.contact;

  site::Site site = whole;
  site.parts.at(part).detector->contacts.at(trigger.contact).max_V.state = site::Value::State::unknown;
  asks(site, "contact_voltage", contact + "/max_V", "unknown");
  EXPECT_EQ(trigger_evidence(site, "t6", "contact_current").verdict, chain::Verdict::proven);
  site = whole;
  site.parts.at(part).detector->contacts.at(trigger.contact).max_A.origin = site::Origin::typical;
  asks(site, "contact_current", contact + "/max_A", "typical");
  EXPECT_TRUE(trigger_evidence(site, "t6", "contact_current").limit);
  site = whole;
  site.triggers.at("t6").pullup_ohm.state = site::Value::State::unknown;
  asks(site, "contact_current", "/triggers/t6/pullup_ohm", "unknown");
  EXPECT_FALSE(trigger_evidence(site, "t6", "contact_current").value);
  site = whole;
  site.triggers.at("t6").contact_to.value.reset();
  asks(site, "contact_voltage", "/triggers/t6/contact_to", "unknown");
  site = whole;
  site.units.at(trigger.unit.id).part.id.clear();
  asks(site, "contact_current", "/units/" + trigger.unit.id + "/part", "unknown");
}

TEST(TriggerContact, ThatIsNotKnownLeavesEveryQuestionOpenAndNoneOut) {
  site::Site no_contact = demo::tern_hollow(), no_detector = demo::tern_hollow();
  no_contact.triggers.at("t3").contact.clear();
  no_detector.triggers.at("t3").detector.id.clear();
  for (const char* check : {"contact_reports_alarm", "contact_used_once", "contact_voltage", "contact_current"}) {
    EXPECT_EQ(trigger_evidence(no_contact, "t3", check).gaps.at(0).pointer, "/triggers/t3/contact");
    EXPECT_EQ(trigger_evidence(no_detector, "t3", check).gaps.at(0).pointer, "/triggers/t3/detector");
  }
  EXPECT_EQ(trigger_evidence(no_contact, "t3", "contact_of_zone").gaps.at(0).pointer, "/triggers/t3/contact");
  EXPECT_EQ(trigger_evidence(no_detector, "t3", "contact_of_zone").verdict, chain::Verdict::unanswered);
}

TEST(TriggerContact, IsNotProvenFreeWhileAnotherMayBeTheSame) {
  site::Site site = demo::tern_hollow();
  site.triggers.at("t7").contact.clear();  // another relay of the same receiver
  chain::Evidence e = trigger_evidence(site, "t6", "contact_used_once");
  EXPECT_EQ(e.verdict, chain::Verdict::unanswered);
  EXPECT_EQ(e.gaps.at(0).pointer, "/triggers/t7/contact");
  EXPECT_EQ(trigger_evidence(site, "t3", "contact_used_once").verdict, chain::Verdict::proven) << "another detector's";
  site = demo::tern_hollow();
  site.zones.at("z3").loop.contacts.at("reading").contact.clear();
  e = trigger_evidence(site, "t3", "contact_used_once");
  EXPECT_EQ(e.verdict, chain::Verdict::unanswered);
  EXPECT_EQ(e.gaps.at(0).pointer, "/zones/z3/loop/contacts/reading/contact");
}

}  // namespace
}  // namespace zoneproof::proof
