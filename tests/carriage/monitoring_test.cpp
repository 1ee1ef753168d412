// Monitoring paths against the categories of EN 50136-1.
#include "carriage/monitoring.hpp"

#include "carriage/addressed_site.hpp"

namespace zoneproof::carriage {
namespace {

using chain::Verdict;

Verdict monitoring_verdict(const char* check, const char* subject, const std::vector<std::string>& operations = {}) {
  return verdict_of(check_monitoring, check, subject, operations);
}

TEST(Monitoring, APathReportsWithinTheTimeOfItsCategory) {
  struct Case {
    const char* category;
    int most_s;  // EN 50136-1:2012 as the rulebook of the shelf has it; from memory, not verified
  };
  for (const Case& one : {Case{"sp2", 90000}, Case{"sp3", 1800}, Case{"sp4", 180}, Case{"sp5", 90}, Case{"sp6", 20},
                          Case{"dp1", 90000}, Case{"dp2", 1800}, Case{"dp3", 180}, Case{"dp4", 90}}) {
    const auto with = [&](int seconds) {
      return monitoring_verdict("path_reporting", "path",
                                {set("/monitoring_paths/path/category", '"' + std::string(one.category) + '"'),
                                 set("/monitoring_paths/path/reporting_s", std::to_string(seconds))});
    };
    // A category of two paths asks for another one, which the file does not tell.
    const bool dual = one.category[0] == 'd';
    EXPECT_EQ(with(one.most_s), dual ? Verdict::unanswered : Verdict::proven) << one.category;
    EXPECT_EQ(with(one.most_s + 1), Verdict::broken) << one.category;
  }
}

TEST(Monitoring, TheWorstReportingTimeCounts) {
  EXPECT_EQ(monitoring_verdict("path_reporting", "path",
                               {set("/monitoring_paths/path/reporting_s", R"({"value": 75, "min": 60, "max": 91})")}),
            Verdict::broken);
}

TEST(Monitoring, AGuessedReportingTimeProvesNothing) {
  EXPECT_EQ(monitoring_verdict("path_reporting", "path",
                               {set("/monitoring_paths/path/reporting_s", R"({"value": 75, "origin": "assumed"})")}),
            Verdict::unanswered);
}

TEST(Monitoring, APathThatIsNotLetOutIsBroken) {
  EXPECT_EQ(monitoring_verdict("path_permitted", "path"), Verdict::proven);
  EXPECT_EQ(monitoring_verdict("path_permitted", "path", {set("/monitoring_paths/path/outbound_permitted", "false")}),
            Verdict::broken);
}

TEST(Monitoring, AUnitWithoutPathIsOpen) {
  for (const char* check : {"path_reporting", "path_permitted"})
    EXPECT_EQ(monitoring_verdict(check, "unit", {R"({"op": "remove", "path": "/units/unit/monitoring"})"}),
              Verdict::unanswered);
  EXPECT_FALSE(any(check_monitoring(network_of(addressed_network())), "path_reporting", "unit"));
}

TEST(Monitoring, WhatIsMissingIsNamed) {
  expect_unanswered(
      check_monitoring,
      {{"/monitoring_paths/path/category", "path_reporting", "path"},
       {"/monitoring_paths/path/reporting_s", "path_reporting", "path"},
       {"/monitoring_paths/path/outbound_permitted", "path_permitted", "path"},
       {"/monitoring_paths/path/port", "path_permitted", "path"},
       {"/rulebooks/european_intruder/entries/reporting_sp5_s", "path_reporting", "path", nullptr, "no_rule"}},
      addressed_network());
}

}  // namespace
}  // namespace zoneproof::carriage
