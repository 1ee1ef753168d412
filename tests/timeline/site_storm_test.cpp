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

// A cap of 2 Mbit/s over 10 s lets 22 Mbit, with packets, come at the 5.5 Mbit/s of the largest pictures. They fill a
// link of 3.3 Mbit/s by 2.2 Mbit/s until 22 + 2.2 t = 5.5 t, for 6.7 s: the last of them waits 4.4 s. The first picture
// of the stream waits for none.
TEST(SiteStorm, TheLastPictureMayComeBehindAllThatItsCameraSent) {
  Json file = lane();
  file["uplinks"]["line"]["up_Mbps"] = 1000;
  file["data_links"]["l_c"]["rate_Mbps"] = 3.3;
  Json& stream = file["cameras"]["c"]["streams"]["clip"];
  stream["rate_kbps"] = 2000;
  stream["rate_fps"] = 12.5;
  stream["key_frame_s"] = 10;
  stream["key_frame_kB"] = stream["frame_kB"] = 50;
  const ClipBound bound = bound_of(file);
  ASSERT_TRUE(bound.complete_s);
  const double waits = 2.2e6 * (22.0 / 3.3) / 3.3e6;
  EXPECT_GE(*bound.complete_s, 10.0 + kCamera_s + waits + kDelay_s);
  EXPECT_LE(*bound.complete_s, 10.0 + kCamera_s + waits + kDelay_s + 1.0);
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
  file["parts"]["eight"]["network_switch"]["forwarding_Mbps"] = 0.4;
  EXPECT_TRUE(bound_of(file).swamped) << "the camera alone sends more for ever";
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

// The clip goes from the unit to the router at 440 kbit/s, whatever the uplink behind it carries.
TEST(HopLoad, CountsWhatGoesOnOverALinkThatIsNotKnown) {
  const site::Site site = site_of(left_out("/uplinks/line/up_Mbps"));
  const SiteStorm storm = storm_of(site);
  double alarm = 0.0;
  for (const HopLoad& load : hop_loads(storm)) {
    if (load.hop.thing == "l_r") alarm = load.alarm_bps;
    EXPECT_EQ(load.hop.known, load.hop.thing != "line");
  }
  EXPECT_NEAR(alarm, 440e3, 1.0);
  for (const Flow& flow : storm.storm.flows)
    for (const std::size_t hop : flow.path) EXPECT_TRUE(storm.hops[hop].known) << "nothing is played over what is not";
}

// Where many are not known, no number stands in their place: 64 cameras would take a hundred years at one bit a second.
TEST(SiteStorm, OfManyCamerasOverLinksOfUnknownRatesIsOpen) {
  Json file = lane();
  for (const char* link : {"l_c", "l_u", "l_r"}) file["data_links"][link].erase("rate_Mbps");
  file["uplinks"]["line"].erase("up_Mbps");
  for (int i = 0; i < 64; ++i) {
    const std::string id = "c" + std::to_string(i);
    file["cameras"][id] = file["cameras"]["c"];
    file["cameras"][id]["powered_by"] = "none";
    file["cameras"][id]["streams"]["clip"]["rate_kbps"] = 8000;
    file["cameras"][id]["streams"]["clip"]["frame_kB"] = 100;
    file["data_links"]["l_" + id] = {{"a", "switch"}, {"b", id}, {"cable", "none"}};
    file["addresses"]["a_" + id] = file["addresses"]["a_c"];
    file["addresses"]["a_" + id]["device"] = id;
    file["addresses"]["a_" + id]["address"] = "192.168.20." + std::to_string(100 + i);
  }
  const ClipBound bound = bound_of(file);
  EXPECT_FALSE(bound.first_picture_s);
  EXPECT_FALSE(bound.gaps.empty());
}

// The clip of a recorder goes through the unit and on to the router; a camera of another network comes from the router
// through the same switch to the unit: each waits for the other.
TEST(SiteStorm, WhereLinksWaitForEachOtherInARingIsOpen) {
  Json file = lane();
  file["parts"]["keeper"] = {{"kind", "recorder"}, {"origin", "data_sheet"}, {"recorder", {{"delay_s", 0.4}}}};
  file["recorders"]["rec"] = {{"name", "Recorder"},
                              {"part", "keeper"},
                              {"clip", {{"pre_s", 8}, {"post_s", 12}, {"sending", "while_recording"}}},
                              {"clock", {{"source", "time_server"}, {"error_s", 0.25}}}};
  file["channels"]["ch"]["recorder"] = "rec";
  file["cameras"]["c"]["streams"]["clip"]["to"] = "rec";
  file["data_links"]["l_rec"] = {
      {"a", "switch"}, {"b", "rec"}, {"cable", "none"}, {"rate_Mbps", 100}, {"others_Mbps", "none"}};
  file["addresses"]["a_rec"] = file["addresses"]["a_c"];
  file["addresses"]["a_rec"]["device"] = "rec";
  file["addresses"]["a_rec"]["address"] = "192.168.20.13";
  EXPECT_TRUE(bound_of(file).complete_s) << "without the other camera there is none";
  file["networks"]["apart"] = {{"name", "Apart"}, {"range", "192.168.30.0/24"}, {"vlan", 30}, {"has_pool", false}};
  file["cameras"]["far"] = file["cameras"]["c"];
  file["cameras"]["far"]["powered_by"] = "none";
  file["cameras"]["far"]["streams"]["clip"]["to"] = "unit";
  file["data_links"]["l_far"] = {
      {"a", "switch"}, {"b", "far"}, {"cable", "none"}, {"rate_Mbps", 100}, {"others_Mbps", "none"}};
  file["addresses"]["a_far"] = file["addresses"]["a_c"];
  file["addresses"]["a_far"].update(
      Json{{"device", "far"}, {"network", "apart"}, {"address", "192.168.30.11"}, {"gateway", "router"}});
  file["addresses"]["a_r_apart"] = file["addresses"]["a_r"];
  file["addresses"]["a_r_apart"].update(Json{{"network", "apart"}, {"address", "192.168.30.1"}});
  const ClipBound bound = bound_of(file);
  EXPECT_FALSE(bound.complete_s);
  EXPECT_THAT(bound.gaps, testing::Contains(testing::Field(&chain::Gap::reason, "undecided")));
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
