// Texts made small come back as they were, and nothing else does.
#include "book/packed_text.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include "book/base64.hpp"
#include "book/sample.hpp"
#include "site/file.hpp"

namespace zoneproof::book {

namespace {

TEST(Base64, IsThatOfTheStandard) {
  // RFC 4648 section 10.
  EXPECT_EQ(base64(""), "");
  EXPECT_EQ(base64("f"), "Zg==");
  EXPECT_EQ(base64("fo"), "Zm8=");
  EXPECT_EQ(base64("foo"), "Zm9v");
  EXPECT_EQ(base64("foob"), "Zm9vYg==");
  EXPECT_EQ(base64("fooba"), "Zm9vYmE=");
  EXPECT_EQ(base64("foobar"), "Zm9vYmFy");
}

TEST(Base64, GivesBackEveryBytes) {
  EXPECT_TRUE(rc::check("bytes", [](const std::string& bytes) {
    const auto again = from_base64(base64(bytes));
    RC_ASSERT(again == bytes);
  }));
}

TEST(Base64, RefusesWhatItWouldNotWrite) {
  for (const char* text :
       {"Z", "Zg", "Zg=", "Zg=a", "Z===", "====", "Zh==", "Zm9=", "Zm9v\n", "Zm 9", "Zg==Zg==", "Zm-_"}) {
    EXPECT_FALSE(from_base64(text)) << text;
  }
}

TEST(PackedText, ComesBackAsItWas) {
  EXPECT_TRUE(rc::check("text against another", [](const std::string& text, const std::string& before) {
    RC_ASSERT(unpacked(packed(text, before), before) == text);
  }));
}

TEST(PackedText, OfASmallEditIsSmall) {
  const std::string before = site::write_site(demo_site("saltmarsh"));
  std::string after = before;
  after.replace(after.size() / 2, 1, "???");
  const std::string small = packed(after, before);
  EXPECT_LT(small.size(), 400U);
  EXPECT_EQ(unpacked(small, before), after);
}

TEST(PackedText, IsRefusedWhereItIsDamaged) {
  const std::string text = site::write_site(demo_site("tern-hollow"));
  const std::string whole = packed(text);
  EXPECT_TRUE(rc::check("one letter", [&] {
    std::string damaged = whole;
    char& letter = damaged[*rc::gen::inRange<std::size_t>(0, damaged.size())];
    letter = *rc::gen::element('A', 'z', '0', '=', ' ', '\n');
    const auto read = unpacked(damaged);
    RC_ASSERT(!read || *read == text);
  }));
  EXPECT_FALSE(unpacked(whole.substr(0, whole.size() / 8 * 4)));
  EXPECT_FALSE(unpacked(""));
  EXPECT_FALSE(unpacked("AAAA"));
  // A frame that says it holds 2^40 bytes: magic number, no checksum, 8 bytes of size (RFC 8878 section 3.1.1).
  EXPECT_FALSE(unpacked(base64(std::string("\x28\xb5\x2f\xfd\xe0\0\0\0\0\0\1\0\0\1\0\0", 16))));
}

}  // namespace

}  // namespace zoneproof::book
