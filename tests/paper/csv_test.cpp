#include "paper/csv.hpp"

#include <gtest/gtest.h>

#include <rapidcheck/gtest.h>

#include "base/utf8.hpp"
#include "paper/random_table.hpp"

namespace zoneproof::paper {
namespace {

/// RFC 4180, section 2, read by the letter: lines end in CR LF, a quoted field may hold anything.
std::vector<std::vector<std::string>> read(const std::string& text) {
  std::vector<std::vector<std::string>> lines(1);
  std::string field;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '"' && i + 1 < text.size() && text[i + 1] == '"') {
      field += '"';
      ++i;
    } else if (c == '"') {
      quoted = !quoted;
    } else if (!quoted && (c == ',' || c == '\r')) {
      lines.back().push_back(field);
      field.clear();
      if (c == '\r') lines.emplace_back();
      if (c == '\r') ++i;
    } else {
      field += c;
    }
  }
  EXPECT_FALSE(quoted);
  lines.pop_back();
  return lines;
}

RC_GTEST_PROP(Csv, AnyTableIsReadBackAsItSays, ()) {
  const Table table = any_table();
  const auto lines = read(csv(table));
  RC_ASSERT(lines.size() == 1 + row_count(table));
  const std::size_t first = has_groups(table) ? 1 : 0;
  std::size_t line = 0;
  for (const Group& group : table.groups)
    for (const Row& row : group.rows) {
      ++line;
      RC_ASSERT(lines[line].size() == first + row.cells.size());
      for (std::size_t i = 0; i < row.cells.size(); ++i) {
        const std::string says = words_of(row.cells[i], table.columns[i]);
        const std::string& found = lines[line][first + i];
        RC_ASSERT(found == printable(says, says.size()) || found == "'" + printable(says, says.size()));
      }
    }
}

Table of_words(std::vector<std::string> words) {
  Table table{"t", "", {{"a", "Heading", "V"}}, {{"", {}}}};
  for (std::string& says : words) table.groups.front().rows.push_back({{Words{std::move(says)}}});
  return table;
}

TEST(Csv, IsAsTheStandardWritesIt) {
  EXPECT_EQ(csv(of_words({"plain", "a,b", "say \"no\"", "", " lead"})),
            "Heading (V)\r\nplain\r\n\"a,b\"\r\n\"say \"\"no\"\"\"\r\n\r\n\" lead\"\r\n");
}

/// OWASP, "CSV Injection": = + - @ tab and carriage return begin a formula, also as full-width forms.
TEST(Csv, ATextThatASpreadsheetWouldComputeIsNone) {
  for (const char* says : {"=1+1", "+49 30", "-2", "@SUM(A1)", "\t=1", "\r=1", " =1", "＝1", "＋1", "－1", "＠x"})
    EXPECT_EQ(read(csv(of_words({says}))).at(1).at(0).front(), '\'') << says;
  for (const char* says : {"a=1", "2-3", "Zone 1", "'x"}) EXPECT_EQ(read(csv(of_words({says}))).at(1).at(0), says);
}

TEST(Csv, ANegativeFigureStaysANumber) {
  Table table{"t",
              "",
              {{"a", "Level", "V"}, {"b", "Also"}},
              {{"", {{{Number{-0.25, 3}, Number{-4.5, 1, Digits::decimals, "V"}}}}}}};
  const auto lines = read(csv(table));
  EXPECT_EQ(lines.at(1).at(0), "-0.250");
  EXPECT_EQ(lines.at(1).at(1), "'-4.5 V");  // with its unit it is a text, and a spreadsheet might take it for a sum
}

TEST(Csv, GroupsAreAColumnAndHeadingsHaveTheirUnit) {
  Table table{"t", "Title", {{"a", "lowest", "ohm", drawing::Align::right, 0.0, 0.0, true, "At rest"}}, {}};
  table.grouped_by = "Panel";
  table.groups = {{"One", {{{Number{5600.0, 2, Digits::significant}}}}}, {"Two", {{{Blank{}}}}}};
  EXPECT_EQ(csv(table), "Panel,\"At rest, lowest (ohm)\"\r\nOne,5600\r\nTwo,\r\n");
}

}  // namespace
}  // namespace zoneproof::paper
