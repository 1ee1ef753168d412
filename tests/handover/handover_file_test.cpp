// The whole handover file of every scenario: nothing on any page meets anything else or leaves it.
#include "handover/handover_file.hpp"

#include <gtest/gtest.h>

#include "drawing/faults.hpp"
#include "drawing/pango_ruler.hpp"
#include "drawing/specimen.hpp"
#include "handover/demo_site.hpp"
#include "handover/labels.hpp"
#include "paper/pages.hpp"
#include "site/relations.hpp"

namespace zoneproof::handover {
namespace {

class HandoverFile : public testing::TestWithParam<const char*> {};

TEST_P(HandoverFile, HoldsTogetherOnEveryPageOfBothPapers) {
  const site::Site site = demo_site(GetParam());
  const Findings findings = find(site, nullptr, {});
  const drawing::Ruler& ruler = drawing::test_ruler();
  for (const drawing::Format paper : {drawing::kA4, drawing::kLetter}) {
    FileOptions options;
    options.paper = paper;
    options.created = "2026-03-01T12:00:00Z";
    options.date = "2026-03-01";
    const std::vector<drawing::Sheet> pages =
        paper::pages(ruler, chapters(ruler, findings, options), demo_style(site, paper));
    EXPECT_GT(pages.size(), 10U);
    for (const drawing::Sheet& page : pages)
      for (const std::string& fault : drawing::layout_faults(page)) ADD_FAILURE() << page.name.id << ": " << fault;
  }
}

TEST_P(HandoverFile, HasAPageForEveryChainAndALabelForBothEndsOfEveryWire) {
  const site::Site site = demo_site(GetParam());
  std::size_t wires = 0;
  for (const auto& entry : site.triggers) wires += site::has_wire(entry.second) ? 1 : 0;
  std::size_t ends = 0;
  for (const paper::Label& label : labels_of(site, "")) ends += label.id.rfind("label-trigger-", 0) == 0 ? 1 : 0;
  EXPECT_EQ(ends, 2 * wires);
}

INSTANTIATE_TEST_SUITE_P(Scenarios, HandoverFile, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

}  // namespace
}  // namespace zoneproof::handover
