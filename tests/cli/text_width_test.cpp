#include "cli/text_width.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <clocale>
#include <cwchar>
#include <string>

#include "base/utf8.hpp"

namespace zoneproof::cli {
namespace {

TEST(TextWidth, CountsCellsAndNotBytes) {
  EXPECT_EQ(text_width(""), 0U);
  EXPECT_EQ(text_width("Zone"), 4U);
  EXPECT_EQ(text_width("Büro"), 4U);
  EXPECT_EQ(text_width("倉庫"), 4U);
  EXPECT_EQ(text_width("한국"), 4U);
  EXPECT_EQ(text_width("e\xCC\x81"), 1U) << "a letter with a combining accent";
  EXPECT_EQ(text_width("\xFF"), 1U) << "an invalid byte";
}

// The C library's wcwidth() is made from the Unicode Character Database independently of this table.
TEST(TextWidth, AgreesWithTheCLibrary) {
  if (std::setlocale(LC_CTYPE, "C.UTF-8") == nullptr) GTEST_SKIP() << "no C.UTF-8 locale";
  int compared = 0, differing = 0;
  for (char32_t point = 0x20; point < 0x30000; ++point) {
    if (point >= 0xD800 && point <= 0xDFFF) continue;
    const int theirs = wcwidth(static_cast<wchar_t>(point));
    if (theirs < 0) continue;  // not printable, or unassigned in its version
    ++compared;
    if (static_cast<std::size_t>(theirs) != cells(point)) ++differing;
  }
  std::setlocale(LC_CTYPE, "C");
  EXPECT_GT(compared, 100000);
  // Conventions differ for a few: Hangul jamo blocks beyond the first, spacing marks, newer Unicode versions.
  EXPECT_LT(differing, compared / 500);
}

TEST(TextWidth, WhatIsTooLongEndsInAnEllipsis) {
  EXPECT_EQ(shortened("Warehouse", 9), "Warehouse");
  EXPECT_EQ(shortened("Warehouse north", 9), "Warehous…");
  EXPECT_EQ(shortened("Store room", 7), "Store…") << "no blank before the ellipsis";
  EXPECT_EQ(shortened("倉庫の扉", 5), "倉庫…") << "half a wide character is not shown";
  EXPECT_EQ(shortened("abc", 0), "");
}

TEST(TextWidth, LinesBreakAtBlanksAndLongWordsInside) {
  EXPECT_EQ(wrapped("one two three", 7), (std::vector<std::string>{"one two", "three"}));
  EXPECT_EQ(wrapped("abcdefgh", 3), (std::vector<std::string>{"abc", "def", "gh"}));
  EXPECT_TRUE(wrapped("", 10).empty());
  EXPECT_EQ(wrapped("reads up to 10.8 V; at most", 17), (std::vector<std::string>{"reads up to", "10.8 V; at most"}))
      << "a figure and its unit stay together";
}

RC_GTEST_PROP(TextWidth, ShortenedTextFitsAndWrappedTextLosesNoLetter, ()) {
  const auto words = *rc::gen::container<std::vector<std::string>>(
      rc::gen::container<std::string>(rc::gen::elementOf(std::string("abcxyz"))));
  const auto width = *rc::gen::inRange<std::size_t>(2, 40);
  std::string text, letters;
  for (const std::string& word : words) {
    text += word + " ";
    letters += word;
  }
  RC_ASSERT(text_width(shortened(text, width)) <= width);
  std::string seen;
  for (const std::string& line : wrapped(text, width)) {
    RC_ASSERT(text_width(line) <= width);
    for (char letter : line) {
      if (letter != ' ') seen += letter;
    }
  }
  RC_ASSERT(seen == letters);
}

}  // namespace
}  // namespace zoneproof::cli
