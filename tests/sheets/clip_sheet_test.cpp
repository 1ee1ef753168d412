// The moments of one alarm on axes of time, measured anew from the figures at the axes.
#include "sheets/clip_sheet.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "drawing/faults.hpp"
#include "drawing/shapes.hpp"
#include "drawing/specimen.hpp"
#include "sheets/clip_specimen.hpp"
#include "sheets/time_axis.hpp"

namespace zoneproof::sheets {
namespace {

using drawing::Group;
using drawing::Item;
using drawing::Shape;
using drawing::Sheet;
using drawing::TextLine;
using testing::HasSubstr;
using testing::IsEmpty;
using timeline::Happens;

constexpr double kHair_mm = 1e-6;

Sheet sheet_of(const ClipOfAlarm& clip, const ClipSheetOptions& options = {}, std::size_t letters = 0) {
  return clip_sheets(drawing::test_ruler(), site_of_alarm(letters), {clip}, options).at(0);
}

struct Found {
  std::map<std::string, Shape> shapes;
  std::map<std::string, TextLine> texts;
  explicit Found(const Sheet& sheet) {
    drawing::each(
        sheet.content, [&](const Shape& one) { shapes.emplace(one.name.id, one); },
        [&](const TextLine& one) { texts.emplace(one.name.id, one); });
  }
  /// Everything that is said in lines whose ids begin so.
  std::string says(const std::string& beginning) const {
    std::string all;
    for (const auto& [id, line] : texts)
      if (id.starts_with(beginning)) all += (all.empty() ? "" : " ") + line.content;
    return all;
  }
  bool has_bar(const std::string& row) const {
    for (const auto& [id, shape] : shapes)
      if (id.starts_with("row-" + row + "-close-") || id.starts_with("row-" + row + "-whole-")) return true;
    return false;
  }
};

/// From paper back to seconds, by the figures at an axis.
struct BackToSeconds {
  double zero_mm = NAN, mm_per_s = NAN;
  BackToSeconds(const Found& found, const std::string& axis) {
    for (const auto& [id, line] : found.texts)
      if (id.starts_with(axis + "-tick-") && line.content == "0") zero_mm = line.at.x;
    for (const auto& [id, line] : found.texts)
      if (id.starts_with(axis + "-tick-") && line.content != "0")
        mm_per_s = (line.at.x - zero_mm) / std::stod(line.content);
  }
  double mm(double seconds) const { return zero_mm + seconds * mm_per_s; }
};

void expect_bar(const Found& found, const std::string& row, const std::string& axis, const std::string& part,
                double from_s, double to_s) {
  const std::string id = "row-" + row + "-" + axis + "-" + part;
  ASSERT_TRUE(found.shapes.contains(id)) << id;
  const BackToSeconds back(found, axis);
  const drawing::Box box = drawing::bounds(found.shapes.at(id).path);
  EXPECT_NEAR(box.left, back.mm(from_s), kHair_mm) << id;
  EXPECT_NEAR(box.right, back.mm(to_s), kHair_mm) << id;
}

// --- bars

TEST(ClipSheet, EveryBarGoesFromTheEarliestToTheLatestOnBothAxes) {
  const Found found(sheet_of(round_alarm()));
  for (const std::string axis : {"close", "whole"}) {
    expect_bar(found, "area", axis, "possible-1", -2, -1);
    expect_bar(found, "contact", axis, "possible-1", 0, 0);
    expect_bar(found, "panel", axis, "possible-1", 0.2, 0.4);
    expect_bar(found, "unit", axis, "possible-1", 0.1, 0.3);
    expect_bar(found, "asked", axis, "possible-1", 0.5, 1);
    expect_bar(found, "clip", axis, "possible-1", -6, -4);
  }
  expect_bar(found, "area", "whole", "possible-2", 1, 20);
  expect_bar(found, "entry", "whole", "possible-1", 30.2, 30.4);
  expect_bar(found, "clip", "whole", "possible-2", 9, 12);
  expect_bar(found, "picture", "whole", "possible-1", 1, 5);
  expect_bar(found, "screen", "whole", "possible-1", 1, 6);
  expect_bar(found, "complete", "whole", "possible-1", 20, 90);
}

TEST(ClipSheet, WhatLastsForSureIsSolidAndTheRestIsHatched) {
  const Found found(sheet_of(round_alarm()));
  expect_bar(found, "area", "close", "sure", -1, 1);
  expect_bar(found, "area", "whole", "sure", -1, 1);
  expect_bar(found, "clip", "whole", "sure", -4, 9);
  EXPECT_TRUE(found.shapes.at("row-clip-whole-sure").fill.has_value());
  EXPECT_FALSE(found.shapes.at("row-clip-whole-possible-1").fill.has_value());
  EXPECT_TRUE(found.shapes.contains("row-clip-whole-possible-1-hatch"));
}

// Somebody comes in 1 to 2 s before the contact, and is in the area for 3 s; the clip begins before that.
TEST(ClipSheet, TheOverlapIsAsLongAsItsFigureSays) {
  const Found found(sheet_of(round_alarm()));
  expect_bar(found, "shown", "close", "sure", -2, 1);
  EXPECT_EQ(found.says("row-shown-figures"), "for 3 s");
}

// Asked for 0.5 to 1 s after the contact, a clip of at least 1.5 s before that begins 0.5 s before the contact at the
// latest. Who came in 2 s before it leaves 1 s after it: 1.5 s of 3.
TEST(ClipSheet, AClipThatBeginsLateShowsOnlyTheEnd) {
  ClipOfAlarm clip = round_alarm();
  clip.log.pre.span = {1.5, 1.5};
  moment(clip, Happens::clip_begins).span = {-1, -0.5};
  const Found found(sheet_of(clip));
  expect_bar(found, "shown", "close", "sure", -0.5, 1);
  EXPECT_EQ(found.says("row-shown-figures"), "for 1.5 s");
}

TEST(ClipSheet, AClipThatMissesTheCauseHasNoOverlap) {
  ClipOfAlarm clip = round_alarm();
  clip.log.pre.span = {-2, -2};
  moment(clip, Happens::clip_begins).span = {2.5, 3};
  const Found found(sheet_of(clip));
  EXPECT_FALSE(found.has_bar("shown"));
  EXPECT_EQ(found.says("row-shown-figures"), "not for sure");
}

TEST(ClipSheet, WithoutACertainPartAStretchIsHatchedThroughout) {
  ClipOfAlarm clip = round_alarm();
  moment(clip, Happens::leaves).span = {-1.5, 20};
  const Found found(sheet_of(clip));
  expect_bar(found, "area", "whole", "possible-1", -2, 20);
  EXPECT_FALSE(found.shapes.contains("row-area-whole-sure"));
  EXPECT_FALSE(found.shapes.contains("row-area-whole-possible-2"));
}

TEST(ClipSheet, WhatGoesOnBeyondTheCloseAxisIsMarkedThereAndHasNoEnd) {
  const Found found(sheet_of(round_alarm()));
  for (const char* row : {"area", "clip", "entry", "complete", "picture"}) {
    EXPECT_TRUE(found.shapes.contains(std::string("row-") + row + "-close-beyond")) << row;
    EXPECT_FALSE(found.shapes.contains(std::string("row-") + row + "-whole-beyond")) << row;
  }
  EXPECT_FALSE(found.shapes.contains("row-asked-close-beyond"));
  EXPECT_FALSE(found.shapes.contains("row-entry-close-possible-1"));
  EXPECT_FALSE(found.shapes.contains("row-picture-close-possible-1-ends"));
}

// --- words

TEST(ClipSheet, TimesStandInFiguresBesideTheBars) {
  const Found found(sheet_of(round_alarm()));
  EXPECT_EQ(found.says("row-area-figures"), "from -2 s to -1 s until 1 s to 20 s");
  EXPECT_EQ(found.says("row-contact-figures"), "0 s");
  EXPECT_EQ(found.says("row-complete-figures"), "20 s to 90 s");
  EXPECT_EQ(found.says("row-entry-figures"), "30.2 s to 30.4 s") << "with digits enough to tell them apart";
  EXPECT_THAT(found.says("row-contact-says"), HasSubstr("Yard PIR"));
}

TEST(ClipSheet, WhatIsNotKnownSaysSoHasNoBarAndNamesWhatIsMissing) {
  ClipOfAlarm clip = round_alarm();
  for (const Happens what : {Happens::panel_counts, Happens::clip_at_station, Happens::clip_begins, Happens::clip_ends})
    moment(clip, what) = timeline::not_told("/there/" + std::to_string(static_cast<int>(what)));
  clip.log.pre = clip.log.post = timeline::not_told("/there/6");
  const Found found(sheet_of(clip));
  for (const char* row : {"panel", "complete", "clip", "shown"}) {
    EXPECT_FALSE(found.has_bar(row)) << row;
    EXPECT_EQ(found.says(std::string("row-") + row + "-figures"), "not known") << row;
  }
  for (const char* pointer : {"/there/2", "/there/6", "/there/7", "/there/11"})
    EXPECT_THAT(found.says("missing"), HasSubstr(pointer));
  EXPECT_TRUE(found.has_bar("unit"));
  EXPECT_THAT(Found(sheet_of(round_alarm())).says("missing"), IsEmpty());
}

TEST(ClipSheet, OfAStretchTheEndThatIsKnownHasItsBar) {
  ClipOfAlarm clip = round_alarm();
  moment(clip, Happens::leaves) = clip.fast = timeline::not_told("/rulebook");
  const Found found(sheet_of(clip));
  expect_bar(found, "area", "close", "possible-1", -2, -1);
  EXPECT_FALSE(found.shapes.contains("row-area-close-sure"));
  EXPECT_EQ(found.says("row-area-figures"), "from -2 s to -1 s until not known");
}

TEST(ClipSheet, AClipWhoseWayIsSwampedMayNeverArrive) {
  ClipOfAlarm clip = round_alarm();
  moment(clip, Happens::clip_at_station) = timeline::not_told("/uplinks/line");
  clip.log.swamped = true;
  const Found found(sheet_of(clip));
  EXPECT_EQ(found.says("row-complete-figures"), "may never arrive");
  EXPECT_EQ(found.says("row-picture-figures"), "1 s to 5 s");
}

TEST(ClipSheet, StepsThatTheAlarmDoesNotTakeHaveNoRow) {
  ClipOfAlarm clip = round_alarm();
  std::erase_if(clip.log.lines, [](const auto& line) {
    return line.what == Happens::entry_ends || line.what == Happens::panel_counts;
  });
  const Found found(sheet_of(clip));
  EXPECT_THAT(found.says("row-entry"), IsEmpty());
  EXPECT_THAT(found.says("row-panel"), IsEmpty());
}

// --- layout

void expect_sound(std::vector<Sheet> sheets) {
  for (const Sheet& sheet : sheets) {
    EXPECT_THAT(drawing::layout_faults(sheet), IsEmpty()) << sheet.name.id;
    drawing::each(
        sheet.content,
        [&](const Shape& one) {
          EXPECT_FALSE(one.name.id.empty() && one.path.empty());
          EXPECT_TRUE(one.path.empty() || inside(drawing::bounds(one.path), grown(sheet.frame(), 1e-9))) << one.name.id;
        },
        [](const TextLine&) {});
  }
  drawing::Document document;
  document.title = "Alarms";
  document.created = "2026-03-01T12:00:00Z";
  document.sheets = std::move(sheets);
  EXPECT_THAT(drawing::faults(document), IsEmpty());
}

ClipSheetOptions on(drawing::Format format) {
  ClipSheetOptions options;
  options.format = drawing::landscape(format);
  return options;
}

TEST(ClipSheet, NoTextMeetsAnotherOnPaperOfBothHalvesOfTheWorld) {
  for (const drawing::Format format : {drawing::kA4, drawing::kLetter}) {
    expect_sound({sheet_of(round_alarm(), on(format))});
    ClipOfAlarm clip = round_alarm();
    for (timeline::Line& line : clip.log.lines)
      if (line.what != Happens::trips)
        line.at = timeline::not_told("/a/pointer/of/some/length/" + std::to_string(static_cast<int>(line.what)));
    clip.fast = clip.log.pre = clip.log.asked = timeline::not_told("/x");
    expect_sound({sheet_of(clip, on(format))});
  }
}

TEST(ClipSheet, LongTimesKeepTheirFiguresApart) {
  ClipOfAlarm clip = round_alarm();
  moment(clip, Happens::clip_at_station).span = {20, 1234567};
  expect_sound({sheet_of(clip)});
  moment(clip, Happens::clip_at_station).span = {20, 20.00001};
  expect_sound({sheet_of(clip)});
}

TEST(ClipSheet, LongNamesTakeLargerPaper) {
  EXPECT_EQ(sheet_of(round_alarm()).format.width_mm, drawing::kA4.height_mm);
  for (const std::size_t letters : {60U, 120U}) expect_sound({sheet_of(round_alarm(), {}, letters)});
  EXPECT_EQ(sheet_of(round_alarm(), {}, 120).format.width_mm, drawing::kA3.height_mm);
}

TEST(ClipSheet, EachClipHasItsPageAndPagesAreNumbered) {
  ClipOfAlarm second = round_alarm();
  second.log.channel = "more";
  const auto sheets = clip_sheets(drawing::test_ruler(), site_of_alarm(), {round_alarm(), second}, {});
  ASSERT_EQ(sheets.size(), 2U);
  EXPECT_EQ(sheets[0].name.id, "clip-t-ch");
  EXPECT_EQ(sheets[1].name.id, "clip-t-more");
  EXPECT_THAT(Found(sheets[1]).says("title-sheet"), HasSubstr("2 of 2"));
  expect_sound(sheets);
}

// --- axes

TEST(TimeAxis, HasRoundTimesThatKeepTheirDistance) {
  for (const double length : {0.013, 0.7, 1.0, 9.99, 10.0, 100.0, 86400.0})
    for (const double from : {-0.9, -0.5, 0.0}) {
      const TimeAxis axis = {{from * length, (1 + from) * length}, 20.0, 120.0};
      const std::vector<double> times = round_times(axis, 8.0);
      ASSERT_GE(times.size(), 4U) << length;
      EXPECT_LE(times.size(), 13U) << length;
      const double step = times[1] - times[0];
      const double digits = step / std::pow(10.0, std::floor(std::log10(step) + 1e-9));
      EXPECT_LT(std::min({std::abs(digits - 1), std::abs(digits - 2), std::abs(digits - 5)}), 1e-6) << length;
      EXPECT_GE(axis.mm(step) - axis.mm(0.0), 8.0 - 1e-9);
      EXPECT_TRUE(std::find(times.begin(), times.end(), 0.0) != times.end()) << length;
    }
}

}  // namespace
}  // namespace zoneproof::sheets
