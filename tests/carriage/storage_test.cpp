// Days on a recorder's disk, against published figures.
#include "carriage/storage.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "carriage/network_site.hpp"

namespace zoneproof::carriage {
namespace {

using chain::Verdict;

std::vector<chain::Evidence> storage_answers(const std::string& patch = "[]") {
  return check_storage(network_of(small_network(), patch));
}

TEST(Storage, FillsWhatPublishedExamplesSay) {
  // Pages with calculators: 4 cameras of 4 Mb/s for 30 days, 43.2 GB a day each; 10 of 2048 kb/s; 8 of 4 Mb/s.
  EXPECT_NEAR(stored_GB(4, 24, 1), 43.2, 1e-9);
  EXPECT_NEAR(4 * stored_GB(4, 24, 30), 5184, 1e-9);
  EXPECT_NEAR(10 * stored_GB(2.048, 24, 30), 6635.52, 1e-9);
  EXPECT_NEAR(8 * stored_GB(4, 24, 30) / 1000, 10.368, 1e-9);  // printed as about 10.4 TB
  EXPECT_NEAR(stored_GB(1, 1, 1), 0.45, 1e-12);                // of 1 Mb/s in an hour
}

TEST(Storage, DoesNotRepeatTheWrongOnes) {
  // "8 Mb/s for 24 h: 0.0234 GB": the seconds of the hour were left out.
  EXPECT_NEAR(stored_GB(8, 24, 1), 86.4, 1e-9);
  // "0.54 GB an hour for each Mb/s".
  EXPECT_GT(std::abs(stored_GB(1, 1, 1) - 0.54), 0.08);
  // Units of 1024^3 bytes: 4828 of them are the 5184 GB of the first example.
  EXPECT_NEAR(4 * stored_GB(4, 24, 30) * 1e9 / std::pow(1024.0, 3), 4828, 0.5);
}

TEST(Storage, TwoStreamsOfFourMegabitsForThirtyDays) {
  const auto disk = only(storage_answers(), "disk_space", "recorder");
  EXPECT_NEAR(*disk.value, 2 * 43.2 * 30, 1e-9);
  EXPECT_NEAR(*disk.limit, 3000 * 0.95, 1e-9);
  EXPECT_EQ(disk.verdict, Verdict::proven);
  EXPECT_EQ(only(storage_answers(), "recorder_channels", "recorder").value, 2.0);
}

TEST(Storage, ADiskThatIsTooSmallByItsReserveIsBroken) {
  const auto disk = [](int gigabytes) {
    return only(storage_answers(R"([{"op": "replace", "path": "/recorders/recorder/disk_GB", "value": )" +
                                std::to_string(gigabytes) + "}]"),
                "disk_space", "recorder");
  };
  EXPECT_EQ(disk(2729).verdict, Verdict::proven);  // 2592 / 0.95 = 2728.4
  EXPECT_EQ(disk(2728).verdict, Verdict::broken);
  EXPECT_EQ(disk(2728).remedies.size(), 2u);
}

TEST(Storage, AStreamThatMayGoToTheDiskLeavesItOpen) {
  const auto all = storage_answers(R"([{"op": "add", "path": "/cameras/yard/streams/more", "value":
    {"codec": "h264", "rate_fps": 10, "rate_control": "capped", "rate_kbps": 9000, "key_frame_s": 1}}])");
  for (const char* check : {"disk_space", "recorder_channels"}) {
    EXPECT_EQ(only(all, check, "recorder").verdict, Verdict::unanswered) << check;
    EXPECT_TRUE(lacks(only(all, check, "recorder"), "/cameras/yard/streams/more/to")) << check;
  }
}

TEST(Storage, AFreeStreamCountsItsLargestPictures) {
  // 10 pictures a second, one of them 60 kB, nine 20 kB: 240 kB a second.
  const site::Site site = network_of(small_network(), R"([
    {"op": "replace", "path": "/cameras/yard/streams/all/rate_control", "value": "free"},
    {"op": "replace", "path": "/cameras/yard/streams/all/rate_kbps", "value": "none"}])");
  EXPECT_NEAR(stream_rate(site.cameras.at("yard").streams.at("all")).range.high, 240 * 8 / 1000.0, 1e-12);
  EXPECT_NEAR(stream_rate(site.cameras.at("hall").streams.at("all")).range.high, 4.0, 1e-12);
}

