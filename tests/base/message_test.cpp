#include "base/message.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <stdexcept>

#include "messages/base.hpp"

namespace zoneproof {
namespace {

TEST(Message, SaysTheSentenceWithItsArgumentsAndTheRemedy) {
  const Message message = say::file_too_large("yard.site.json", 70000000, 67108864).at({"yard.site.json", "", 0, 0});
  EXPECT_EQ(text(message), "yard.site.json has 70000000 bytes, the limit is 67108864.");
  EXPECT_THAT(remedy(message), testing::StartsWith("Check that it is the file you mean"));
}

TEST(Message, FullTextStartsWithThePlaceAsAnEditorReadsIt) {
  const Message message = say::file_missing("a").at({"site.json", "/zones/z1", 12, 5});
  EXPECT_EQ(full_text(message), "site.json:12:5: /zones/z1: There is no file a. Check the name and the folder.");
}

TEST(Message, AnUnknownCodeIsAProgrammingFault) {
  EXPECT_THROW(kind_of("no_such_code"), std::logic_error);
  EXPECT_THROW(text(Message{"file_missing", {}, {}}), std::logic_error);
}

TEST(Message, EveryCodeOfTheCatalogueIsFound) {
  ASSERT_FALSE(catalogue().empty());
  for (const MessageKind& kind : catalogue()) EXPECT_EQ(kind_of(kind.code).says, kind.says);
}

TEST(Message, HostileNamesCannotMoveTheCursor) {
  EXPECT_EQ(text(say::file_missing("a\x1b[2Jb\nc")), "There is no file a<U+001B>[2Jb<U+000A>c.");
}

TEST(Shown, PicksThePrefixAfterRounding) {
  EXPECT_EQ(shown({4.6213, "V"}), "4.62 V");
  EXPECT_EQ(shown({5600, "ohm"}), "5.6 kohm");
  EXPECT_EQ(shown({999.9, "ohm"}), "1 kohm");
  EXPECT_EQ(shown({999.4, "ohm"}), "999 ohm");
  EXPECT_EQ(shown({2.2e6, "ohm"}), "2.2 Mohm");
  EXPECT_EQ(shown({0.12, "A"}), "120 mA");
  EXPECT_EQ(shown({0.9996, "A"}), "1 A");
  EXPECT_EQ(shown({-0.0004, "A"}), "-400 uA");
  EXPECT_EQ(shown({0.05, "V"}), "50 mV");
  EXPECT_EQ(shown({7.31, "h"}), "7.31 h");
  EXPECT_EQ(shown({7.3, "h"}), "7.3 h");
  EXPECT_EQ(shown({25, "degC"}), "25 °C");
  EXPECT_EQ(shown({20, ""}), "20");
}

TEST(Shown, KeepsTheDigitsAskedForAndNoMore) {
  EXPECT_EQ(shown({12.3456, "V", 5}), "12.346 V");
  EXPECT_EQ(shown({12345, "s", 3}), "12300 s");
  EXPECT_EQ(shown({0, "V"}), "0 V");
  EXPECT_EQ(shown({-0.0, "V"}), "0 V");
  EXPECT_EQ(shown({0.000123, "s", 2}), "0.00012 s");
  EXPECT_EQ(shown({1e-310, "s", 2}), "1e-310 s");
}

// Prefixes are powers of ten (IEC 80000-13 keeps Ki and Mi for those of 1024).
TEST(Shown, BitsAndBytesTakeTheNextPrefixFromAThousandOn) {
  EXPECT_EQ(shown({999, "bit/s"}), "999 bit/s");
  EXPECT_EQ(shown({64000, "bit/s"}), "64 kbit/s");
  EXPECT_EQ(shown({8.5e6, "bit/s"}), "8.5 Mbit/s");
  EXPECT_EQ(shown({1e9, "bit/s"}), "1 Gbit/s");
  EXPECT_EQ(shown({999.9, "kbit/s"}), "1 Mbit/s");
  EXPECT_EQ(shown({2.5e6, "kbit/s"}), "2.5 Gbit/s");
  EXPECT_EQ(shown({0.5, "Mbit/s"}), "0.5 Mbit/s");
  EXPECT_EQ(shown({1000, "Mbit/s"}), "1 Gbit/s");
  EXPECT_EQ(shown({1024, "kB"}), "1.02 MB");
  EXPECT_EQ(shown({3e6, "kB"}), "3 GB");
  EXPECT_EQ(shown({4000, "GB"}), "4 TB");
  EXPECT_EQ(shown({1500, "kbit"}), "1.5 Mbit");
  EXPECT_EQ(shown({1200, "W h"}), "1.2 kW h");
  EXPECT_EQ(shown({25, "1/s"}), "25 1/s");
}

TEST(Shown, AnUnknownNumberIsAQuestionMark) { EXPECT_EQ(shown({std::numeric_limits<double>::quiet_NaN(), "V"}), "?"); }

TEST(AnyError, NotesAndWarningsAreNoErrors) {
  EXPECT_FALSE(any_error({}));
  EXPECT_TRUE(any_error({say::file_missing("a")}));
}

}  // namespace
}  // namespace zoneproof
