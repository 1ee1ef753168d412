#include <ft2build.h>
#include FT_FREETYPE_H

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <numeric>
#include <set>
#include <sstream>
#include <thread>

#include "base/sha256.hpp"
#include "base/utf8.hpp"
#include "drawing/pango_ruler.hpp"
#include "drawing/specimen.hpp"
#include "drawing/text_block.hpp"

namespace zoneproof::drawing {
namespace {

constexpr Face kLabel{Role::label, false}, kReading{Role::reading, false};

/// The width of a text by the advances that the font file itself states (table hmtx), without kerning or shaping.
double width_by_font(const std::string& file, const std::string& text) {
  FT_Library library = nullptr;
  FT_Face face = nullptr;
  EXPECT_EQ(FT_Init_FreeType(&library), 0);
  EXPECT_EQ(FT_New_Face(library, (ZONEPROOF_BINARY_DIR "/fonts/" + file).c_str(), 0, &face), 0);
  double sum = 0;
  for (const char c : text) {
    EXPECT_EQ(FT_Load_Char(face, static_cast<FT_ULong>(c), FT_LOAD_NO_SCALE), 0);
    sum += static_cast<double>(face->glyph->metrics.horiAdvance) / face->units_per_EM;
  }
  FT_Done_Face(face);
  FT_Done_FreeType(library);
  return sum;
}

TEST(Ruler, MeasuresWhatTheFontsState) {
  const Ruler& ruler = test_ruler();
  for (const char* text : {"0123456789", "1111", "HHH"}) {
    EXPECT_NEAR(ruler.measure(text, kLabel, 1.0).width, width_by_font("B612-Regular.otf", text), 2e-4) << text;
    EXPECT_NEAR(ruler.measure(text, kReading, 1.0).width, width_by_font("NotoSans-Regular.ttf", text), 2e-4) << text;
  }
  EXPECT_NEAR(ruler.measure("0", {Role::label, true}, 1.0).width, width_by_font("B612-Bold.otf", "0"), 2e-4);
}

TEST(Ruler, FiguresAreTabularAndWidthsGrowWithTheSize) {
  const Ruler& ruler = test_ruler();
  const double zero = ruler.measure("0", kLabel, 2.6).width;
  for (const char* digit : {"1", "2", "3", "4", "5", "6", "7", "8", "9"}) {
    EXPECT_NEAR(ruler.measure(digit, kLabel, 2.6).width, zero, 1e-6);
  }
  const Extent small = ruler.measure("Zone 6", kReading, 1.0), large = ruler.measure("Zone 6", kReading, 7.0);
  EXPECT_NEAR(large.width, 7 * small.width, 1e-12);
  EXPECT_NEAR(large.box.top, 7 * small.box.top, 1e-12);
}

/// Every letter that a sentence of the program has, in any language.
std::set<std::string> letters_of_the_catalogue() {
  std::set<std::string> letters;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(ZONEPROOF_SOURCE_DIR "/data/messages")) {
    if (!entry.is_regular_file()) continue;
    std::ostringstream text;
    text << std::ifstream(entry.path()).rdbuf();
    const std::string bytes = text.str();
    for (std::size_t at = 0; at < bytes.size();) {
      const Utf8Step step = utf8_at(bytes, at);
      if (bytes[at] != '\n') letters.insert(bytes.substr(at, step.size));
      at += step.size;
    }
  }
  return letters;
}

TEST(Ruler, TheFontsHaveEveryLetterOfEverySentenceInEveryLanguage) {
  const Ruler& ruler = test_ruler();
  const std::set<std::string> letters = letters_of_the_catalogue();
  for (const char* letter : {"ä", "ß", "Ü", "„", "“"}) EXPECT_EQ(letters.count(letter), 1U) << letter;
  for (const std::string& letter : letters) {
    for (const Face& face : {Face{Role::label, false}, Face{Role::label, true}, Face{Role::reading, false}}) {
      EXPECT_FALSE(ruler.measure(letter, face, 2.6).fallback) << letter;
      EXPECT_EQ(ruler.measure(letter, face, 2.6).missing, 0U) << letter;
    }
  }
}

TEST(Ruler, GreekAndCyrillicLabelsAreSetInTheFallbackAsAWhole) {
  const Ruler& ruler = test_ruler();
  for (const char* name : {"Холодильная камера", "Ψυκτικός θάλαμος", "Zone 5 Ψυκτικός"}) {
    const Extent extent = ruler.measure(name, kLabel, 2.6);
    EXPECT_TRUE(extent.fallback) << name;
    EXPECT_EQ(extent.missing, 0U) << name;
    EXPECT_NEAR(extent.width, ruler.measure(name, kReading, 2.6).width, 1e-9) << name;
  }
  for (const char* name : {"Zone 1", "12 kΩ", "4.6 V ± 5 %", "25 °C", "−0.7 V"}) {
    EXPECT_FALSE(ruler.measure(name, kLabel, 2.6).fallback) << name;
    EXPECT_EQ(ruler.measure(name, kLabel, 2.6).missing, 0U) << name;
  }
}

TEST(Ruler, TellsTheDirectionAndWhatNoFontHas) {
  const Ruler& ruler = test_ruler();
  EXPECT_TRUE(ruler.measure("غرفة التبريد", kLabel, 2.6).right_to_left);
  EXPECT_TRUE(ruler.measure("7 חדר קירור", kLabel, 2.6).right_to_left);
  EXPECT_FALSE(ruler.measure("Zone 7 חדר", kLabel, 2.6).right_to_left);
  EXPECT_EQ(ruler.measure("غرفة 7 חדר", kLabel, 2.6).missing, 0U);
  EXPECT_EQ(ruler.measure("冷蔵室", kReading, 2.6).missing, 3U);
  EXPECT_EQ(ruler.measure("", kReading, 2.6).width, 0.0);
}

// Persian, Hindi and Khmer need them (The Unicode Standard, section 23.2); no font has to have a glyph of theirs.
TEST(Ruler, JoinersAndOtherMarksWithoutWidthAreNoBoxAndNoOtherFont) {
  const Ruler& ruler = test_ruler();
  EXPECT_EQ(ruler.measure("نمی\u200Cخواهد", kLabel, 2.6).missing, 0U);
  for (const char* mark : {"\u200B", "\u200C", "\u200D", "\u2060"}) {
    for (const Face face : {kLabel, kReading}) {
      const Extent extent = ruler.measure(std::string("Zone 1") + mark, face, 2.6);
      EXPECT_EQ(extent.missing, 0U) << mark;
      EXPECT_FALSE(extent.fallback) << mark;
      EXPECT_NEAR(extent.width, ruler.measure("Zone 1", face, 2.6).width, 1e-9) << mark;
    }
  }
}

// Other files of fonts would make other drawings: these are what Debian 12 has (fonts-b612 1.008-3, fonts-noto-core
// 20201225-1).
TEST(Fonts, AreTheOnesThatDrawingsWereMadeWith) {
  std::string all = "\n";
  for (const std::string& name : font_files()) {
    std::ifstream file(ZONEPROOF_BINARY_DIR "/fonts/" + name, std::ios::binary);
    std::stringstream bytes;
    bytes << file.rdbuf();
    all += name + " " + sha256_hex(bytes.str()).substr(0, 12) + "\n";
  }
  EXPECT_EQ(all, R"(
B612-Bold.otf 527ddd0597d2
B612-Regular.otf df7f7328313c
NotoSans-Bold.ttf e83493c94584
NotoSans-Regular.ttf 89c3c497f618
NotoSansArabic-Bold.ttf ded6fc7359ca
NotoSansArabic-Regular.ttf 504d7407d868
NotoSansHebrew-Bold.ttf d3b01343f71e
NotoSansHebrew-Regular.ttf 436900d5ad77
)");
}

TEST(Fonts, MissingFilesAreToldInOneMessage) {
  std::vector<Message> messages;
  EXPECT_EQ(Fonts::open("/nowhere", messages), nullptr);
  ASSERT_EQ(messages.size(), 1U);
  EXPECT_EQ(messages.front().code, "drawing_font_missing");
  for (const std::string& file : font_files()) EXPECT_NE(text(messages.front()).find(file), std::string::npos) << file;
}

// A server opens fonts for every sheet that it draws, in several threads. Pango seeks fonts in a thread of its own:
// giving a font map back while it did so ended the program (a division by zero inside GLib).
TEST(Fonts, AreTakenAndLeftBySeveralThreadsWithoutEnd) {
  const auto often = [] {
    for (int i = 0; i < 100; ++i) {
      std::vector<Message> messages;
      const auto fonts = Fonts::open(ZONEPROOF_BINARY_DIR "/fonts", messages);
      ASSERT_NE(fonts, nullptr);
      const PangoRuler ruler(*fonts);
      EXPECT_GT(ruler.measure("12.5 \xCE\xA9 \xD7\x90\xD7\x91", kLabel, 3.0).width, 0.0);
    }
  };
  std::vector<std::thread> threads;
  for (int i = 0; i < 4; ++i) threads.emplace_back(often);
  for (std::thread& one : threads) one.join();
}

std::string joined(const std::vector<std::string>& lines) {
  return std::accumulate(
      lines.begin(), lines.end(), std::string(),
      [](const std::string& sum, const std::string& line) { return sum.empty() ? line : sum + " " + line; });
}

TEST(BrokenText, KeepsAFigureWithItsUnit) {
  const std::string text = "Zone 6 reads 4.1 to 5.3 V at rest; the unit calls anything above 4.6 V an alarm.";
  for (int width = 18; width < 90; ++width) {
    const TextBlock block = broken(test_ruler(), text, kReading, 3.2, width);
    EXPECT_EQ(joined(block.lines), text);
    for (const std::string& line : block.lines) {
      EXPECT_FALSE(line.starts_with("V ")) << width;
      EXPECT_LE(test_ruler().measure(line, kReading, 3.2).box.width(), width);
    }
  }
}

TEST(BrokenText, AWordWiderThanALineIsCutAndNothingIsLost) {
  const std::string word = "Ηλεκτροεγκεφαλογράφημα";
  const TextBlock block = broken(test_ruler(), "a " + word + " b", kReading, 3.2, 12.0);
  std::string all;
  for (const std::string& line : block.lines) {
    all += line;
    EXPECT_LE(test_ruler().measure(line, kReading, 3.2).box.width(), 12.0) << line;
  }
  all.erase(std::remove(all.begin(), all.end(), ' '), all.end());
  EXPECT_EQ(all, "a" + word + "b");
  EXPECT_EQ(broken(test_ruler(), word, kReading, 3.2, 0.1).lines.size(), 22U);  // one letter a line, and an end
}

TEST(BrokenText, WhatCouldMoveACursorIsMadeVisible) {
  EXPECT_EQ(broken(test_ruler(), "a\nb", kReading, 3.2, 50).lines.front(), "a<U+000A>b");
  EXPECT_TRUE(broken(test_ruler(), "   ", kReading, 3.2, 50).lines.empty());
}

RC_GTEST_PROP(BrokenTextProperty, HasTheFewestLinesAndIsNoMoreUnevenThanFillingEach, ()) {
  const Ruler& ruler = test_ruler();
  std::vector<std::string> words(*rc::gen::inRange<std::size_t>(1, 25));
  for (std::string& word : words) word = std::string(*rc::gen::inRange<std::size_t>(1, 9), 'n');
  const double width = *rc::gen::inRange(20, 60);
  const auto measured = [&](const std::string& text) { return ruler.measure(text, kReading, 3.2).box.width(); };
  const auto unevenness = [&](const std::vector<std::string>& lines) {
    double sum = 0;
    for (std::size_t i = 0; i + 1 < lines.size(); ++i) sum += std::pow(width - measured(lines[i]), 2);
    return sum;
  };
  std::vector<std::string> greedy;
  for (const std::string& word : words) {
    const std::string longer = greedy.empty() ? word : greedy.back() + " " + word;
    if (!greedy.empty() && measured(longer) <= width) {
      greedy.back() = longer;
    } else {
      greedy.push_back(word);
    }
  }
  const TextBlock block = broken(ruler, joined(words), kReading, 3.2, width);
  RC_ASSERT(joined(block.lines) == joined(words));
  RC_ASSERT(block.lines.size() == greedy.size());
  RC_ASSERT(unevenness(block.lines) <= unevenness(greedy) + 1e-9);
}

}  // namespace
}  // namespace zoneproof::drawing