TEST(Storage, EveryPictureAKeyFrame) {
  const site::Site site = network_of(small_network(), R"([
    {"op": "replace", "path": "/cameras/yard/streams/all/codec", "value": "mjpeg"},
    {"op": "replace", "path": "/cameras/yard/streams/all/rate_control", "value": "free"},
    {"op": "replace", "path": "/cameras/yard/streams/all/rate_kbps", "value": "none"},
    {"op": "replace", "path": "/cameras/yard/streams/all/key_frame_s", "value": "none"},
    {"op": "replace", "path": "/cameras/yard/streams/all/frame_kB", "value": "none"}])");
  EXPECT_NEAR(stream_rate(site.cameras.at("yard").streams.at("all")).range.high, 600 * 8 / 1000.0, 1e-12);
}

TEST(Storage, TheWorstSettingCounts) {
  const site::Site site = network_of(small_network(), R"([
    {"op": "replace", "path": "/cameras/yard/streams/all/rate_control", "value": "free"},
    {"op": "replace", "path": "/cameras/yard/streams/all/rate_kbps", "value": "none"},
    {"op": "replace", "path": "/cameras/yard/streams/all/rate_fps", "value": {"value": 10, "min": 8, "max": 12}},
    {"op": "replace", "path": "/cameras/yard/streams/all/key_frame_s", "value": {"value": 1, "min": 0.5, "max": 2}}])");
  const auto rate = stream_rate(site.cameras.at("yard").streams.at("all"));
  EXPECT_NEAR(rate.range.high, (12 * 20 + 40 / 0.5) * 8 / 1000, 1e-12);
  EXPECT_NEAR(rate.range.low, (8 * 20 + 40 / 2.0) * 8 / 1000, 1e-12);
}

TEST(Storage, NothingAgreedIsNothingAsked) {
  const auto all = storage_answers(R"([{"op": "replace", "path": "/recorders/recorder/keep_d", "value": "none"}])");
  EXPECT_FALSE(any(all, "disk_space", "recorder"));
}

TEST(Storage, MoreCamerasThanItTakesAreBroken) {
  EXPECT_EQ(only(storage_answers(R"([{"op": "replace", "path": "/parts/keeper/recorder/channels", "value": 1}])"),
                 "recorder_channels", "recorder")
                .verdict,
            Verdict::broken);
}

TEST(Storage, ACameraOnARecorderWithoutAStreamToItIsOpen) {
  const auto disk =
      only(storage_answers(R"([{"op": "replace", "path": "/cameras/yard/streams/all/to", "value": "unit"}])"),
           "disk_space", "recorder");
  EXPECT_EQ(disk.verdict, Verdict::unanswered);
  EXPECT_TRUE(lacks(disk, "/cameras/yard/streams"));
}

TEST(Storage, WhatIsMissingIsNamed) {
  expect_unanswered(check_storage, {{"/recorders/recorder/disk_GB", "disk_space", "recorder"},
                                    {"/cameras/hall/streams_complete", "disk_space", "recorder"},
                                    {"/recorders/recorder/keep_d", "disk_space", "recorder"},
                                    {"/cameras/yard/streams/all/rate_kbps", "disk_space", "recorder"},
                                    {"/cameras/yard/streams/all/rate_control", "disk_space", "recorder"},
                                    {"/recorders/recorder/part", "recorder_channels", "recorder"},
                                    {"/parts/keeper/recorder/channels", "recorder_channels", "recorder"}});
  const std::string rule = "/rulebooks/european_intruder/entries/disk_reserve_pct";
  const auto open = only(storage_answers(without(rule)), "disk_space", "recorder");
  EXPECT_EQ(open.verdict, Verdict::unanswered);
  EXPECT_TRUE(lacks(open, rule, "no_rule"));
}

}  // namespace
}  // namespace zoneproof::carriage
