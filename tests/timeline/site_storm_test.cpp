// The clips of a whole site as a storm, by hand: lane.hpp has one zone, one camera, one uplink.
#include "carriage/site_storm.hpp"

#include <gmock/gmock.h>

#include "carriage/load.hpp"
#include "timeline/lane.hpp"

namespace zoneproof::carriage {

namespace {

using timeline::Json;
using timeline::lane;
using timeline::site_of;

// 10 % for packets, 90 % of 2 Mbit/s counted on.
constexpr double kUplink_bps = 1.8e6, kKeyFrame_bits = 30e3 * 8 * 1.1, kDelay_s = 0.05, kCamera_s = 0.3;

ClipBound bound_of(const Json& file) {
  const std::vector<ClipBound> bounds = clip_bounds(storm_of(site_of(file)));
  EXPECT_EQ(bounds.size(), 1u);
  return bounds.empty() ? ClipBound{} : bounds.front();
}

Json left_out(const std::string& pointer) {
  Json file = lane();
  const Json::json_pointer at(pointer);
  file.at(at.parent_pointer()).erase(at.back());
  return file;
}

}  // namespace

// The first key frame goes over the uplink at once; behind it only pieces of its own.
TEST(SiteStorm, TheFirstPictureTakesItsBitsOverTheUplink) {
  const ClipBound bound = bound_of(lane());
  ASSERT_TRUE(bound.first_picture_s);
  EXPECT_TRUE(bound.gaps.empty());
  const double least = kKeyFrame_bits / kUplink_bps + kDelay_s;
  EXPECT_GE(*bound.first_picture_s, least);
  EXPECT_LE(*bound.first_picture_s, least + 0.1) << "100 Mbit/s before it take hundredths of a second";
}

// The last picture comes 10 s later, 0.3 s late, and waits behind the pre-event at the most: 7 s of 440 kbit/s.
TEST(SiteStorm, TheClipIsCompleteALittleAfterItsEnd) {
  const ClipBound bound = bound_of(lane());
  ASSERT_TRUE(bound.complete_s);
  EXPECT_GE(*bound.complete_s, 10.0 + kCamera_s + kDelay_s);
  EXPECT_LE(*bound.complete_s, 10.0 + kCamera_s + kDelay_s + (7 * 440e3 + kKeyFrame_bits) / kUplink_bps);
}

TEST(SiteStorm, AClipThatIsSentWhenItIsCompleteWaitsForThatWithItsFirstPicture) {
  Json file = lane();
  file["units"]["unit"]["clip"]["sending"] = "when_complete";
  const ClipBound bound = bound_of(file), before = bound_of(lane());
  ASSERT_TRUE(bound.first_picture_s && bound.complete_s);
  EXPECT_GE(*bound.first_picture_s, 10.0 + kCamera_s + kKeyFrame_bits / kUplink_bps);
  EXPECT_GT(*bound.complete_s, *before.complete_s);
}

TEST(SiteStorm, NeverComesLaterThanItsBound) {
  for (const char* sending : {"while_recording", "when_complete"}) {
    Json file = lane();
    file["units"]["unit"]["clip"]["sending"] = sending;
    const SiteStorm storm = storm_of(site_of(file));
    const ClipBound bound = clip_bounds(storm).front();
    const Outcome played = simulate(storm.storm);
    const SiteClip& clip = storm.clips.front();
    ASSERT_TRUE(clip.flow);
    const double second = static_cast<double>(kNanosecondsPerSecond);
    const Delivery& came = played.flows[*clip.flow];
    EXPECT_LE(clip.released_s + static_cast<double>(came.first_picture) / second, *bound.first_picture_s);
    EXPECT_LE(clip.released_s + static_cast<double>(came.complete) / second, *bound.complete_s);
  }
}

TEST(SiteStorm, IsNotKnownForWantOfAnyOfItsData) {
  for (const char* pointer : {"/data_links/l_c/rate_Mbps",
                              "/data_links/l_u/rate_Mbps",
                              "/data_links/l_r/rate_Mbps",
                              "/data_links/l_r/others_Mbps",
                              "/parts/eight/network_switch/forwarding_Mbps",
                              "/cameras/c/streams_complete",
                              "/uplinks/line/up_Mbps",
                              "/uplinks/line/others_Mbps",
                              "/uplinks/line/delay_s",
                              "/cameras/c/streams/clip/rate_fps",
                              "/cameras/c/streams/clip/rate_kbps",
                              "/cameras/c/streams/clip/rate_control",
                              "/cameras/c/streams/clip/key_frame_s",
                              "/cameras/c/streams/clip/key_frame_kB",
                              "/cameras/c/streams/clip/frame_kB",
                              "/units/unit/clip/pre_s",
                              "/units/unit/clip/post_s",
                              "/units/unit/clip/sending",
                              "/units/unit/monitoring",
                              "/channels/ch/stream",
                              "/cameras/c/streams/clip/to",
                              "/parts/eight/network_switch/delay_s",
                              "/parts/way_out/router/delay_s",
                              "/parts/eye/camera/delay_s"}) {
    const ClipBound bound = bound_of(left_out(pointer));
    EXPECT_FALSE(bound.first_picture_s) << pointer;
    EXPECT_FALSE(bound.complete_s) << pointer;
    EXPECT_THAT(bound.gaps, testing::Contains(testing::Field(&chain::Gap::pointer, pointer)));
  }
}

TEST(SiteStorm, AnotherCameraOfWhichNothingIsKnownLeavesOpenWhatSharesItsWay) {
  Json file = lane();
  file["cameras"]["other"] = file["cameras"]["c"];
  file["cameras"]["other"]["powered_by"] = "none";
  file["cameras"]["other"]["streams"]["clip"].erase("rate_kbps");
  file["addresses"]["a_other"] = file["addresses"]["a_c"];
  file["addresses"]["a_other"]["device"] = "other";
  file["addresses"]["a_other"]["address"] = "192.168.20.13";
  file["data_links"]["l_other"] = {
      {"a", "switch"}, {"b", "other"}, {"cable", "none"}, {"rate_Mbps", 100}, {"others_Mbps", "none"}};
  const ClipBound bound = bound_of(file);
  EXPECT_FALSE(bound.first_picture_s);
  EXPECT_THAT(bound.gaps,
              testing::Contains(testing::Field(&chain::Gap::pointer, "/cameras/other/streams/clip/rate_kbps")));
}

TEST(SiteStorm, MoreThanALinkSendsForEverNeverArrivesForSure) {
  Json file = lane();
  file["data_links"]["l_c"]["rate_Mbps"] = 0.3;
  const ClipBound bound = bound_of(file);
  EXPECT_TRUE(bound.swamped);
  EXPECT_FALSE(bound.first_picture_s);
}

TEST(SiteStorm, ACameraOfWhichNobodySaysWhatItSendsLeavesAllOpen) {
  Json file = lane();
  file["cameras"]["other"] = {{"part", "eye"}, {"powered_by", "none"}};
  file["data_links"]["l_other"] = {
      {"a", "switch"}, {"b", "other"}, {"cable", "none"}, {"rate_Mbps", 100}, {"others_Mbps", "none"}};
  EXPECT_THAT(bound_of(file).gaps,
              testing::Contains(testing::Field(&chain::Gap::pointer, "/cameras/other/streams_complete")));
  EXPECT_FALSE(bound_of(file).complete_s);
  file["cameras"]["other"]["streams_complete"] = true;
  EXPECT_TRUE(bound_of(file).complete_s) << "it sends nothing";
}

TEST(SiteStorm, WhatElsePassesALinkLeavesLessOfIt) {
  Json file = lane();
  file["data_links"]["l_r"]["others_Mbps"] = 99;
  const ClipBound narrow = bound_of(file);
  file["data_links"]["l_r"]["rate_Mbps"] = 1;
  file["data_links"]["l_r"]["others_Mbps"] = "none";
  EXPECT_EQ(narrow.complete_s, bound_of(file).complete_s);
  file["data_links"]["l_r"]["others_Mbps"] = 1;
  EXPECT_FALSE(bound_of(file).complete_s) << "nothing is left";
}

// A switch that hands on 1 Mbit/s in all is one queue for what goes to the unit and what comes back from it.
TEST(SiteStorm, ASwitchThatHandsOnLittleIsAQueueOfItsOwn) {
  Json file = lane();
  file["parts"]["eight"]["network_switch"]["forwarding_Mbps"] = 1;
  const site::Site site = site_of(file);
  const SiteStorm storm = storm_of(site);
  const auto loads = hop_loads(storm);
  const auto through = std::find_if(loads.begin(), loads.end(), [](const auto& one) { return one.hop.is_switch(); });
  ASSERT_NE(through, loads.end());
  EXPECT_EQ(through->rate_bps, 1e6);
  EXPECT_NEAR(through->live_bps, 440e3, 1.0);
  EXPECT_NEAR(through->alarm_bps, 440e3, 1.0);
  const std::vector<chain::Evidence> all = check_loads(site, storm);
  const auto of = std::find_if(all.begin(), all.end(), [](const auto& one) { return one.subject == "switch"; });
  ASSERT_NE(of, all.end());
  EXPECT_EQ(of->verdict, chain::Verdict::broken);
  EXPECT_NEAR(*of->margin, 0.7 - 0.88, 1e-6);
  EXPECT_GT(*bound_of(file).complete_s, *bound_of(lane()).complete_s);
  file["parts"]["eight"]["network_switch"]["forwarding_Mbps"] = 0.8;
  EXPECT_TRUE(bound_of(file).swamped) << "more comes for ever than it hands on";
}

TEST(SiteStorm, WhatOthersSendLeavesLessOfTheUplink) {
  Json file = lane();
  file["uplinks"]["line"]["others_Mbps"] = 0.9;
  EXPECT_NEAR(*bound_of(file).first_picture_s - kDelay_s, 2.0 * (*bound_of(lane()).first_picture_s - kDelay_s), 0.05);
  file["uplinks"]["line"]["others_Mbps"] = 1.9;
  EXPECT_FALSE(bound_of(file).first_picture_s) << "nothing is left";
}

// 400 kbit/s and 10 % for packets pass the camera's link; on the unit's way out the clip does, in alarm.
TEST(HopLoad, IsTheRateOfTheStreamsAndOfTheClips) {
  const site::Site site = site_of(lane());
  const SiteStorm storm = storm_of(site);
  double live = 0.0, alarm = 0.0;
  for (const HopLoad& load : hop_loads(storm)) {
    if (load.hop.thing == "l_c") live = load.live_bps;
    if (load.hop.thing == "line") alarm = load.alarm_bps;
  }
  EXPECT_NEAR(live, 440e3, 1.0);
  EXPECT_NEAR(alarm, 440e3, 1.0);
  for (const chain::Evidence& evidence : check_loads(site, storm))
    EXPECT_EQ(evidence.verdict, chain::Verdict::proven) << evidence.subject;
}

// 70 % of 0.6 Mbit/s are 420 kbit/s.
TEST(HopLoad, OverTheShareOfItsRateIsBroken) {
  Json file = lane();
  file["data_links"]["l_c"]["rate_Mbps"] = 0.6;
  const site::Site site = site_of(file);
  const std::vector<chain::Evidence> all = check_loads(site, storm_of(site));
  const auto of = std::find_if(all.begin(), all.end(), [](const auto& one) { return one.subject == "l_c"; });
  ASSERT_NE(of, all.end());
  EXPECT_EQ(of->verdict, chain::Verdict::broken);
  EXPECT_NEAR(*of->margin, 0.42 - 0.44, 1e-6);
}

}  // namespace zoneproof::carriage
