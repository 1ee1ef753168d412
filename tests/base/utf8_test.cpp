#include "base/utf8.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <nlohmann/json.hpp>

namespace zoneproof {
namespace {

// RFC 3629 section 7 gives the byte sequences of its examples, section 3 what is forbidden.
TEST(Utf8, ReadsTheExamplesOfTheStandard) {
  EXPECT_EQ(utf8_length("A\xE2\x89\xA2\xCE\x91."), 4U);
  EXPECT_EQ(utf8_at("\xE2\x89\xA2", 0).code_point, U'\u2262');
  EXPECT_EQ(utf8_length("\xED\x95\x9C\xEA\xB5\xAD\xEC\x96\xB4"), 3U);
  EXPECT_EQ(utf8_at("\xF0\xA3\x8E\xB4", 0).code_point, U'\U000233B4');
}

TEST(Utf8, RefusesWhatTheStandardForbids) {
  for (const char* bytes : {"\xC0\x80", "\xE0\x80\xAF", "\xED\xA1\x8C\xED\xBE\xB4", "\xF4\x90\x80\x80", "\x80",
                            "\xE2\x89", "\xFF", "\xF8\x88\x80\x80\x80"}) {
    EXPECT_EQ(first_invalid_utf8(bytes), 0U);
  }
  EXPECT_EQ(first_invalid_utf8("abc\xFCz"), 3U);
  EXPECT_EQ(first_invalid_utf8("abc"), std::string_view::npos);
}

// The JSON library decodes UTF-8 too, with other code: both must agree on any bytes.
RC_GTEST_PROP(Utf8Property, AgreesWithTheJsonLibrary, ()) {
  const auto bytes = *rc::gen::container<std::string>(
      rc::gen::map(rc::gen::element(0x41, 0x80, 0x8F, 0x90, 0x9F, 0xA0, 0xBF, 0xC1, 0xC2, 0xDF, 0xE0, 0xE1, 0xED, 0xEF,
                                    0xF0, 0xF3, 0xF4, 0xF5, 0xFF),
                   [](int value) { return static_cast<char>(value); }));
  const bool accepted = nlohmann::json::accept("\"" + bytes + "\"");
  RC_ASSERT(accepted == (first_invalid_utf8(bytes) == std::string_view::npos));
}

TEST(Printable, ShowsWhatWouldMoveTheCursorOrHide) {
  EXPECT_EQ(printable("Kiln Yärd"), "Kiln Yärd");
  EXPECT_EQ(printable("a\x1b[31m\n\x7f"), "a<U+001B>[31m<U+000A><U+007F>");
  EXPECT_EQ(printable("a\u202Eb\uFFFFc\U0001FFFEd"), "a<U+202E>b<U+FFFF>c<U+1FFFE>d");
  EXPECT_EQ(printable("M\xFCller"), "M<FC>ller");
}

// Persian "does not want" is written with U+200C between its halves (The Unicode Standard, section 9.2), Khmer with
// U+200B between words.
TEST(Printable, LeavesWhatScriptsNeed) {
  for (const char* text : {"نمی\u200Cخواهد", "क्\u200Dष", "ផ្ទះ\u200Bធំ", "a\u2060b"}) EXPECT_EQ(printable(text), text);
}

// Unicode 15, section 23.7: 66 noncharacters; table 4-4 and PropList.txt: 25 characters with White_Space.
TEST(CodePoints, NoncharactersAndBlanksAreAsManyAsTheStandardHas) {
  int none = 0, blank = 0, hidden_controls = 0;
  for (char32_t c = 0; c <= 0x10FFFF; ++c) {
    const bool plane_end = (c & 0xFFFF) >= 0xFFFE;
    if (plane_end || (c >= 0xFDD0 && c <= 0xFDEF)) {
      ++none;
      EXPECT_TRUE(is_hidden(c)) << static_cast<unsigned>(c);
    }
    const bool beyond = has_no_width(c) || c == 0x2800 || c == 0x115F || c == 0x1160 || c == 0x3164 || c == 0xFFA0;
    blank += is_blank(c) && !beyond ? 1 : 0;
    hidden_controls += c < 0x100 && is_hidden(c) ? 1 : 0;
  }
  EXPECT_EQ(none, 66);
  EXPECT_EQ(blank, 25);
  EXPECT_EQ(hidden_controls, 65) << "general category Cc";
}

TEST(CodePoints, ATextOfBlanksAloneIsTold) {
  EXPECT_TRUE(only_blanks(""));
  EXPECT_TRUE(only_blanks(" \u00A0\u3000\u200B"));
  EXPECT_FALSE(only_blanks(" . "));
  EXPECT_FALSE(only_blanks(" \xFF"));
}

TEST(Printable, CutsWhatIsTooLong) {
  EXPECT_EQ(printable(std::string(300, 'x'), 10), "xxxxxxxxxx...");
  EXPECT_EQ(printable("exactly", 7), "exactly");
}

}  // namespace
}  // namespace zoneproof
