#include "base/json_place.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <nlohmann/json.hpp>

#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "messages/base.hpp"

namespace zoneproof {
namespace {

constexpr const char* kSite = R"({
  "zones": {
    "z1": {"number": 1, "name": "Kiln \"A\" {x", "loops": [5600, {"ohm": 2200}]},
    "z/2": {"number": 2}
  },
  "ü": true
})";

std::string at(const std::string& pointer) {
  const JsonLocation found = locate(kSite, {pointer}).front();
  return fmt::format("key {}:{} value {}:{}{}", found.key.line, found.key.column, found.value.line, found.value.column,
                     found.found ? "" : " missing");
}

TEST(Locate, PointsToTheKeyAndTheValue) {
  EXPECT_EQ(at(""), "key 1:1 value 1:1");
  EXPECT_EQ(at("/zones/z1"), "key 3:5 value 3:11");
  EXPECT_EQ(at("/zones/z1/name"), "key 3:25 value 3:33");
  EXPECT_EQ(at("/zones/z1/loops/1/ohm"), "key 3:67 value 3:74");
  EXPECT_EQ(at("/zones/z1/loops/0"), "key 3:60 value 3:60");
  EXPECT_EQ(at("/zones/z~12/number"), "key 4:13 value 4:23");
  EXPECT_EQ(at("/ü"), "key 6:3 value 6:8");
}

TEST(Locate, AMissingValueIsShownAtWhatLacksIt) {
  EXPECT_EQ(at("/zones/z9/number"), "key 2:3 value 2:12 missing");
  EXPECT_EQ(at("/zones/z1/loops/2"), "key 3:50 value 3:59 missing");
  EXPECT_EQ(at("/zones/z1/number/x"), "key 3:12 value 3:22 missing");
}

TEST(Locate, SurvivesTextThatIsNoJson) {
  for (std::size_t length = 0; length < std::string(kSite).size(); ++length) {
    locate(std::string_view(kSite).substr(0, length), {"/zones/z1/loops/1/ohm", "/ü/0", "/zones/z~12"});
  }
  locate(std::string(1000000, '['), {std::string("/0/0/0/0")});
  locate("}]}]", {"/a"});
}

TEST(PlaceInText, FillsEveryMessageWithoutALine) {
  std::vector<Message> messages;
  messages.push_back(say::json_duplicate_key("x").at({"f", "/zones/z1/number", 0, 0}));
  messages.push_back(say::json_duplicate_key("x").at({"f", "/zones/z1/number", 0, 0, true}));
  messages.push_back(say::json_duplicate_key("x").at({"f", "/zones", 99, 7}));
  place_in_text(messages, kSite);
  EXPECT_EQ(messages[0].place.line, 3);
  EXPECT_EQ(messages[0].place.column, 22);
  EXPECT_EQ(messages[1].place.column, 12);
  EXPECT_EQ(messages[2].place.line, 99);
}

/// All pointers of a value.
void collect(const nlohmann::ordered_json& value, const std::string& pointer, std::vector<std::string>& out) {
  out.push_back(pointer);
  if (value.is_array()) {
    for (std::size_t i = 0; i < value.size(); ++i) collect(value[i], pointer_child(pointer, i), out);
  } else if (value.is_object()) {
    for (const auto& member : value.items()) collect(member.value(), pointer_child(pointer, member.key()), out);
  }
}

std::size_t offset_of(std::string_view text, TextPosition position) {
  std::size_t offset = 0;
  for (int line = 1; line < position.line; ++line) offset = text.find('\n', offset) + 1;
  for (int column = 1; column < position.column; ++column) {
    ++offset;
    while ((static_cast<unsigned char>(text[offset]) & 0xC0U) == 0x80U) ++offset;
  }
  return offset;
}

// Whatever the names and values: the text at the place reads as the value.
RC_GTEST_PROP(LocateProperty, TheTextAtThePlaceIsTheValue, ()) {
  nlohmann::ordered_json document = nlohmann::ordered_json::object();
  const auto keys = *rc::gen::container<std::vector<std::string>>(
      rc::gen::container<std::string>(rc::gen::elementOf(std::string("ab/~\"\\ \n1"))));
  for (std::size_t i = 0; i < keys.size(); ++i) {
    document[keys[i]] =
        i % 3 == 0 ? nlohmann::ordered_json::array({i, keys[i], {{"k", i}}}) : nlohmann::ordered_json(i);
  }
  const std::string text = write_json(document);
  std::vector<std::string> pointers;
  collect(document, "", pointers);
  const std::vector<JsonLocation> found = locate(text, pointers);
  for (std::size_t i = 0; i < pointers.size(); ++i) {
    RC_ASSERT(found[i].found);
    const nlohmann::ordered_json* value = value_at(document, pointers[i]);
    const std::string expected = value->is_structured() ? (value->is_array() ? "[" : "{") : value->dump();
    RC_ASSERT(text.substr(offset_of(text, found[i].value), expected.size()) == expected);
  }
}

}  // namespace
}  // namespace zoneproof
