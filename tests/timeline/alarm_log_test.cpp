#include "timeline/alarm_log.hpp"

#include <gmock/gmock.h>

#include <cmath>
#include <random>

#include "timeline/lane.hpp"

namespace zoneproof::timeline {

namespace {

Crossing crossing(double fast_s, double slow_s) { return {2.0 * fast_s, {{fast_s, fast_s}}, {{slow_s, slow_s}}}; }

Carried carried() { return {{{0.0, 3.0}}, {{0.0, 20.0}}}; }

AlarmLog log_of(const site::Site& site, const Crossing& way = crossing(2, 20)) {
  return alarm_log(site, "t", "ch", way, carried());
}

void expect_span(const AlarmLog& log, Happens what, double low, double high) {
  const Line* line = log.find(what);
  ASSERT_NE(line, nullptr);
  EXPECT_TRUE(line->at.known) << static_cast<int>(what);
  EXPECT_NEAR(line->at.span.low, low, 1e-12) << static_cast<int>(what);
  EXPECT_NEAR(line->at.span.high, high, 1e-12) << static_cast<int>(what);
}

std::string missing(const AlarmLog& log, Happens what) {
  const Line* line = log.find(what);
  if (line == nullptr || line->at.known || line->at.gaps.empty()) return "";
  return line->at.gaps.front().pointer;
}

}  // namespace

// By hand, from the numbers in lane.hpp.
TEST(AlarmLog, HasEveryMomentBetweenItsSums) {
  const AlarmLog log = log_of(site_of(lane()));
  expect_span(log, Happens::enters, -1.0, -0.5);
  expect_span(log, Happens::trips, 0.0, 0.0);
  expect_span(log, Happens::panel_counts, 0.2, 0.1 + 0.2 + 0.1);
  expect_span(log, Happens::unit_counts, 0.1, 0.05 + 0.1 + 0.05);
  expect_span(log, Happens::clip_asked, 0.1 + 0.1, 0.2 + 0.2);
  // 5 s before at the most, a key interval of 1 s more or less, and what is seen is 0.1 to 0.3 s older.
  expect_span(log, Happens::clip_begins, 0.2 - 5 - 1 - 0.3, 0.4 - 5 + 1 - 0.1);
  expect_span(log, Happens::clip_ends, 0.2 + 10 - 0.3, 0.4 + 10 - 0.1);
  expect_span(log, Happens::leaves, -1.0 + 2, -0.5 + 20);
  expect_span(log, Happens::picture_at_station, 0.2, 0.4 + 3);
  expect_span(log, Happens::picture_shown, 0.2, 0.4 + 3 + 1);
  expect_span(log, Happens::clip_at_station, 0.2, 0.4 + 20);
}

// Somebody comes in up to 1 s before the contact and runs through in 2 s; the clip shows 5 - 1 + 0.1 s before it is
// asked for, up to 0.4 s after the contact: all of that.
TEST(AlarmLog, TellsWhenTheCauseIsInTheClipAtTheWorst) {
  const AlarmLog log = log_of(site_of(lane()));
  const Span all = worst_in_clip(log, crossing(2, 20).fast);
  EXPECT_NEAR(all.low, -1.0, 1e-12);
  EXPECT_NEAR(all.high, 1.0, 1e-12);
  EXPECT_NEAR(shown_in_clip(log, crossing(2, 20).fast).span.low, 2.0, 1e-12);
  // With 1.2 s asked for before, 0.3 s are sure: from 0.1 s after the contact on.
  const AlarmLog late =
      log_of(site_of(lane(), R"([{"op": "replace", "path": "/units/unit/clip/pre_s", "value": 1.2}])"));
  const Span rest = worst_in_clip(late, crossing(2, 20).fast);
  EXPECT_NEAR(rest.low, 0.1, 1e-12);
  EXPECT_NEAR(rest.high, 1.0, 1e-12);
  EXPECT_NEAR(shown_in_clip(late, crossing(2, 20).fast).span.low, 0.9, 1e-12);
}

TEST(AlarmLog, WaitsForTheEntryTimeOfAnEntryZoneOnly) {
  EXPECT_EQ(log_of(site_of(lane())).find(Happens::entry_ends), nullptr);
  const AlarmLog log =
      log_of(site_of(lane(), R"([{"op": "replace", "path": "/zones/z/type", "value": "entry_exit"}])"));
  expect_span(log, Happens::entry_ends, 0.2 + 30, 0.4 + 30);
}

TEST(AlarmLog, CountsThePanelFirstWhereItsOutputCarriesTheAlarm) {
  const AlarmLog log =
      log_of(site_of(lane(), R"([{"op": "replace", "path": "/triggers/t/source", "value": "following_output"}])"));
  expect_span(log, Happens::unit_counts, 0.2 + 0.1, 0.4 + 0.2);
}

TEST(AlarmLog, TakesTheCamerasOwnTimeWhereItsAnalyticsTrip) {
  const AlarmLog log = log_of(site_of(
      lane(),
      R"([{"op": "replace", "path": "/triggers/t/source", "value": "camera_analytics"}, {"op": "remove", "path": "/triggers/t/input"}])"));
  expect_span(log, Happens::enters, -2.0, 0.0);
  expect_span(log, Happens::unit_counts, 0.0, 0.0);
}

// First-order step response: beyond the edge by a share of 1 / (1 + f/m) of the step after t ln(1 + f/m).
TEST(AlarmLog, WaitsForTheFilterToComeToTheEdge) {
  Json file = lane();
  file["parts"]["box"]["unit"]["input"]["filter_s"] = 0.02;
  const AlarmLog log = log_of(site_of(file));
  const double margin = file["rulebooks"]["european_intruder"]["entries"]["trigger_margin_V"]["value"]["value"];
  expect_span(log, Happens::unit_counts, 0.1, 0.2 + 0.02 * std::log(1 + 31.0 / margin));
}

TEST(AlarmLog, OfAFilterWhoseLevelsAreNotKnownKnowsNoTime) {
  for (const char* level : {"damage_min_V", "damage_max_V"}) {
    Json file = lane();
    file["parts"]["box"]["unit"]["input"]["filter_s"] = 0.5;
    file["parts"]["box"]["unit"]["input"].erase(level);
    EXPECT_EQ(missing(log_of(site_of(file)), Happens::unit_counts), std::string("/parts/box/unit/input/") + level);
  }
}

// A terminal on the raw rail has no source_V: no level of it lies higher than what the panel may be fed with.
TEST(AlarmLog, WaitsForTheFilterOfATerminalOnTheRawRail) {
  Json file = lane();
  Json& screw = file["parts"]["screw"]["zone_terminal"];
  screw.erase("source_V");
  screw["source"] = "raw_rail";
  screw["source_pct"] = 100;
  screw["filter_s"] = 0.02;
  EXPECT_EQ(missing(log_of(site_of(file)), Happens::panel_counts), "/parts/old/panel/supply_max_V");
  file["parts"]["old"]["panel"]["supply_max_V"] = 15;
  const double margin = file["rulebooks"]["european_intruder"]["entries"]["loop_margin_V"]["value"]["value"];
  expect_span(log_of(site_of(file)), Happens::panel_counts, 0.2, 0.4 + 0.02 * std::log(1 + 15.0 / margin));
}

TEST(AlarmLog, TakesTheAnalyticsOfTheTriggersOwnCameraForTheClipOfAnother) {
  Json file = lane();
  file["triggers"]["t"]["source"] = "camera_analytics";
  file["triggers"]["t"].erase("input");
  file["triggers"]["t"]["more_channels"] = {"beside"};
  file["parts"]["quick"] = file["parts"]["eye"];
  file["parts"]["quick"]["camera"]["analytics_s"] = 0.1;
  file["cameras"]["other"] = file["cameras"]["c"];
  file["cameras"]["other"]["part"] = "quick";
  file["cameras"]["other"]["powered_by"] = "none";
  file["channels"]["beside"] = file["channels"]["ch"];
  file["channels"]["beside"]["camera"] = "other";
  file["channels"]["beside"]["number"] = 2;
  const AlarmLog log = alarm_log(site_of(file), "t", "beside", crossing(2, 20), carried());
  expect_span(log, Happens::enters, -2.0, 0.0);
}

// Ten pictures a second without key frames: the clip begins up to a tenth late.
TEST(AlarmLog, BeginsAClipOfPicturesAloneWithinOneOfThem) {
  Json file = lane();
  Json& stream = file["cameras"]["c"]["streams"]["clip"];
  stream["key_frame_s"] = "none";
  stream["frame_kB"] = "none";
  expect_span(log_of(site_of(file)), Happens::clip_begins, 0.2 - 5 - 0.1 - 0.3, 0.4 - 5 + 0.1 - 0.1);
}

TEST(AlarmLog, WidensBothEndsByBothClocksBehindARecorder) {
  Json file = lane();
  file["recorders"]["rec"] = {{"name", "Recorder"},
                              {"clip", {{"pre_s", 8}, {"post_s", 12}, {"sending", "while_recording"}}},
                              {"clock", {{"source", "time_server"}, {"error_s", 0.25}}}};
  file["channels"]["ch"]["recorder"] = "rec";
  file["cameras"]["c"]["streams"]["clip"]["to"] = "rec";
  const AlarmLog log = log_of(site_of(file));
  expect_span(log, Happens::clip_begins, 0.2 - 8 - 1 - 0.75 - 0.3, 0.4 - 8 + 1 + 0.75 - 0.1);
  expect_span(log, Happens::clip_ends, 0.2 + 12 - 0.75 - 0.3, 0.4 + 12 + 0.75 - 0.1);
  expect_span(log, Happens::picture_at_station, 0.2, 0.4 + 3);
  expect_span(log, Happens::clip_at_station, 0.2, 0.4 + 20 + 0.75);
  file["recorders"]["rec"]["clip"]["sending"] = "when_complete";
  expect_span(log_of(site_of(file)), Happens::picture_at_station, 0.2, 0.4 + 3 + 0.75);
}

TEST(AlarmLog, KnowsNothingBehindWhatIsMissingAndNamesIt) {
  const auto without = [](const std::string& pointer) {
    Json file = lane();
    file.erase("not there");
    file.at(Json::json_pointer(pointer).parent_pointer()).erase(Json::json_pointer(pointer).back());
    return log_of(site_of(file));
  };
  EXPECT_EQ(missing(without("/parts/pir/detector/response_s"), Happens::enters), "/parts/pir/detector/response_s");
  EXPECT_EQ(missing(without("/parts/box/unit/reaction_s"), Happens::clip_asked), "/parts/box/unit/reaction_s");
  EXPECT_EQ(missing(without("/parts/box/unit/input/debounce_s"), Happens::unit_counts),
            "/parts/box/unit/input/debounce_s");
  EXPECT_EQ(missing(without("/units/unit/clip/pre_s"), Happens::clip_begins), "/units/unit/clip/pre_s");
  EXPECT_EQ(missing(without("/channels/ch/stream"), Happens::clip_ends), "/channels/ch/stream");
  EXPECT_EQ(missing(without("/cameras/c/streams/clip/key_frame_s"), Happens::clip_begins),
            "/cameras/c/streams/clip/key_frame_s");
  EXPECT_EQ(missing(without("/parts/eye/camera/delay_s"), Happens::clip_begins), "/parts/eye/camera/delay_s");
  EXPECT_EQ(missing(without("/monitoring_paths/path/shown_s"), Happens::picture_shown),
            "/monitoring_paths/path/shown_s");
}

TEST(AlarmLog, NamesWhatIsOnlyTypical) {
  Json file = lane();
  file["parts"]["pir"]["detector"]["response_s"]["origin"] = "typical";
  const AlarmLog log = log_of(site_of(file));
  const Line* enters = log.find(Happens::enters);
  ASSERT_NE(enters, nullptr);
  EXPECT_TRUE(enters->at.known);
  ASSERT_EQ(enters->at.gaps.size(), 1u);
  EXPECT_EQ(enters->at.gaps.front().reason, "typical");
}

// Latest: enters 1 s before, asked 0.4 s after; the clip goes back 5 - 1 + 0.1 s for sure: all is in it.
TEST(ShownInClip, IsAllOfSomebodyWhomThePreEventReaches) {
  const AlarmLog log = log_of(site_of(lane()));
  EXPECT_NEAR(shown_in_clip(log, {{2.0, 2.0}}).span.low, 2.0, 1e-12);
}

// Without pre-event the clip shows at the latest what was 1 - 0.1 s after being asked: of somebody who came 1.4 s
// before and stays for 2 s nothing is left; of one who stays for 5 s 2.7 s are.
TEST(ShownInClip, LosesWhoIsGoneBeforeTheClipBegins) {
  const AlarmLog log = log_of(site_of(lane(), R"([{"op": "replace", "path": "/units/unit/clip/pre_s", "value": 0}])"));
  EXPECT_EQ(shown_in_clip(log, {{2.0, 2.0}}).span.low, 0.0);
  EXPECT_NEAR(shown_in_clip(log, {{5.0, 5.0}}).span.low, 5.0 - 1.4 - 0.9, 1e-12);
}

// Two seconds from one picture to the next: somebody who is there for less may be in none.
TEST(ShownInClip, IsNothingOfWhoComesAndGoesBetweenTwoPictures) {
  Json file = lane();
  file["cameras"]["c"]["streams"]["clip"]["rate_fps"] = 0.5;
  const AlarmLog log = log_of(site_of(file));
  EXPECT_EQ(shown_in_clip(log, {{1.9, 1.9}}).span.low, 0.0);
  EXPECT_NEAR(shown_in_clip(log, {{2.0, 2.0}}).span.low, 2.0, 1e-12);
}

TEST(ShownInClip, EndsWithTheClip) {
  const AlarmLog log = log_of(site_of(lane()));
  // From entering, 0.7 s before being asked at the least, until 9.7 s after it.
  EXPECT_NEAR(shown_in_clip(log, {{60.0, 60.0}}).span.low, 0.7 + 9.7, 1e-12);
}

// The same by playing it: whatever the steps really are, no less is seen; and in some play just that.
TEST(ShownInClip, IsTheLeastOfAllPlays) {
  std::mt19937 random(11);
  const auto draw = [&](double low, double high) {
    const double share = std::uniform_real_distribution<double>(0, 1)(random);
    return share < 0.3 ? low : share > 0.7 ? high : low + (high - low) * share;
  };
  for (int round = 0; round < 300; ++round) {
    const auto span = [&](double from, double to) {
      const double a = draw(from, to), b = draw(from, to);
      return Told{{std::min(a, b), std::max(a, b)}};
    };
    AlarmLog log;
    log.response = span(0, 3);
    log.asked = span(0, 2);
    log.pre = span(-1, 6);
    log.post = span(0, 10);
    const double there = draw(0.1, 12);
    const double told = shown_in_clip(log, {{there, there}}).span.low;
    double least = 1e9;
    for (int play = 0; play < 400; ++play) {
      const double enters = -draw(log.response.span.low, log.response.span.high);
      const double asked = draw(log.asked.span.low, log.asked.span.high);
      const double begins = asked - draw(log.pre.span.low, log.pre.span.high);
      const double ends = asked + draw(log.post.span.low, log.post.span.high);
      least = std::min(least, std::max(0.0, std::min(enters + there, ends) - std::max(enters, begins)));
    }
    EXPECT_GE(least, told - 1e-12);
    EXPECT_LE(least, told + 1e-9) << "nobody is shown for as little as told";
  }
}

}  // namespace zoneproof::timeline
