#include "site/csv.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace zoneproof::site {
namespace {

using Rows = std::vector<std::vector<std::string>>;

Rows rows_of(std::string_view text) {
  Rows rows;
  for (const auto& row : read_csv(text, "t.csv", 1000).rows) {
    rows.emplace_back();
    for (const CsvCell& cell : row) rows.back().push_back(cell.text);
  }
  return rows;
}

std::vector<std::string> codes_of(std::string_view text) {
  std::vector<std::string> codes;
  for (const Message& message : read_csv(text, "t.csv", 1000).messages) codes.push_back(message.code);
  return codes;
}

// The examples of RFC 4180 section 2, each with its rule's number.
TEST(Csv, Rfc4180Rule1LinesEndInCrLf) {
  EXPECT_EQ(rows_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), (Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
}
TEST(Csv, Rfc4180Rule2TheLastLineMayLackItsEnd) {
  EXPECT_EQ(rows_of("aaa,bbb,ccc\r\nzzz,yyy,xxx"), (Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
}
TEST(Csv, Rfc4180Rule4BlanksBelongToAFieldAndRowsAreEquallyLong) {
  EXPECT_EQ(rows_of("a, b ,c\r\n"), (Rows{{"a", " b ", "c"}}));
  EXPECT_EQ(codes_of("a,b\r\n1,2,3\r\n"), std::vector<std::string>{"csv_width"});
}
TEST(Csv, Rfc4180Rule5FieldsMayBeQuotedAndQuotesStandInQuotedOnesOnly) {
  EXPECT_EQ(rows_of("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), (Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
  EXPECT_EQ(codes_of("a\"b,c\r\n"), std::vector<std::string>{"csv_stray_quote"});
}
TEST(Csv, Rfc4180Rule6LineBreaksAndCommasStandInQuotes) {
  EXPECT_EQ(rows_of("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"),
            (Rows{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}}));
  EXPECT_EQ(rows_of("\"a,b\",c"), (Rows{{"a,b", "c"}}));
}
TEST(Csv, Rfc4180Rule7AQuoteInsideIsDoubled) {
  EXPECT_EQ(rows_of("\"aaa\",\"b\"\"bb\",\"ccc\""), (Rows{{"aaa", "b\"bb", "ccc"}}));
}

// Erratum 5714 of the RFC: a quoted field is not followed by a blank.
TEST(Csv, TextBehindAClosingQuoteIsRefused) {
  EXPECT_EQ(codes_of("\"aaa\" ,b"), std::vector<std::string>{"csv_after_quote"});
}

TEST(Csv, TheSeparatorIsTheOneThatTheHeaderUses) {
  EXPECT_EQ(rows_of("a;b\n1,5;2\n"), (Rows{{"a", "b"}, {"1,5", "2"}}));
  EXPECT_EQ(rows_of("a\tb\n1\t2\n"), (Rows{{"a", "b"}, {"1", "2"}}));
  EXPECT_EQ(rows_of("\"a;b;c\",d\n1,2\n"), (Rows{{"a;b;c", "d"}, {"1", "2"}}));
}

TEST(Csv, AByteOrderMarkAndEmptyLinesAreSkipped) {
  EXPECT_EQ(rows_of("\xEF\xBB\xBFnumber,name\n\n1,Shop\n\n"), (Rows{{"number", "name"}, {"1", "Shop"}}));
}

TEST(Csv, EmptyColumnsAtTheEndAndRowsOfSeparatorsAreSkipped) {
  EXPECT_EQ(rows_of("number,name,,\n1,Shop,,\n,,,\n2,Store\n3,Yard,\n"),
            (Rows{{"number", "name"}, {"1", "Shop"}, {"2", "Store"}, {"3", "Yard"}}));
  EXPECT_TRUE(codes_of("number,name,,\n1,Shop,,\n , ,\t,\n2,Store\n").empty());
  EXPECT_EQ(codes_of("number,name,\n1,Shop,lost\n"), std::vector<std::string>{"csv_width"});
}

TEST(Csv, LinesMayEndInCarriageReturnsAlone) {
  EXPECT_EQ(rows_of("number,name\r1,Shop\r\r2,\"Long\rname\"\r"),
            (Rows{{"number", "name"}, {"1", "Shop"}, {"2", "Long\rname"}}));
  const auto table = read_csv("n,name\r1,\"a\rb\"\r2,c\"", "t.csv", 1000);
  ASSERT_EQ(table.messages.size(), 1U);
  EXPECT_EQ(table.messages.front().place.line, 4);
}

TEST(Csv, ALineThatStatesTheSeparatorIsFollowed) {
  EXPECT_EQ(rows_of("sep=;\r\na,x;b\r\n1,5;2\r\n"), (Rows{{"a,x", "b"}, {"1,5", "2"}}));
  EXPECT_EQ(rows_of("SEP=|\na|b\n1|2\n"), (Rows{{"a", "b"}, {"1", "2"}}));
  const auto table = read_csv("sep=;\na;b\n1\n", "t.csv", 1000);
  ASSERT_EQ(table.messages.size(), 1U);
  EXPECT_EQ(table.messages.front().place.line, 3) << "the line counts";
  EXPECT_EQ(rows_of("sep=x,b\n1,2\n"), (Rows{{"sep=x", "b"}, {"1", "2"}})) << "a header that only looks like it";
}

TEST(Csv, FaultsComeInTheOrderOfTheLines) {
  EXPECT_EQ(codes_of("a,b\n1\n2,x\"y\n"), (std::vector<std::string>{"csv_width", "csv_stray_quote"}));
}

TEST(Csv, FaultsTellLineAndColumn) {
  const auto table = read_csv("n,name\n1,\"B\xC3\xBCro\"x\n2,\"open", "t.csv", 1000);
  ASSERT_EQ(table.messages.size(), 2U);
  EXPECT_EQ(table.messages[0].code, "csv_after_quote");
  EXPECT_EQ(table.messages[0].place.line, 2);
  EXPECT_EQ(table.messages[0].place.column, 9) << "columns count letters, not bytes";
  EXPECT_EQ(table.messages[1].code, "csv_quote_open");
  EXPECT_EQ(table.messages[1].place.line, 3);
  EXPECT_EQ(table.messages[1].place.column, 3);
}

/// The open cell takes the rest of the file: that its row is then too short is no second mistake.
TEST(Csv, AQuotationMarkThatIsNeverClosedIsOneMessage) {
  const std::vector<std::string> open = {"csv_quote_open"};
  EXPECT_EQ(codes_of("n,name,type\n1,\"Shop,intruder\n2,Store,fire\n"), open);
  EXPECT_EQ(codes_of("n,\"name,type\n1,Shop,intruder\n"), open);
  EXPECT_EQ(codes_of("n,name,type\n1,Shop\n2,\"Store,fire\n"),
            (std::vector<std::string>{"csv_width", "csv_quote_open"}));
}

TEST(Csv, OtherEncodingsAreRefusedWithOneMessage) {
  EXPECT_EQ(codes_of("n,name\n1,B\xFCro\n"), std::vector<std::string>{"csv_not_utf8"});
  EXPECT_EQ(codes_of(std::string_view("\xFF\xFE\x6E\x00,\x00", 6)), std::vector<std::string>{"json_utf16"});
  EXPECT_EQ(codes_of(std::string_view("PK\x03\x04\x00\x00", 6)), std::vector<std::string>{"csv_zero_byte"});
  EXPECT_EQ(codes_of(std::string_view("n\0,\0", 4)), std::vector<std::string>{"csv_zero_byte"})
      << "UTF-16 without mark";
  EXPECT_EQ(codes_of("{\"a\": \"b\",\n \"c\": \"d\"}\n"), std::vector<std::string>{"csv_is_json"});
}

TEST(Csv, TooManyRowsAreRefusedWithOneMessage) {
  std::string text = "number\n";
  for (int i = 0; i < 5000; ++i) text += "1\n";
  EXPECT_EQ(codes_of(text), std::vector<std::string>{"csv_too_long"});
}

RC_GTEST_PROP(Csv, WhatIsWrittenByTheRulesIsReadBack, ()) {
  const auto width = *rc::gen::inRange<std::size_t>(2, 5);
  const auto letters = rc::gen::element('a', ',', '"', '\n', ';', ' ', '\t');
  const auto cells = *rc::gen::container<std::vector<std::string>>(width * 3, rc::gen::container<std::string>(letters));
  std::string text;
  Rows expected;
  for (std::size_t row = 0; row < 3; ++row) {
    expected.emplace_back();
    bool empty = true;  // rows of separators alone are none
    for (std::size_t i = 0; i < width; ++i) {
      const std::string cell = row == 0 ? "h" : cells[row * width + i];
      empty = empty && cell.find_first_not_of(" \t\n") == std::string::npos;
      expected.back().push_back(cell);
      std::string quoted = "\"";
      for (char letter : cell) quoted += letter == '"' ? std::string("\"\"") : std::string(1, letter);
      text += quoted + (i + 1 < width ? "\"," : "\"\r\n");
    }
    if (empty) expected.pop_back();
  }
  RC_ASSERT(rows_of(text) == expected);
}

}  // namespace
}  // namespace zoneproof::site
