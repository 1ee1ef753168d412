// Zones and the panel's terminals: each on one that is there, each on its own.
#include "proof/terminals.hpp"

#include <gtest/gtest.h>

#include "proof/demo.hpp"

namespace zoneproof::proof {
namespace {

chain::Evidence terminal_evidence(const site::Site& site, const std::string& zone, const std::string& check) {
  for (const chain::Evidence& e : check_terminals(site)) {
    if (e.subject == zone && e.id == check) return e;
  }
  ADD_FAILURE() << zone << " has no " << check;
  return {};
}

TEST(Terminals, TwoWiredZonesOnOneTerminalAreBrokenBoth) {
  site::Site site = demo::kiln_yard();
  site.zones.at("z2").input.value = 1;
  for (const char* zone : {"z1", "z2"}) {
    const chain::Evidence e = terminal_evidence(site, zone, "terminal_own");
    EXPECT_EQ(e.verdict, chain::Verdict::broken) << zone;
    EXPECT_EQ(e.link, chain::Link::loop);
    ASSERT_TRUE(e.says);
    EXPECT_EQ(e.says->code, "terminal_used_twice");
  }
  EXPECT_EQ(terminal_evidence(site, "z3", "terminal_own").verdict, chain::Verdict::proven);
}

TEST(Terminals, TwoZonesThatShareAPairMayStandOnOneTerminal) {
  site::Site site = demo::tern_hollow();
  ASSERT_EQ(site.zones.at("z3").input.value, site.zones.at("z4").input.value);
  EXPECT_EQ(terminal_evidence(site, "z3", "terminal_own").verdict, chain::Verdict::proven);
  EXPECT_EQ(terminal_evidence(site, "z4", "terminal_own").verdict, chain::Verdict::proven);
  site.zones.at("z4").doubled_with.id.clear();
  EXPECT_EQ(terminal_evidence(site, "z4", "terminal_own").verdict, chain::Verdict::broken);
}

TEST(Terminals, ATerminalBeyondThePanelsInputsIsBroken) {
  site::Site site = demo::kiln_yard();
  site.zones.at("z8").input.value = 99;
  const chain::Evidence e = terminal_evidence(site, "z8", "terminal_exists");
  EXPECT_EQ(e.verdict, chain::Verdict::broken);
  ASSERT_TRUE(e.says);
  EXPECT_EQ(e.says->code, "no_such_terminal");
}

TEST(Terminals, WirelessAndAddressableZonesStandOnNone) {
  for (const chain::Evidence& e : check_terminals(demo::tern_hollow())) {
    EXPECT_TRUE(e.subject != "z6" && e.subject != "z7" && e.subject != "z8" && e.subject != "z9") << e.subject;
  }
}

TEST(Terminals, AnUnknownMediumLeavesTwoZonesOnATerminalUnanswered) {
  site::Site site = demo::kiln_yard();
  site.zones.at("z2").input.value = 1;
  site.zones.at("z2").medium.value.reset();
  EXPECT_EQ(terminal_evidence(site, "z1", "terminal_own").verdict, chain::Verdict::unanswered);
}

void expect_asked(const chain::Evidence& e, const std::string& pointer) {
  EXPECT_EQ(e.verdict, chain::Verdict::unanswered) << e.subject << " " << e.id;
  ASSERT_EQ(e.gaps.size(), 1U);
  EXPECT_EQ(e.gaps.front().pointer, pointer);
}

TEST(Terminals, APanelOfUnknownSizeIsAskedForIt) {
  site::Site site = demo::kiln_yard();
  const std::string part = site.panels.at("panel").part.id;
  site.parts.at(part).panel->inputs.value.reset();
  expect_asked(terminal_evidence(site, "z1", "terminal_exists"), "/parts/" + part + "/panel/inputs");
  site.panels.at("panel").part.id.clear();
  expect_asked(terminal_evidence(site, "z1", "terminal_exists"), "/panels/panel/part");
}

TEST(Terminals, AZoneWhoseTerminalIsUnknownMayBeOnThatOfAnyOther) {
  site::Site site = demo::kiln_yard();
  site.zones.at("z2").input.value.reset();
  for (const char* zone : {"z1", "z2", "z8"}) {
    expect_asked(terminal_evidence(site, zone, "terminal_own"), "/zones/z2/input");
  }
  expect_asked(terminal_evidence(site, "z2", "terminal_exists"), "/zones/z2/input");
  EXPECT_EQ(terminal_evidence(site, "z1", "terminal_exists").verdict, chain::Verdict::proven);
  site.zones.at("z2").medium.value.reset();
  expect_asked(terminal_evidence(site, "z2", "terminal_exists"), "/zones/z2/medium");
  site.zones.at("z2").medium.value = site::Medium::wireless;
  EXPECT_EQ(terminal_evidence(site, "z1", "terminal_own").verdict, chain::Verdict::proven);
}

}  // namespace
}  // namespace zoneproof::proof
