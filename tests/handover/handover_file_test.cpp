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
#include "handover/materials_chapter.hpp"
#include "handover/order_chapter.hpp"
#include "messages/handover_chapters.hpp"
#include "paper/csv.hpp"
#include "paper/pages.hpp"
#include "results/evidence_words.hpp"
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

/// A line below a step, for one thing more that is written down.
bool line_of_a_step(const paper::Row& row) {
  return row.id.find('-', std::string("step-").size()) != std::string::npos;
}

TEST_P(HandoverFile, TellsOfEveryReadingTheStateThatItHoldsInAndTheWholeInterval) {
  const site::Site site = demo_site(GetParam());
  const Findings findings = find(site, nullptr, {});
  std::size_t number = 0, both = 0;
  for (const paper::Block& block : order_chapter(findings).blocks) {
    const auto* table = std::get_if<paper::Table>(&block);
    if (table == nullptr) continue;
    for (const paper::Group& group : table->groups) {
      std::string state;  // the last one named at this place
      for (const paper::Row& row : group.rows) {
        if (line_of_a_step(row)) continue;
        const field::Step& step = findings.work.steps.at(number++);
        if (!step.expected) continue;
        const bool named =
            words_under(*table, row, "what").find(text(say::paper_step_state(text(step.state)))) != std::string::npos;
        EXPECT_EQ(named, state != text(step.state)) << step.id;
        state = text(step.state);
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
  }
  EXPECT_EQ(number, findings.work.steps.size());
  EXPECT_GT(both, 0U) << "whoever trips a detector reads the meter and the panel";
}

// Four things on one line of 22 mm nobody can write, and none can tell which is which.
TEST_P(HandoverFile, HasALineForEachThingThatAStepHasWrittenDownAndItsDangersAtThePlace) {
  const site::Site site = demo_site(GetParam());
  const Findings findings = find(site, nullptr, {});
  std::size_t number = 0;
  for (const paper::Block& block : order_chapter(findings).blocks) {
    const auto* table = std::get_if<paper::Table>(&block);
    if (table == nullptr) continue;
    for (const paper::Group& group : table->groups) {
      std::string read_here;
      for (std::size_t i = 0; i < group.rows.size(); ++i) {
        const field::Step& step = findings.work.steps.at(number++);
        // What is the same for every step of a phase is written down in columns, each under its own heading.
        std::size_t lines = 0;
        std::string labels;
        for (std::size_t c = 0; c < table->columns.size(); ++c)
          if (std::holds_alternative<paper::Blank>(group.rows[i].cells[c])) {
            ++lines;
            labels += table->columns[c].heading + "|";
          }
        read_here += words_under(*table, group.rows[i], "what");
        for (const Message& danger : step.dangers)
          EXPECT_NE(read_here.find(text(danger)), std::string::npos) << step.id;
        for (; i + 1 < group.rows.size() && line_of_a_step(group.rows[i + 1]); ++i, ++lines)
          labels += words_under(*table, group.rows[i + 1], "expected") + "|";
        std::size_t written = 0;
        for (const field::Blank& blank : step.blanks) {
          written += blank.kind == field::BlankKind::yes_no ? 0 : 1;
          if (blank.kind == field::BlankKind::words) {
            EXPECT_NE(labels.find(text(blank.label)), std::string::npos) << step.id;
          }
        }
        EXPECT_EQ(lines, written) << step.id;
      }
    }
  }
  EXPECT_EQ(number, findings.work.steps.size());
}

// Nobody finds out on the ladder, at step 73, that the site is to be proven again.
TEST(TheOrderOfWorkOnPaper, BeginsWithWhatIsToBeSettledBeforeLeaving) {
  const auto begins = [](const char* name) {
    const site::Site site = demo_site(name);
    const Findings findings = find(site, nullptr, {});
    const paper::Chapter chapter = order_chapter(findings);
    const auto* caution = std::get_if<paper::Caution>(&chapter.blocks.front());
    return caution == nullptr ? std::string() : caution->says.front();
  };
  EXPECT_NE(begins("kiln-yard").find("8 of 8"), std::string::npos);
  EXPECT_EQ(begins("kiln-yard-corrected"), "");
}

TEST(TheOrderOfWorkOnPaper, SaysOfEveryReadingThatIsNotExpectedWhichDatumIsMissing) {
  site::Site site = demo_site("kiln-yard");
  const std::string pointer = site.zones.at("z4").loop.eol_ohm.pointer;
  site.zones.at("z4").loop.eol_ohm = {};
  site.zones.at("z4").loop.eol_ohm.pointer = pointer;
  site.units.at("unit").part.id.clear();
  const Findings findings = find(site, nullptr, {});
  std::size_t number = 0, told = 0;
  for (const paper::Block& block : order_chapter(findings).blocks) {
    const auto* table = std::get_if<paper::Table>(&block);
    if (table == nullptr) continue;
    for (const paper::Group& group : table->groups)
      for (const paper::Row& row : group.rows) {
        if (line_of_a_step(row)) continue;
        const field::Step& step = findings.work.steps.at(number++);
        if (!step.expected || !step.expected->blank() || step.expected->unbounded) continue;
        const std::string says = words_under(*table, row, "expected");
        EXPECT_NE(says.find("Not known, for want of: "), std::string::npos) << step.id << ": " << says;
        told += says.find(results::missing_words(site, {pointer, "unknown"})) != std::string::npos;
      }
  }
  EXPECT_GT(told, 3U) << "the resistor is named where it is missing";
}

// "Panel to Hall 1" is the beginning of "Panel to Hall 12" and another cable end all the same.
TEST(ACableOnPaper, TellsEveryEndThoughOneNameBeginsAnother) {
  site::Site site = demo_site("kiln-yard");
  site.detectors.at("d_shop").name = "Hall 12";
  site.detectors.at("d_office").name = "Hall 1";
  materials::Materials materials;
  materials::CableRow row;
  row.id = row.name = "k_z2";
  for (const char* to : {"d_shop", "d_office", "d_shop"})
    row.uses.push_back({site::CableUse::Kind::feed, "panel", to, to, 2, 2});
  materials.cables = {row};
  for (const paper::Block& block : materials_chapter(site, materials).blocks)
    if (const auto* table = std::get_if<paper::Table>(&block); table != nullptr && table->id == "cables") {
      const std::string joins = words_under(*table, table->groups.front().rows.front(), "joins");
      const std::string panel = site.panels.at("panel").name;
      EXPECT_EQ(joins,
                text(say::paper_cable_joins(panel, "Hall 12")) + "; " + text(say::paper_cable_joins(panel, "Hall 1")));
      return;
    }
  FAIL() << "no table of cables";
}

TEST(LabourOnPaper, IsABlankWithItsReasonWhereALengthIsNotKnown) {
  site::Site site = demo_site("kiln-yard");
  site.cables.at("k_z2").length_m = {};
  site.levels.clear();
  const auto row_of = [&](const std::string& task) {
    const paper::Chapter chapter = materials_chapter(site, materials::materials_of(site));
    for (const paper::Block& block : chapter.blocks) {
      const auto* table = std::get_if<paper::Table>(&block);
      if (table == nullptr || table->id != "labour") continue;
      EXPECT_NE(paper::csv(*table).find("missing: length of " + site.cables.at("k_z2").name), std::string::npos);
      for (const paper::Row& row : table->groups.front().rows)
        if (words_under(*table, row, "task").rfind(task, 0) == 0) return row;
    }
    return paper::Row{};
  };
  for (const char* task : {"All together: not known", "All together"}) {
    const paper::Row sum = row_of(task);
    ASSERT_FALSE(sum.cells.empty());
    EXPECT_TRUE(std::holds_alternative<paper::Blank>(sum.cells.back()));
  }
}

INSTANTIATE_TEST_SUITE_P(Scenarios, HandoverFile, testing::Values("kiln-yard", "tern-hollow", "saltmarsh"));

}  // namespace
}  // namespace zoneproof::handover
