// Contacts on loops: each in one place, and what it is entered for.
#include "proof/loop_contact.hpp"

#include <gtest/gtest.h>

#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

/// z2 has alarm and tamper of d_hall on its loop, z5 those of d_vault; z3 and z4 share the pair of z3, with d_reading
/// for z3 and d_prints for z4; relay3 and relay4 of d_receiver are free.

chain::Evidence contact_evidence(const site::Site& site, const std::string& zone, const std::string& check) {
  for (const chain::Evidence& e : check_loop_contacts(site)) {
    if (e.subject == zone && e.id == check) return e;
  }
  ADD_FAILURE() << zone << " has no " << check;
  return {};
}

void expect_broken(const site::Site& site, const char* zone, const char* check, const char* code) {
  const chain::Evidence e = contact_evidence(site, zone, check);
  EXPECT_EQ(e.verdict, chain::Verdict::broken) << zone;
  EXPECT_EQ(e.link, chain::Link::loop);
  ASSERT_TRUE(e.says);
  EXPECT_EQ(e.says->code, code) << text(*e.says);
}

void expect_asked(const site::Site& site, const char* zone, const char* check, const std::string& pointer,
                  const char* reason = "unknown") {
  const chain::Evidence e = contact_evidence(site, zone, check);
  EXPECT_EQ(e.verdict, chain::Verdict::unanswered) << zone << " " << check;
  ASSERT_EQ(e.gaps.size(), 1U) << zone << " " << check;
  EXPECT_EQ(e.gaps.front().pointer, pointer);
  EXPECT_EQ(e.gaps.front().reason, reason);
}

void expect_proven(const site::Site& site, const char* zone, const char* check) {
  const chain::Evidence e = contact_evidence(site, zone, check);
  EXPECT_EQ(e.verdict, chain::Verdict::proven) << zone << " " << (e.says ? text(*e.says) : "");
}

site::LoopContact& entry(site::Site& site, const char* zone, const char* id) {
  return site.zones.at(zone).loop.contacts.at(id);
}

site::ContactSpec& spec(site::Site& site, const char* detector, const char* contact) {
  return site.parts.at(site.detectors.at(detector).part.id).detector->contacts.at(contact);
}

TEST(LoopContact, IsRightOnTheDemoSites) {
  for (const char* name : {"tern-hollow.site.json", "kiln-yard.site.json"}) {
    const auto all = check_loop_contacts(demo::site_of(demo::bytes(name), name));
    EXPECT_GE(all.size(), 16U) << "two checks of each wired zone";
    for (const chain::Evidence& e : all) {
      EXPECT_EQ(e.verdict, chain::Verdict::proven) << e.subject << " " << e.id << " " << (e.says ? text(*e.says) : "");
    }
  }
}

TEST(LoopContact, OfWirelessAndAddressableZonesIsNotAskedFor) {
  for (const chain::Evidence& e : check_loop_contacts(demo::tern_hollow())) {
    for (const char* zone : {"z6", "z7", "z8", "z9"}) EXPECT_NE(e.subject, zone);
  }
}

TEST(LoopContact, InTwoLoopsIsBrokenInBoth) {
  site::Site site = demo::tern_hollow();
  entry(site, "z5", "vault").detector.id = "d_hall";  // "alarm", as it stands in the loop of z2
  expect_broken(site, "z5", "loop_contact_own", "loop_contact_in_two_loops");
  expect_broken(site, "z2", "loop_contact_own", "loop_contact_in_two_loops");
  expect_proven(site, "z12", "loop_contact_own");
}

TEST(LoopContact, TwiceInOneLoopIsBrokenAndOnASharedPairForBothZones) {
  site::Site site = demo::tern_hollow();
  entry(site, "z5", "vault_tamper").contact = "alarm";
  expect_broken(site, "z5", "loop_contact_own", "loop_contact_entered_twice");
  entry(site, "z3", "prints").detector.id = "d_reading";
  expect_broken(site, "z3", "loop_contact_own", "loop_contact_entered_twice");
  expect_broken(site, "z4", "loop_contact_own", "loop_contact_entered_twice");
}

TEST(LoopContact, ThatTriggersAnInputBesideIsBroken) {
  site::Site site = demo::tern_hollow();
  site.triggers.at("t5").contact = "alarm";
  expect_broken(site, "z5", "loop_contact_own", "loop_contact_triggers_too");
}

