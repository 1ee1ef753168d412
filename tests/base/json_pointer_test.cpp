#include "base/json_pointer.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

namespace zoneproof {
namespace {

using Json = nlohmann::ordered_json;

// RFC 6901 section 5: the document and every pointer of the example, with the value it evaluates to.
TEST(JsonPointer, AddressesTheExamplesOfTheStandard) {
  const Json document = Json::parse(R"({"foo": ["bar", "baz"], "": 0, "a/b": 1, "c%d": 2, "e^f": 3, "g|h": 4,
                                       "i\\j": 5, "k\"l": 6, " ": 7, "m~n": 8})");
  const std::vector<std::pair<std::string, Json>> examples = {{"", document},    {"/foo", {"bar", "baz"}},
                                                              {"/foo/0", "bar"}, {"/", 0},
                                                              {"/a~1b", 1},      {"/c%d", 2},
                                                              {"/e^f", 3},       {"/g|h", 4},
                                                              {"/i\\j", 5},      {"/k\"l", 6},
                                                              {"/ ", 7},         {"/m~0n", 8}};
  for (const auto& [pointer, value] : examples) {
    const Json* found = value_at(document, pointer);
    ASSERT_NE(found, nullptr) << pointer;
    EXPECT_EQ(*found, value) << pointer;
  }
}

// RFC 6901 section 4: "~01" is first "~1", and must not become "/".
TEST(JsonPointer, UnescapesInTheOrderOfTheStandard) {
  EXPECT_THAT(pointer_tokens("/~01"), testing::Optional(testing::ElementsAre("~1")));
}

TEST(JsonPointer, RefusesWhatIsNoPointer) {
  EXPECT_FALSE(pointer_tokens("a"));
  EXPECT_FALSE(pointer_tokens("/a~"));
  EXPECT_FALSE(pointer_tokens("/a~2b"));
  EXPECT_EQ(value_at(Json::object(), "a"), nullptr);
}

TEST(JsonPointer, AListIndexHasNoLeadingZeroAndExists) {
  const Json document = Json::parse(R"({"list": [1, 2]})");
  EXPECT_NE(value_at(document, "/list/1"), nullptr);
  for (const char* pointer : {"/list/01", "/list/-", "/list/2", "/list/-1", "/list/1e0", "/list/", "/list/0/x",
                              "/list/99999999999999999999999"}) {
    EXPECT_EQ(value_at(document, pointer), nullptr) << pointer;
  }
}

TEST(JsonPointer, BuildsWhatItReads) {
  const std::string pointer = pointer_child(pointer_child("/zones", "a/b~c"), std::size_t{3});
  EXPECT_EQ(pointer, "/zones/a~1b~0c/3");
  EXPECT_THAT(pointer_tokens(pointer), testing::Optional(testing::ElementsAre("zones", "a/b~c", "3")));
  EXPECT_EQ(pointer_parent(pointer), "/zones/a~1b~0c");
  EXPECT_EQ(pointer_parent("/zones"), "");
}

TEST(JsonPointer, WithinStopsAtTokens) {
  EXPECT_TRUE(pointer_within("/a/b", "/a"));
  EXPECT_TRUE(pointer_within("/a", "/a"));
  EXPECT_TRUE(pointer_within("/a", ""));
  EXPECT_FALSE(pointer_within("/ab", "/a"));
  EXPECT_FALSE(pointer_within("/a", "/a/b"));
}

}  // namespace
}  // namespace zoneproof
