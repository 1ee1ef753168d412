// The first chapter: what several zones lean on stands once, and it is told which zones these are.
#include "handover/summary_chapter.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <variant>

#include "handover/demo_site.hpp"

namespace zoneproof::handover {
namespace {

/// The headings of the list of what is not proven.
std::vector<std::string> headings_of(const site::Site& site) {
  const Findings findings = find(site, nullptr, {});
  std::vector<std::string> headings;
  for (const paper::Block& block : summary_chapter(findings).blocks) {
    const auto* table = std::get_if<paper::Table>(&block);
    if (table == nullptr || table->id != "not-proven") continue;
    for (const paper::Group& group : table->groups) headings.push_back(group.heading);
  }
  return headings;
}

TEST(Summary, ZonesOfEqualNumbersOnTwoPanelsAreToldApartByTheirNames) {
  site::Site site = demo_site("tern-hollow");
  const std::vector<std::string> before = headings_of(site);
  const auto several =
      std::find_if(before.begin(), before.end(), [](const std::string& one) { return one.rfind("Zones ", 0) == 0; });
  ASSERT_NE(several, before.end()) << "the demo has a finding that several zones share";
  EXPECT_THAT(*several, testing::MatchesRegex("Zones [0-9, ]+")) << "their numbers do while each has its own";
  site.panels["second"] = site.panels.begin()->second;
  for (const auto& [id, zone] : demo_site("tern-hollow").zones) {
    site::Zone again = zone;
    again.panel.id = "second";
    again.name = "Second " + zone.name;
    site.zones["second_" + id] = again;
  }
  for (const std::string& heading : headings_of(site))
    EXPECT_THAT(heading, testing::Not(testing::MatchesRegex("Zones [0-9, ]+"))) << "two zones have each number now";
}

}  // namespace
}  // namespace zoneproof::handover
