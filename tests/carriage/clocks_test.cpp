// The clocks of what dates a clip: named cases.
#include "carriage/clocks.hpp"

#include <gtest/gtest.h>

#include "carriage/network_site.hpp"

namespace zoneproof::carriage {
namespace {

using chain::Verdict;

std::vector<chain::Evidence> clock_answers(const std::string& patch = "[]") {
  return check_clocks(network_of(small_network(), patch));
}

TEST(Clocks, OfUnitRecorderAndSendingCamerasAreAsked) {
  const auto all = clock_answers();
  ASSERT_EQ(all.size(), 4u);
  for (const char* id : {"unit", "recorder", "yard", "hall"}) {
    EXPECT_EQ(only(all, "clock_error", id).verdict, Verdict::proven) << id;
    EXPECT_EQ(only(all, "clock_error", id).limit, 5.0) << id;
  }
  EXPECT_FALSE(any(clock_answers(R"([{"op": "remove", "path": "/cameras/yard/streams/all"},
                          {"op": "remove", "path": "/channels/ch1/stream"}])"),
                   "clock_error", "yard"));
}

TEST(Clocks, OneThatIsWrongByMoreIsBroken) {
  const auto off = only(
      clock_answers(
          R"([{"op": "replace", "path": "/recorders/recorder/clock/error_s", "value": {"value": 3, "min": 0, "max": 5.1}}])"),
      "clock_error", "recorder");
  EXPECT_EQ(off.verdict, Verdict::broken);
  EXPECT_EQ(off.value, 5.1);
  EXPECT_FALSE(off.remedies.empty());
}

TEST(Clocks, OneThatRunsFreeIsNeverProven) {
  const char* const free = R"([{"op": "replace", "path": "/units/unit/clock/source", "value": "free_running"})";
  const auto read_once = only(clock_answers(std::string(free) + "]"), "clock_error", "unit");
  EXPECT_EQ(read_once.verdict, Verdict::unanswered);
  EXPECT_TRUE(lacks(read_once, "/units/unit/clock/source", "undecided"));
  EXPECT_FALSE(read_once.remedies.empty());
  const auto never_read =
      only(clock_answers(std::string(free) + R"(, {"op": "remove", "path": "/units/unit/clock/error_s"}])"),
           "clock_error", "unit");
  EXPECT_EQ(never_read.verdict, Verdict::unanswered);
  EXPECT_TRUE(lacks(never_read, "/units/unit/clock/error_s"));
  const auto wrong = only(
      clock_answers(std::string(free) + R"(, {"op": "replace", "path": "/units/unit/clock/error_s", "value": 90}])"),
      "clock_error", "unit");
  EXPECT_EQ(wrong.verdict, Verdict::broken);
}

TEST(Clocks, WhatIsMissingIsNamed) {
  expect_unanswered(check_clocks, {{"/units/unit/clock/error_s", "clock_error", "unit"},
                                   {"/recorders/recorder/clock/error_s", "clock_error", "recorder"},
                                   {"/cameras/yard/clock/error_s", "clock_error", "yard"},
                                   {"/rulebooks/european_intruder/entries/clock_error_s", "clock_error", "hall",
                                    nullptr, "no_rule"}});
  const auto open = only(clock_answers(without("/units/unit/clock/source")), "clock_error", "unit");
  EXPECT_EQ(open.verdict, Verdict::unanswered);
  EXPECT_TRUE(lacks(open, "/units/unit/clock/source"));
}

}  // namespace
}  // namespace zoneproof::carriage