TEST(LoopContact, IsNotProvenAloneWhileAnotherMayBeTheSame) {
  site::Site site = demo::tern_hollow();
  entry(site, "z5", "vault").contact.clear();
  expect_asked(site, "z5", "loop_contact_own", "/zones/z5/loop/contacts/vault/contact");
  expect_asked(site, "z5", "loop_contact_role", "/zones/z5/loop/contacts/vault/contact");
  site = demo::tern_hollow();
  entry(site, "z5", "vault").detector.id.clear();  // it may be that of z2
  expect_asked(site, "z2", "loop_contact_own", "/zones/z5/loop/contacts/vault/detector");
  site = demo::tern_hollow();
  site.zones.at("z5").loop.contacts_complete.value.reset();
  expect_asked(site, "z5", "loop_contact_own", "/zones/z5/loop/contacts_complete", "incomplete_list");
  expect_asked(site, "z5", "loop_contact_role", "/zones/z5/loop/contacts_complete", "incomplete_list");
}

TEST(LoopContact, WithARoleThatItsPartContradictsIsBroken) {
  site::Site site = demo::tern_hollow();
  entry(site, "z5", "vault").role.value = site::ContactRole::tamper;  // its part: alarm
  expect_broken(site, "z5", "loop_contact_role", "loop_contact_reports_other");
  site = demo::tern_hollow();
  std::swap(entry(site, "z5", "vault").contact, entry(site, "z5", "vault_tamper").contact);
  expect_broken(site, "z5", "loop_contact_role", "loop_contact_reports_other");
  expect_proven(site, "z5", "loop_contact_own");
  site = demo::tern_hollow();
  spec(site, "d_prints", "alarm").reports.value = site::ContactReports::fault;  // the same part as that of d_reading
  expect_broken(site, "z4", "loop_contact_role", "loop_contact_reports_other");
}

TEST(LoopContact, WhoseReportOrRoleIsNotKnownIsAskedFor) {
  site::Site site = demo::tern_hollow();
  site::Word<site::ContactReports>& reports = spec(site, "d_hall", "alarm").reports;
  reports.value.reset();
  expect_asked(site, "z2", "loop_contact_role", reports.pointer);
  EXPECT_EQ(reports.pointer, "/parts/pir_wide_12m_relay/detector/contacts/alarm/reports");
  site = demo::tern_hollow();
  site.detectors.at("d_hall").part.id.clear();
  expect_asked(site, "z2", "loop_contact_role", "/detectors/d_hall/part");
  site = demo::tern_hollow();
  entry(site, "z2", "hall").role.value.reset();
  expect_asked(site, "z2", "loop_contact_role", "/zones/z2/loop/contacts/hall/role");
}

TEST(LoopContact, OfTamperIsTheAlarmOfATamperZone) {
  site::Site site = demo::tern_hollow();
  entry(site, "z5", "vault_tamper").role.value = site::ContactRole::alarm;
  expect_broken(site, "z5", "loop_contact_role", "loop_contact_reports_other");
  site.zones.at("z5").type.value = site::ZoneType::tamper;
  expect_proven(site, "z5", "loop_contact_role");
  site.zones.at("z5").type.value.reset();
  expect_asked(site, "z5", "loop_contact_role", "/zones/z5/type");
}

/// A receiver's relay in the loop of a wired zone: what it is programmed to decides.
TEST(LoopContact, OfAReceiverReportsWhatItIsProgrammedTo) {
  site::Site site = demo::tern_hollow();
  entry(site, "z5", "vault").detector.id = "d_receiver";
  entry(site, "z5", "vault").contact = "relay3";
  const std::string at = "/detectors/d_receiver/programmed/relay3/";
  expect_asked(site, "z5", "loop_contact_role", at + "reports");
  site::ContactProgram& program = site.detectors.at("d_receiver").programmed["relay3"];
  program.reports.value = site::ContactRole::alarm;
  expect_asked(site, "z5", "loop_contact_role", at + "zone");
  program.zone.id = "z6";
  expect_broken(site, "z5", "loop_contact_role", "loop_contact_of_other_zone");
  program.zone.id = "z5";
  expect_proven(site, "z5", "loop_contact_role");
  program.reports.value = site::ContactRole::fault;
  expect_broken(site, "z5", "loop_contact_role", "loop_contact_reports_other");
}

TEST(LoopContact, OfADetectorThatIsStatedToBeOfAnotherZoneIsBroken) {
  site::Site site = demo::tern_hollow();
  site.detectors.at("d_vault").zone.id = "z6";
  expect_broken(site, "z5", "loop_contact_role", "loop_contact_of_other_zone");
  site.detectors.at("d_prints").zone.id = "z4";
  expect_proven(site, "z4", "loop_contact_role");
  entry(site, "z3", "prints").zone.id.clear();  // on a pair of two zones it has to say whose it is
  expect_asked(site, "z4", "loop_contact_role", "/zones/z3/loop/contacts/prints/zone");
}

}  // namespace
}  // namespace zoneproof::proof
