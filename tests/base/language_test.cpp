// The language belongs to the thread that speaks, goes along where work is shared out, and changes words only.
#include "base/language.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <thread>

#include "base/message.hpp"
#include "base/parallel_for.hpp"
#include "messages/base.hpp"

namespace zoneproof {
namespace {

const std::string kEnglish = "There is no file a.", kGerman = "Die Datei a gibt es nicht.";

std::string said() { return text(say::file_missing("a")); }

Language german() { return language_called("de").value(); }

TEST(Language, IsEnglishUntilSomebodyChoosesAndAgainAfterwards) {
  EXPECT_EQ(said(), kEnglish);
  {
    const SpokenLanguage outer(german());
    EXPECT_EQ(said(), kGerman);
    EXPECT_EQ(remedy(say::file_missing("a")), "Namen und Ordner prüfen.");
    {
      const SpokenLanguage inner(Language::english);
      EXPECT_EQ(said(), kEnglish);
    }
    EXPECT_EQ(said(), kGerman);
  }
  EXPECT_EQ(said(), kEnglish);
}

TEST(Language, IsKnownByItsCodeAlone) {
  EXPECT_THAT(languages(), testing::ElementsAre("en", "de"));
  EXPECT_EQ(language_called("en"), Language::english);
  EXPECT_EQ(code_of(german()), "de");
  for (const char* code : {"", "DE", "de_DE.UTF-8", "german", "xx"}) EXPECT_FALSE(language_called(code)) << code;
}

TEST(Language, OfOneThreadIsNotThatOfAnother) {
  std::atomic<int> wrong = 0;
  const auto speak = [&](Language language, const std::string& wanted) {
    const SpokenLanguage spoken(language);
    for (int i = 0; i < 20000; ++i) wrong += said() != wanted;
  };
  std::thread one(speak, german(), kGerman), other(speak, Language::english, kEnglish);
  one.join();
  other.join();
  EXPECT_EQ(wrong, 0);
}

TEST(Language, GoesAlongWhereWorkIsSharedOut) {
  const SpokenLanguage spoken(german());
  const auto all = parallel_map<std::string>(
      2000, [](std::size_t) { return said(); }, 4);
  for (const std::string& one : all) ASSERT_EQ(one, kGerman);
  // A worker that was lent to a German is handed back as it was.
  const SpokenLanguage again(Language::english);
  for (const std::string& one : parallel_map<std::string>(
           2000, [](std::size_t) { return said(); }, 4))
    ASSERT_EQ(one, kEnglish);
}

TEST(Language, GoesAlongThroughWorkWithinWork) {
  const SpokenLanguage spoken(german());
  std::atomic<int> wrong = 0;
  parallel_for(
      20,
      [&](std::size_t) {
        parallel_for(
            20, [&](std::size_t) { wrong += said() != kGerman; }, 2);
      },
      2);
  EXPECT_EQ(wrong, 0);
}

// The decimal sign of German is a comma: decimal_point of the C library's locale de_DE (glibc 2.36), and CLDR 48.
TEST(Language, GivesNumbersItsDecimalSign) {
  EXPECT_EQ(shown({4.6213, "V"}), "4.62 V");
  const SpokenLanguage spoken(german());
  EXPECT_EQ(shown({4.6213, "V"}), "4,62 V");
  EXPECT_EQ(shown({5600, "ohm"}), "5,6 kohm");
  EXPECT_EQ(shown({-0.5, "A"}), "-500 mA");
  EXPECT_EQ(shown({25, "degC"}), "25 °C");
  EXPECT_EQ(with_decimal_sign("0.125"), "0,125");
  EXPECT_EQ(with_decimal_sign("12"), "12");
}

/// Each message with arguments of its own in every language: no sentence is empty, none has a placeholder left.
TEST(Language, HasASentenceForEveryMessage) {
  for (const std::string& code : languages()) {
    const SpokenLanguage spoken(language_called(code).value());
    for (const MessageKind& kind : catalogue()) {
      Message message{std::string(kind.code), {}, {}};
      std::string names = std::string(kind.says) + std::string(kind.remedy);
      for (std::size_t at = names.find('{'); at != std::string::npos; at = names.find('{', at + 1)) {
        const std::string name = names.substr(at + 1, names.find('}', at) - at - 1);
        if (name.empty() || name.front() == '"') continue;  // a brace of JSON that is shown
        message.arguments.emplace_back(name, "(" + name + ")");
      }
      const std::string says = text(message), what_to_do = remedy(message);
      EXPECT_FALSE(says.empty()) << code << " " << kind.code;
      EXPECT_EQ(what_to_do.empty(), kind.remedy.empty()) << code << " " << kind.code;
      for (const auto& [name, value] : message.arguments) {
        EXPECT_THAT(says + what_to_do, testing::Not(testing::HasSubstr("{" + name + "}"))) << code << " " << kind.code;
      }
    }
  }
}

}  // namespace
}  // namespace zoneproof
