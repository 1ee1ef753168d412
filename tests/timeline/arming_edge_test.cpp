#include "timeline/arming_edge.hpp"

#include <gtest/gtest.h>

#include "timeline/lane.hpp"
#include "timeline/restart.hpp"

namespace zoneproof::timeline {

namespace {

EdgeRow row(const site::Site& site, ArmingPhase phase) {
  for (const EdgeRow& one : arming_edge(site, "t"))
    if (one.phase == phase) return one;
  return {};
}

site::Site of_type(const char* type) {
  Json file = lane();
  file["zones"]["z"]["type"] = type;
  return site_of(file);
}

}  // namespace

TEST(ArmingEdge, OfAnIntruderZoneIsQuietUntilArmed) {
  const site::Site site = of_type("intruder");
  EXPECT_EQ(row(site, ArmingPhase::disarmed).alarm, Does::no);
  EXPECT_EQ(row(site, ArmingPhase::disarmed).clip, Does::no);
  EXPECT_EQ(row(site, ArmingPhase::leaving).alarm, Does::open) << "panels differ: nobody can say";
  EXPECT_EQ(row(site, ArmingPhase::armed).alarm, Does::yes);
  EXPECT_EQ(row(site, ArmingPhase::armed).clip, Does::yes);
}

TEST(ArmingEdge, OfAnEntryZoneAlarmsWhenTheTimeIsOver) {
  const EdgeRow entering = row(of_type("entry_exit"), ArmingPhase::entering);
  EXPECT_EQ(entering.alarm, Does::later);
  EXPECT_EQ(entering.clip, Does::yes);
  EXPECT_EQ(entering.lasts.span.high, 30.0);
}

TEST(ArmingEdge, OfA24HourZoneAlarmsWithoutAClipWhileDisarmed) {
  const EdgeRow disarmed = row(of_type("twenty_four_hour"), ArmingPhase::disarmed);
  EXPECT_EQ(disarmed.alarm, Does::yes);
  EXPECT_EQ(disarmed.clip, Does::no);
}

TEST(ArmingEdge, RecordsFromTheMomentThatTheOutputIsSetTo) {
  EXPECT_EQ(row(of_type("entry_exit"), ArmingPhase::leaving).clip, Does::no);
  Json file = lane();
  file["outputs"]["armed"]["moment"] = "exit_start";
  EXPECT_EQ(row(site_of(file), ArmingPhase::leaving).clip, Does::yes);
  file["outputs"]["armed"].erase("moment");
  const EdgeRow unknown = row(site_of(file), ArmingPhase::leaving);
  EXPECT_EQ(unknown.clip, Does::open);
  EXPECT_EQ(unknown.gaps.front().pointer, "/zones/z/type");
}

TEST(ArmingEdge, WithoutAnArmingWireTheUnitRecordsAlways) {
  Json file = lane();
  file["units"]["unit"]["arming"]["output"] = "none";
  EXPECT_EQ(row(site_of(file), ArmingPhase::disarmed).clip, Does::yes);
}

// Camera after its switch 20 + 40, unit 60, router 30: all after 60 s; the panel after 10.
TEST(Restart, ACameraStartsAfterWhatPowersIt) {
  const Restart told = restart(site_of(lane()), "t", "ch");
  ASSERT_TRUE(told.all.known);
  EXPECT_EQ(told.all.span.high, 60.0);
  EXPECT_EQ(told.without_clip.span.high, 50.0);
  Json slower = lane();
  slower["parts"]["eye"]["camera"]["boot_s"] = 90;
  EXPECT_EQ(restart(site_of(slower), "t", "ch").all.span.high, 110.0);
}

TEST(Restart, IsOpenWhereOneThingDoesNotSay) {
  Json file = lane();
  file["parts"]["way_out"]["router"].erase("boot_s");
  const Restart told = restart(site_of(file), "t", "ch");
  EXPECT_FALSE(told.all.known);
  EXPECT_FALSE(told.without_clip.known);
  EXPECT_EQ(told.all.gaps.front().pointer, "/parts/way_out/router/boot_s");
}

}  // namespace zoneproof::timeline
