#include "paper/pages.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fmt/format.h>

#include "drawing/faults.hpp"
#include "drawing/pdf.hpp"
#include "drawing/shapes.hpp"
#include "drawing/specimen.hpp"
#include "paper/found_on_pages.hpp"
#include "paper/specimen.hpp"

namespace zoneproof::paper {
namespace {

using drawing::test_ruler;
using testing::Contains;

std::vector<std::string> words_on(const drawing::Sheet& sheet) {
  std::vector<std::string> words;
  for (const drawing::TextLine& text : texts_of(sheet)) words.push_back(text.content);
  return words;
}

Chapter chapter(const std::string& id, int paragraphs) {
  Chapter made{id, "Chapter " + id, {}};
  for (int i = 0; i < paragraphs; ++i)
    made.blocks.push_back(
        Paragraph{"A sentence that says what is to be done, and why, and with which tool it is done."});
  return made;
}

TEST(Pages, NothingMeetsOrLeavesOnA4AndLetter) {
  for (const drawing::Format paper : {drawing::kA4, drawing::kLetter}) {
    const auto sheets = pages(test_ruler(), specimen_chapters(test_ruler()), specimen_style(paper));
    EXPECT_THAT(faults_on(sheets), testing::IsEmpty());
    drawing::Document document;
    document.created = "2026-03-01T12:00:00Z";
    document.sheets = sheets;
    EXPECT_THAT(drawing::faults(document), testing::IsEmpty());
  }
}

TEST(Pages, EveryPageTellsSiteChapterRevisionAndItsNumber) {
  const auto sheets = pages(test_ruler(), specimen_chapters(test_ruler()), specimen_style(drawing::kA4));
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const auto words = words_on(sheets[i]);
    EXPECT_THAT(words, Contains(fmt::format("Page {} of {}", i + 1, sheets.size())));
    EXPECT_THAT(words, Contains("Revision 14 · 3f1c9a60d2b8 · 2026-03-01"));
    if (i + 1 == sheets.size()) continue;  // a sheet of others
    EXPECT_THAT(words, Contains("Saltmarsh Cold Store"));
  }
}

TEST(Pages, TheContentsNameThePageOnWhichAThingStands) {
  std::vector<Chapter> chapters;
  for (int i = 1; i <= 90; ++i)
    chapters.push_back(chapter(fmt::format("c{}", i), i % 7 * 12));  // two pages of contents
  const auto sheets = pages(test_ruler(), chapters, specimen_style(drawing::kLetter));
  std::map<std::string, std::size_t> page;
  for (const Found& found : groups_with(sheets, "c")) {
    if (found.id == "contents") continue;
    EXPECT_TRUE(page.emplace(found.id, found.page).second) << found.id;
  }
  std::map<std::string, std::string> told;  // by link: what stands behind it last
  std::size_t pages_of_contents = 0;
  for (std::size_t i = 0; i < sheets.size(); ++i)
    for (const drawing::TextLine& text : texts_of(sheets[i]))
      if (text.name.link.starts_with("#c")) {
        told[text.name.link.substr(1)] = text.content;
        pages_of_contents = std::max(pages_of_contents, i + 1);
      }
  EXPECT_GE(pages_of_contents, 2u);
  EXPECT_EQ(told.size(), chapters.size());
  for (const auto& [id, number] : told) EXPECT_EQ(number, std::to_string(page.at(id))) << id;
}

TEST(Pages, AHeadingStaysWithWhatFollows) {
  for (int paragraphs = 20; paragraphs < 60; ++paragraphs) {
    Chapter made = chapter("c", paragraphs);
    made.blocks.push_back(Heading{2, "The heading"});
    made.blocks.push_back(Paragraph{"What follows it."});
    for (const drawing::Sheet& sheet :
         pages(test_ruler(), {made}, {specimen_style(drawing::kA4).stamp, drawing::kA4, false})) {
      const auto words = words_on(sheet);
      EXPECT_EQ(std::count(words.begin(), words.end(), "The heading"),
                std::count(words.begin(), words.end(), "What follows it."));
    }
  }
}

TEST(Pages, NoLineOfAParagraphStandsAloneOnAPage) {
  const std::string line = "word word word word word word word word word word word word word word word word ";
  for (int before = 0; before < 60; ++before) {
    Chapter made{"c", "Chapter", {}};
    for (int i = 0; i < before; ++i) made.blocks.push_back(Paragraph{"short"});
    made.blocks.push_back(Paragraph{line + line + line + line});
    for (const drawing::Sheet& sheet :
         pages(test_ruler(), {made}, {specimen_style(drawing::kA4).stamp, drawing::kA4, false})) {
      const auto words = words_on(sheet);
      const auto lines =
          std::count_if(words.begin(), words.end(), [](const auto& says) { return says.starts_with("word"); });
      EXPECT_NE(lines, 1) << before;
    }
  }
}

TEST(Pages, SheetsOfOthersKeepTheirPaperAndGetTheNumberBelowTheirFrame) {
  const auto sheets = pages(test_ruler(), specimen_chapters(test_ruler()), specimen_style(drawing::kA4));
  const drawing::Sheet& last = sheets.back();
  EXPECT_EQ(last.format.width_mm, 420.0);
  ASSERT_EQ(groups_with(sheets, "ground").size(), 1u);
  for (const drawing::TextLine& text : texts_of(last)) {
    if (!text.content.starts_with("Page")) continue;
    EXPECT_GT(text.box().top, 297.0 - 10.0);
  }
  std::vector<std::string> ids;
  drawing::each(
      last.content, [&](const drawing::Shape& shape) { ids.push_back(shape.name.id); },
      [&](const drawing::TextLine& text) { ids.push_back(text.name.id); });
  EXPECT_THAT(ids, testing::IsSupersetOf({"ground-wall", "ground-label", "ground-frame"}));
}

TEST(Pages, TheContentsTellTheSizeOfASheetThatIsNotOnThePaperOfTheRest) {
  drawing::Sheet as_the_rest, larger;
  as_the_rest.format = drawing::landscape(drawing::kLetter);
  as_the_rest.name = {"small", "Small sheet", {}};
  larger.format = drawing::landscape(drawing::kA4);
  larger.name = {"large", "Large sheet", {}};
  Chapter made{"c", "Chapter", {Inserted{{as_the_rest, larger}}}};
  std::string words;
  for (const std::string& line : words_on(pages(test_ruler(), {made}, specimen_style(drawing::kLetter)).front()))
    words += line + "\n";
  EXPECT_NE(words.find("Small sheet\n"), std::string::npos) << words;
  EXPECT_NE(words.find("Large sheet (its page is 297 mm by 210 mm"), std::string::npos) << words;
}

TEST(Pages, ANameThatIsTooLongForTheHeadStandsInFullOnTheFirstPage) {
  Style style = specimen_style(drawing::kA4);
  style.stamp.name.clear();
  for (int i = 0; i < 40; ++i) style.stamp.name += fmt::format("Warehouse {} ", i);
  const auto sheets = pages(test_ruler(), {chapter("c", 3)}, style);
  EXPECT_THAT(faults_on(sheets), testing::IsEmpty());
  const auto& first = words_on(sheets.front());
  EXPECT_TRUE(std::any_of(first.begin(), first.end(),
                          [](const auto& says) { return says.find("Warehouse 39") != std::string::npos; }));
  const auto& other = words_on(sheets.back());
  EXPECT_TRUE(std::any_of(other.begin(), other.end(), [](const auto& says) { return says.ends_with("…"); }));
}

TEST(Pages, WhatIsWrongWithADocumentIsRefused) {
  const Style style = specimen_style(drawing::kA4);
  EXPECT_THROW(pages(test_ruler(), {chapter("c", 1), chapter("c", 1)}, style), std::invalid_argument);
  EXPECT_THROW(pages(test_ruler(), {{"c", "C", {Paragraph{"Goes nowhere.", "#lost"}}}}, style), std::invalid_argument);
  EXPECT_THROW(pages(test_ruler(), {{"c", "C", {Figure{"f", "F", {}, 500.0, 20.0}}}}, style), std::invalid_argument);
  EXPECT_THROW(pages(test_ruler(), {{"c", "C", {Figure{"f", "F", {}, 50.0, 400.0}}}}, style), std::invalid_argument);
}

TEST(Pages, LinksWithinASheetOfOthersStayInItAndThoseToItLeadThere) {
  drawing::Sheet made = drawing::Sheet{drawing::kA4, {}, {"plan", "Plan", {}}, "A plan.", {}};
  for (int i = 0; i < 2; ++i) {
    drawing::TextLine line = drawing::text_line(test_ruler(), i == 0 ? "a" : "b", "words", {}, 3.0, drawing::Ink::text,
                                                {50.0, 50.0 + 20.0 * i});
    line.name.link = i == 0 ? "#b" : "#c-h1";
    made.content.items.push_back({line});
  }
  const auto sheets =
      pages(test_ruler(), {{"c", "C", {Heading{2, "Here"}, Paragraph{"To the plan", "#plan-a"}, Inserted{{made}}}}},
            specimen_style(drawing::kA4));
  std::vector<std::string> links;
  for (const drawing::TextLine& text : texts_of(sheets.back())) links.push_back(text.name.link);
  EXPECT_THAT(links, testing::IsSupersetOf({"#plan-b", "#c-h1"}));
}

TEST(Pages, ACautionThatIsHigherThanAPageLosesNothing) {
  std::string says;
  for (int i = 0; i < 4000; ++i) says += fmt::format("w{} ", i);
  const auto sheets = pages(test_ruler(), {{"c", "C", {Caution{"Caution", {says}}}}}, specimen_style(drawing::kA4));
  EXPECT_THAT(faults_on(sheets), testing::IsEmpty());
  std::string all;
  for (const drawing::Sheet& sheet : sheets)
    for (const drawing::TextLine& text : texts_of(sheet))
      if (text.content.starts_with("w")) all += letters_of(text.content);
  EXPECT_EQ(all, letters_of(says));
}

}  // namespace
}  // namespace zoneproof::paper
