#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <rapidcheck/gtest.h>
#include <cmath>

#include "drawing/specimen.hpp"
#include "drawing/type.hpp"
#include "paper/found_on_pages.hpp"
#include "paper/grid.hpp"
#include "paper/pages.hpp"
#include "paper/random_table.hpp"
#include "paper/table_widths.hpp"

namespace zoneproof::paper {
namespace {

using drawing::test_ruler;

Style style_on(drawing::Format paper) {
  return {{"Site", "Tables", "1", std::string(64, 'a'), "2026-03-01"}, paper, false};
}

std::vector<drawing::Sheet> pages_of(const Table& table, drawing::Format paper, bool lying) {
  return pages(test_ruler(), {{"c", "Tables", {Turn{lying}, table}}}, style_on(paper));
}

/// What the row says, in the order of its cells; what is no text says nothing, a verdict its word.
std::string letters_of_row(const Table& table, const Row& row) {
  std::string out;
  for (std::size_t i = 0; i < row.cells.size(); ++i) out += letters_of(words_of(row.cells[i], table.columns[i]));
  return out;
}

/// Sorted, because lines of cells that go on on the next page are drawn page by page.
std::string sorted(std::string text) {
  std::sort(text.begin(), text.end());
  return text;
}

RC_GTEST_PROP(TableOnPages, AnyTableHasEveryRowOnceInOrderAndNothingMeetsOrLeaves, ()) {
  const Table table = any_table();
  const auto paper = *rc::gen::element(drawing::kA4, drawing::kLetter);
  const std::vector<drawing::Sheet> sheets = pages_of(table, paper, *rc::gen::arbitrary<bool>());
  const std::vector<std::string> faults = faults_on(sheets);
  if (!faults.empty()) RC_FAIL(faults.front());
  const std::vector<Found> rows = groups_with(sheets, "t-");
  RC_ASSERT(rows.size() == row_count(table));
  std::size_t number = 0;
  for (const Group& group : table.groups)
    for (const Row& row : group.rows) {
      const Found& found = rows[number++];
      RC_ASSERT(found.id == row_id(table, row, number));
      RC_ASSERT(sorted(letters_of(*found.group)) == sorted(letters_of_row(table, row)));
    }
}

RC_GTEST_PROP(TableOnPages, ColumnsAreNeverWiderThanThePage, ()) {
  const Table table = any_table();
  const double width = *rc::gen::inRange(40, 280);
  double sum = 0.0;
  for (const double column : column_widths(test_ruler(), table, width)) {
    RC_ASSERT(column > 0.0);
    sum += column;
  }
  RC_ASSERT(sum <= width + 1e-6);
}

Table long_table(int rows, const std::string& says) {
  Table table{"t", "Long", {{"a", "First"}, {"b", "Second", "V", drawing::Align::right, 0.0}}, {}};
  table.groups.push_back({"Part one", {}});
  for (int i = 0; i < rows; ++i) table.groups.back().rows.push_back({{Words{says}, Number{1.0 * i, 3}}});
  return table;
}

/// One word without an end is broken; what stands beside it keeps the room of its own words.
TEST(TableOnPages, AWordWiderThanThePageTakesNoOtherColumnsRoom) {
  constexpr double width = 180.0;
  Table table{"t", "Wide", {{"a", "Name"}, {"b", "Terminated"}, {"c", "Voltage", "V"}}, {}};
  table.groups.push_back({"", {{{Words{"Short"}, Words{"Installation"}, Number{1.0, 3}}}}});
  const std::vector<double> before = column_widths(test_ruler(), table, width);
  const double longest_word =
      test_ruler().measure("Installation", {drawing::Role::reading, false}, drawing::kLabel_mm).box.width();
  ASSERT_GT(before[1], longest_word);
  table.groups.front().rows.push_back({{Words{std::string(200, 'W')}, Words{"x"}, Number{2.0, 3}}});
  const std::vector<double> after = column_widths(test_ruler(), table, width);
  EXPECT_GT(after[1], longest_word);
  EXPECT_GT(after[0], width / 2);
  EXPECT_LE(after[0] + after[1] + after[2], width + 1e-6);
  EXPECT_TRUE(faults_on(pages_of(table, drawing::kA4, false)).empty());
}

TEST(TableOnPages, TheHeadAndTheSubHeadingStandAgainOnEveryPage) {
  const auto sheets = pages_of(long_table(120, "word"), drawing::kA4, false);
  ASSERT_GE(sheets.size(), 3u);
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    int heads = 0, units = 0, sub = 0;
    for (const drawing::TextLine& text : texts_of(sheets[i])) {
      heads += text.content == "First";
      units += text.content == "Second (V)";
      sub += text.content == (i == 0 ? "Part one" : "Part one (continued)");
    }
    EXPECT_EQ(heads, 1);
    EXPECT_EQ(units, 1);
    EXPECT_EQ(sub, 1);
  }
}

TEST(TableOnPages, ARowIsDividedOnlyWhereItIsHigherThanAPage) {
  std::string says;
  for (int i = 0; i < 60; ++i) says += "word and word ";
  const auto whole = pages_of(long_table(40, says), drawing::kA4, false);
  for (const Found& row : groups_with(whole, "t-"))
    EXPECT_EQ(letters_of(*row.group).substr(0, letters_of(says).size()), letters_of(says)) << row.id;
  std::string longer;
  for (int i = 0; i < 2000; ++i) longer += "word and word ";
  const auto sheets = pages_of(long_table(2, longer), drawing::kA4, true);
  EXPECT_TRUE(faults_on(sheets).empty());
  std::string all;
  for (const drawing::Sheet& sheet : sheets)
    for (const drawing::TextLine& text : texts_of(sheet))
      if (text.content.find("word") != std::string::npos) all += letters_of(text.content);
  EXPECT_EQ(all, letters_of(longer) + letters_of(longer));
}

TEST(TableOnPages, ATitleAndASubHeadingStayWithTheFirstRow) {
  for (int before = 30; before < 50; ++before) {  // so that the second group begins at every height of a page
    Table table = long_table(before, "word");
    table.groups.push_back({"Part two", {{{Words{"first of two"}, Number{}}}}});
    const auto sheets = pages_of(table, drawing::kA4, false);
    for (const drawing::Sheet& sheet : sheets) {
      int heading = 0, row = 0;
      for (const drawing::TextLine& text : texts_of(sheet)) {
        heading += text.content == "Part two";
        row += text.content == "first of two";
      }
      EXPECT_EQ(heading, row) << before;
    }
  }
}

TEST(TableOnPages, EveryBaselineStandsOnTheGrid) {
  const auto sheets = pages_of(long_table(60, "word and another word"), drawing::kLetter, true);
  double first = 0.0;
  for (const Found& row : groups_with(sheets, "t-")) {
    drawing::each(
        *row.group, [](const drawing::Shape&) {},
        [&](const drawing::TextLine& text) {
          if (first == 0.0) first = text.at.y;
          const double lines = (text.at.y - first) / kGrid_mm;
          EXPECT_NEAR(lines, std::round(lines), 1e-6) << text.content;
        });
  }
}

TEST(TableOnPages, AFigureOrAWordIsNotBrokenWhereThereIsRoomForAll) {
  for (const bool lying : {false, true}) {
    for (int columns = 2; columns < 9; ++columns) {
      Table table{"t", "Figures", {{"words", "Words"}}, {{"", {}}}};
      for (int i = 0; i < columns; ++i)
        table.columns.push_back({"c" + std::to_string(i), "highest", "V", drawing::Align::right, 0.0, 0.0, false});
      std::vector<std::string> figures;
      for (int row = 0; row < 20; ++row) {
        Row made{{Words{
            "a sentence that takes what the figures leave, and wraps where that is less than it needs for itself"}}};
        for (int i = 0; i < columns; ++i) {
          made.cells.push_back(Number{0.137 * (row + 1) * (i + 1) * (i + 1), 3});
          figures.push_back(words_of(made.cells.back(), table.columns.back()));
        }
        table.groups.front().rows.push_back(made);
      }
      std::vector<std::string> found;
      for (const drawing::Sheet& sheet : pages_of(table, drawing::kA4, lying))
        for (const drawing::TextLine& text : texts_of(sheet)) found.push_back(text.content);
      EXPECT_THAT(found, testing::IsSupersetOf(figures)) << columns;
    }
  }
}

TEST(TableOnPages, AnEmptyTableSaysSo) {
  Table table = long_table(0, "");
  table.says_empty = "None.";
  const auto sheets = pages_of(table, drawing::kA4, false);
  const auto texts = texts_of(sheets.at(0));
  EXPECT_TRUE(std::any_of(texts.begin(), texts.end(), [](const auto& text) { return text.content == "None."; }));
}

TEST(TableOnPages, WhatIsNoTableIsRefused) {
  Table table = long_table(1, "word");
  table.groups.front().rows.front().cells.pop_back();
  EXPECT_THROW(pages_of(table, drawing::kA4, false), std::invalid_argument);
  table = long_table(1, "word");
  std::get<Number>(table.groups.front().rows.front().cells.back()).value = std::nan("");
  EXPECT_THROW(pages_of(table, drawing::kA4, false), std::invalid_argument);
  table = long_table(1, "word");
  std::get<Number>(table.groups.front().rows.front().cells.back()).formula = "2*{price}";
  EXPECT_THROW(pages_of(table, drawing::kA4, false), std::invalid_argument);
  table = long_table(1, "word");
  table.columns.back().id = "a";
  EXPECT_THROW(pages_of(table, drawing::kA4, false), std::invalid_argument);
}

}  // namespace
}  // namespace zoneproof::paper
