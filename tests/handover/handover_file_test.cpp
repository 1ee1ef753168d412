// The whole handover file of every scenario: nothing on any page meets anything else or leaves it.
#include "handover/handover_file.hpp"

#include <gtest/gtest.h>

#include <variant>

#include "base/outward.hpp"
#include "drawing/faults.hpp"
#include "drawing/pango_ruler.hpp"
#include "drawing/specimen.hpp"
#include "handover/demo_site.hpp"
#include "handover/labels.hpp"
#include "handover/order_chapter.hpp"
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

std::string words_under(const paper::Table& table, const paper::Row& row, const std::string& column) {
  for (std::size_t i = 0; i < table.columns.size(); ++i)
    if (table.columns[i].id == column) return paper::words_of(row.cells[i], table.columns[i]);
  return {};
}

TEST_P(HandoverFile, TellsOfEveryReadingTheStateThatItHoldsInAndTheWholeInterval) {
  const site::Site site = demo_site(GetParam());
  const Findings findings = find(site, nullptr, {});
  std::size_t number = 0, both = 0;
  for (const paper::Block& block : order_chapter(findings).blocks) {
    const auto* table = std::get_if<paper::Table>(&block);
    if (table == nullptr) continue;
    for (const paper::Group& group : table->groups)
      for (const paper::Row& row : group.rows) {
        const field::Step& step = findings.work.steps.at(number++);
        if (!step.expected) continue;
        EXPECT_NE(words_under(*table, row, "what").find(text(step.state)), std::string::npos) << step.id;
        const std::string expected = words_under(*table, row, "expected");
        if (step.expected->low) {
          EXPECT_NE(expected.find(shown(lowest({*step.expected->low, step.expected->unit}))), std::string::npos)
              << step.id;
        }
        if (step.expected_words) {
          EXPECT_NE(expected.find(text(*step.expected_words)), std::string::npos) << step.id;
          ++both;
        }
      }
  }
  EXPECT_EQ(number, findings.work.steps.size());
  EXPECT_GT(both, 0U) << "whoever trips a detector reads the meter and the panel";
}

INSTANTIATE_TEST_SUITE_P(Scenarios, HandoverFile, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

}  // namespace
}  // namespace zoneproof::handover
