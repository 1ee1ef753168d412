#include "timeline/answers.hpp"

#include <gmock/gmock.h>

#include "timeline/lane.hpp"

namespace zoneproof::timeline {

namespace {

using chain::Verdict;

/// A room of 4 m by 4 m: two seconds at 2 m/s, the fastest of grade 2.
sight::ZoneView room() {
  sight::ZoneView view;
  view.zone = "z";
  view.cameras = {"c"};
  view.coverage.areas = {{{{0, 0}, {4, 0}, {4, 4}, {0, 4}}}};
  return view;
}

Carrying within(double first_s, double complete_s) {
  return [=](const std::string&, const std::string&) { return Carried{{{0.0, first_s}}, {{0.0, complete_s}}}; };
}

chain::Evidence only(const Json& file, const char* id, const Carrying& carrying = within(2, 20),
                     const sight::ZoneView& view = room()) {
  for (const chain::Evidence& evidence : evidence_of_zone(site_of(file), view, carrying))
    if (evidence.id == id) return evidence;
  ADD_FAILURE() << id << " is not answered";
  return {};
}

Json with_pre(double pre_s) {
  Json file = lane();
  file["units"]["unit"]["clip"]["pre_s"] = pre_s;
  return file;
}

}  // namespace

TEST(CauseInClip, IsProvenWithEnoughPreEvent) {
  const chain::Evidence evidence = only(with_pre(5), "cause_in_clip");
  EXPECT_EQ(evidence.verdict, Verdict::proven);
  EXPECT_NEAR(*evidence.value, 2.0, 0.02) << "all of the two seconds of somebody who runs";
}

// By hand: entering 1 s before, asked up to 0.4 s after: 1.4 s; of 2 s then 0.6 are left, and P of pre-event brings
// back P - 1 + 0.1 of them. 1 s is asked for and 0.2 s beyond.
TEST(CauseInClip, IsThinAndThenBrokenAsThePreEventGetsShorter) {
  EXPECT_EQ(only(with_pre(1.6), "cause_in_clip").verdict, Verdict::proven);
  const chain::Evidence thin = only(with_pre(1.4), "cause_in_clip");
  EXPECT_EQ(thin.verdict, Verdict::thin);
  EXPECT_NEAR(*thin.value, 0.6 + 1.4 - 1 + 0.1, 0.02);
  const chain::Evidence broken = only(with_pre(1), "cause_in_clip");
  EXPECT_EQ(broken.verdict, Verdict::broken);
  EXPECT_FALSE(broken.remedies.empty());
}

// Five seconds of pre-event reach back to whoever enters; the clip ends with its trigger, and more of them would not
// help.
TEST(CauseInClip, OfAClipThatEndsTooEarlyAsksForItsEndOnly) {
  Json file = lane();
  file["units"]["unit"]["clip"]["post_s"] = 0;
  const chain::Evidence evidence = only(file, "cause_in_clip");
  EXPECT_NE(evidence.verdict, Verdict::proven);
  ASSERT_FALSE(evidence.remedies.empty());
  EXPECT_EQ(evidence.remedies.front().code, "longer_post_event");
  const chain::Evidence before = only(with_pre(1), "cause_in_clip");
  ASSERT_FALSE(before.remedies.empty());
  EXPECT_EQ(before.remedies.front().code, "longer_pre_event");
}

TEST(CauseInClip, OfWhoRunsThroughBetweenTwoPicturesIsBroken) {
  Json file = lane();
  file["cameras"]["c"]["streams"]["clip"]["rate_fps"] = 0.4;  // every 2.5 s; somebody is there for 2
  const chain::Evidence evidence = only(file, "cause_in_clip");
  EXPECT_EQ(evidence.verdict, Verdict::broken);
  EXPECT_EQ(*evidence.value, 0.0);
  ASSERT_FALSE(evidence.remedies.empty());
  EXPECT_EQ(evidence.remedies.front().code, "more_pictures");
}

TEST(CauseInClip, RestsOnWhatTheViewRestsOn) {
  sight::ZoneView view = room();
  view.gaps.push_back({"/parts/pir/detector/pattern/largest/range_m", "typical"});
  const chain::Evidence evidence = only(lane(), "cause_in_clip", within(2, 20), view);
  EXPECT_EQ(evidence.verdict, Verdict::unanswered);
  view.coverage.areas.clear();
  EXPECT_EQ(only(lane(), "cause_in_clip", within(2, 20), view).verdict, Verdict::unanswered);
}

// 0.4 s until it is asked for, 1 s at the station, 15 s allowed and 1 s to spare.
TEST(FirstPicture, HasToBeBeforeTheOperatorInTime) {
  EXPECT_EQ(only(lane(), "first_picture", within(12.5, 20)).verdict, Verdict::proven);
  const chain::Evidence thin = only(lane(), "first_picture", within(13, 20));
  EXPECT_EQ(thin.verdict, Verdict::thin);
  EXPECT_NEAR(*thin.value, 0.4 + 13 + 1, 1e-9);
  EXPECT_EQ(only(lane(), "first_picture", within(14, 20)).verdict, Verdict::broken);
}

TEST(ClipComplete, HasToBeAtTheStationInTime) {
  EXPECT_EQ(only(lane(), "clip_complete", within(2, 88)).verdict, Verdict::proven);
  EXPECT_EQ(only(lane(), "clip_complete", within(2, 89)).verdict, Verdict::thin);
  EXPECT_EQ(only(lane(), "clip_complete", within(2, 90)).verdict, Verdict::broken);
}

TEST(FirstPicture, OfAClipThatMayNeverArriveIsBroken) {
  const Carrying swamped = [](const std::string&, const std::string&) {
    return Carried{not_told("/data_links/l_c"), not_told("/data_links/l_c"), true};
  };
  EXPECT_EQ(only(lane(), "first_picture", swamped).verdict, Verdict::broken);
  EXPECT_EQ(only(lane(), "clip_complete", swamped).verdict, Verdict::broken);
}

TEST(FirstPicture, OfAWayThatIsNotKnownIsUnanswered) {
  EXPECT_EQ(only(lane(), "first_picture", carrying_of({})).verdict, Verdict::unanswered);
}

TEST(Timeline, OfAZoneWhoseChannelsAreForLookingOnlyIsBroken) {
  Json file = lane();
  file["channels"]["ch"]["live_only"] = true;
  for (const char* id : {"cause_in_clip", "first_picture", "clip_complete"})
    EXPECT_EQ(only(file, id).verdict, Verdict::broken) << id;
}

TEST(Timeline, OfAChannelThatMayBeForLookingOnlyIsUnanswered) {
  Json file = lane();
  file["channels"]["ch"].erase("live_only");
  for (const char* id : {"cause_in_clip", "first_picture", "clip_complete"})
    EXPECT_EQ(only(file, id).verdict, Verdict::unanswered) << id;
}

TEST(Timeline, OfAZoneWhoseChannelIsNotKnownIsUnanswered) {
  Json file = lane();
  file["triggers"]["t"].erase("channel");
  for (const char* id : {"cause_in_clip", "first_picture", "clip_complete"})
    EXPECT_EQ(only(file, id).verdict, Verdict::unanswered) << id;
}

}  // namespace zoneproof::timeline
