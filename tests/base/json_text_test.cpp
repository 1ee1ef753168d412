#include "base/json_text.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

namespace zoneproof {
namespace {

using Json = nlohmann::ordered_json;
using testing::ElementsAre;

/// "code line:column pointer" of every message.
std::vector<std::string> faults(std::string_view text) {
  std::vector<Message> messages;
  const Json value = parse_json(text, "site.json", messages);
  EXPECT_TRUE(value.is_null() || !any_error(messages));
  std::vector<std::string> out;
  for (const Message& message : messages) {
    const Place& place = message.place;
    EXPECT_EQ(place.file, "site.json");
    EXPECT_FALSE(full_text(message).empty());
    out.push_back(fmt::format("{} {}:{} {}", message.code, place.line, place.column, place.pointer));
  }
  return out;
}

/// What the first message says.
std::string sentence(std::string_view text) {
  std::vector<Message> messages;
  parse_json(text, "", messages);
  return messages.empty() ? "" : zoneproof::text(messages.front());
}

TEST(ParseJson, KeepsTheOrderOfTheKeys) {
  std::vector<Message> messages;
  const Json value = parse_json(R"({"b": 1, "a": [true, null, "x", -2.5e3], "c": {}})", "", messages);
  EXPECT_TRUE(messages.empty());
  EXPECT_EQ(value.dump(), R"({"b":1,"a":[true,null,"x",-2500.0],"c":{}})");
}

struct Wrong {
  const char* text;
  const char* fault;
};

// Each place of the grammar of RFC 8259 where something else can stand.
TEST(ParseJson, NamesEachKindOfSyntaxErrorWithItsPlace) {
  const Wrong cases[] = {
      {R"({"a": 1 "b": 2})", "json_expected_comma_in_object 1:9 "},
      {R"({"a" 1})", "json_expected_colon 1:6 /a"},
      {R"({"a": })", "json_expected_value 1:7 /a"},
      {"zone;name\n1;Door\n", "json_is_none 1:1 "},
      {"PK\x03\x04", "json_is_none 1:1 "},
      {R"({"a": 1, })", "json_trailing_comma 1:10 "},
      {R"([1, 2, ])", "json_trailing_comma 1:8 /2"},
      {R"([1 2])", "json_expected_comma_in_list 1:4 /1"},
      {R"([,])", "json_expected_value 1:2 /0"},
      {R"({a: 1})", "json_key_not_quoted 1:2 "},
      {R"({"a": 1, b: 2})", "json_key_not_quoted 1:10 "},
      {R"({1: 1})", "json_key_not_quoted 1:2 "},
      {R"({, "a": 1})", "json_expected_key 1:2 "},
      {R"({'a': 1})", "json_single_quote 1:2 "},
      {R"({"a": 'b'})", "json_single_quote 1:7 /a"},
      {R"({"a": True})", "json_unknown_word 1:7 /a"},
      {R"({"a": tru})", "json_unknown_word 1:7 /a"},
      {R"({"a": 5k6})", "json_bad_number 1:7 "},
      {R"({"a": .5})", "json_bad_number 1:7 /a"},
      {R"({"a": +5})", "json_bad_number 1:7 /a"},
      {R"({"a": 5.})", "json_bad_number 1:7 /a"},
      {R"({"a": -})", "json_bad_number 1:7 /a"},
      {R"({"a": 012})", "json_bad_number 1:7 "},
      {"{\"a\": 1, // ohm\n\"b\": 2}", "json_comment 1:10 "},
      {"{\"a\": /* ohm */ 1}", "json_comment 1:7 /a"},
      {"{\n  \"a\": \"open\n}", "json_text_not_closed 2:8 /a"},
      {"{\"a\": \"tab\there\"}", "json_control_character 1:11 /a"},
      {R"({"a": "C:\new\x"})", "json_bad_escape 1:14 /a"},
      {R"({"a": "\u12G4"})", "json_bad_escape 1:8 /a"},
      {R"({"a": "\ud800 alone"})", "json_bad_escape 1:8 /a"},
      {R"({"a": "\ud800\u0041"})", "json_bad_escape 1:8 /a"},
      {R"({"a": 1}})", "json_after_end 1:9 "},
      {"{} {}", "json_after_end 1:4 "},
      {R"({"a": [1, 2})", "json_expected_comma_in_list 1:12 /a/2"},
  };
  for (const Wrong& wrong : cases) EXPECT_THAT(faults(wrong.text), ElementsAre(wrong.fault)) << wrong.text;
}

TEST(ParseJson, SaysWhereACutOffFileWasOpened) {
  EXPECT_THAT(faults("{\n  \"zones\": {\n    \"z1\": {"), ElementsAre("json_unfinished 3:12 /zones/z1"));
  EXPECT_EQ(sentence("{\n  \"zones\": {\n    \"z1\": 1"), "The file ends before the bracket of line 2 is closed.");
  EXPECT_THAT(faults("{\"a\": \"cut o"), ElementsAre("json_text_not_closed 1:7 /a"));
  EXPECT_THAT(faults("{\"a\": \"cut \\"), ElementsAre("json_text_not_closed 1:7 /a"));
  EXPECT_THAT(faults("{\"a\":"), ElementsAre("json_unfinished 1:6 /a"));
  EXPECT_THAT(faults("{\"a\": tr"), ElementsAre("json_unknown_word 1:7 /a"));
}

TEST(ParseJson, ReportsEveryDuplicateKeyAndNoOther) {
  EXPECT_THAT(faults("{\"a\": 1, \"b\": {\"c\": 1,\n \"c\": 2, \"a\": 3},\n \"a\": 4,\n \"a\": 5}"),
              ElementsAre("json_duplicate_key 2:2 /b/c", "json_duplicate_key 3:2 /a", "json_duplicate_key 4:2 /a"));
  EXPECT_THAT(faults(R"([{"a": 1}, {"a": 2}])"), ElementsAre());
  EXPECT_THAT(faults(R"({"a": 1, "\u0061": 2})"), ElementsAre("json_duplicate_key 1:10 /a"));
}

TEST(ParseJson, DuplicatesBeforeASyntaxErrorAreReportedToo) {
  EXPECT_THAT(faults("{\"a\": 1, \"a\": 2, \"b\": {\"c\": 1, \"c\": 2, oops"),
              ElementsAre("json_duplicate_key 1:10 /a", "json_duplicate_key 1:32 /b/c", "json_key_not_quoted 1:40 /b"));
}

TEST(ParseJson, ReportsEveryNumberThatIsNone) {
  EXPECT_THAT(faults("{\"a\": NaN,\n\"b\": [-Infinity, 1e400, -1e999],\n\"c\": \"NaN 1e400\", \"d\": nan}"),
              ElementsAre("json_not_a_number 1:7 ", "json_not_a_number 2:7 ", "json_number_too_large 2:18 ",
                          "json_number_too_large 2:25 ", "json_not_a_number 3:24 "));
  EXPECT_THAT(faults("[" + std::string(400, '9') + "]"), ElementsAre("json_number_too_large 1:2 "));
  EXPECT_THAT(faults("[1.7976931348623157e308, 1e-400, 18446744073709551616]"), ElementsAre());
}

TEST(ParseJson, ReportsEachLineThatIsNotUtf8) {
  EXPECT_THAT(faults("{\"a\": \"M\xFCller\", \"b\": \"\xFC\",\n\"c\": \"\xC0\x80\",\n\"d\": \"ü\"}"),
              ElementsAre("json_not_utf8 1:9 ", "json_not_utf8 2:7 "));
  EXPECT_EQ(sentence("[\"\xFC\"]"), "The byte FC (hexadecimal) is no UTF-8.");
}

TEST(ParseJson, ColumnsCountCharactersAsEditorsDo) {
  EXPECT_THAT(faults("{\"ü€𐍈\": x}"), ElementsAre("json_unknown_word 1:9 /ü€𐍈"));
}

TEST(ParseJson, RefusesAnEmptyText) {
  EXPECT_THAT(faults(""), ElementsAre("json_empty 0:0 "));
  EXPECT_THAT(faults(" \r\n\t"), ElementsAre("json_empty 0:0 "));
}

TEST(ParseJson, SkipsAByteOrderMarkWithANote) {
  std::vector<Message> messages;
  EXPECT_EQ(parse_json("\xEF\xBB\xBF{\"a\": 1}", "", messages), Json::parse("{\"a\": 1}"));
  ASSERT_EQ(messages.size(), 1U);
  EXPECT_FALSE(any_error(messages));
  EXPECT_THAT(faults("\xEF\xBB\xBF"), ElementsAre("json_byte_order_mark 1:1 ", "json_empty 0:0 "));
  EXPECT_THAT(faults("\xEF\xBB\xBF[x]"), ElementsAre("json_byte_order_mark 1:1 ", "json_unknown_word 1:2 /0"));
}

TEST(ParseJson, ANulByteIsNoEnd) {
  EXPECT_THAT(faults(std::string_view("[1]\0x", 5)), ElementsAre("json_after_end 1:4 "));
  EXPECT_THAT(faults(std::string_view("[1,\0]", 6)), ElementsAre("json_expected_value 1:4 /1"));
  EXPECT_THAT(faults(std::string_view("[\"\0\"]", 5)), ElementsAre("json_control_character 1:3 /0"));
}

/// A site refuses them in every form: what is recommended has to be taken.
TEST(ParseJson, RecommendsNoOtherWayToWriteAControlCharacter) {
  for (const std::string& text : {std::string("[\"a\0b\"]", 7), std::string("[\"a\tb\"]")}) {
    std::vector<Message> messages;
    parse_json(text, "", messages);
    ASSERT_EQ(messages.size(), 1U);
    EXPECT_EQ(remedy(messages.front()).find("\\u"), std::string::npos) << remedy(messages.front());
  }
}

TEST(ParseJson, NamesUtf16) { EXPECT_THAT(faults(std::string("\xFF\xFE{\0}\0", 6)), ElementsAre("json_utf16 0:0 ")); }

TEST(ParseJson, NestsAsDeepAsTheBoundAndNoDeeper) {
  const auto nested = [](std::size_t depth) { return std::string(depth, '[') + std::string(depth, ']'); };
  EXPECT_THAT(faults(nested(kDeepestJson)), ElementsAre());
  std::string pointer;
  for (std::size_t i = 0; i < kDeepestJson; ++i) pointer += "/0";
  const std::string expected = fmt::format("json_too_deep 1:{} {}", kDeepestJson + 1, pointer);
  EXPECT_THAT(faults(nested(kDeepestJson + 1)), ElementsAre(expected));
  EXPECT_THAT(faults(std::string(5000000, '[')), ElementsAre(expected));
}

TEST(ParseJson, RefusesATextThatIsTooLarge) {
  const std::string text(kLargestJsonText + 1, ' ');
  EXPECT_THAT(faults(text), ElementsAre("json_too_large 0:0 "));
}

TEST(ParseJson, ListsNoMoreFaultsThanAPersonCanUse) {
  std::string text = "[";
  for (std::size_t i = 0; i < kMostJsonFaults + 7; ++i) text += "NaN,\n";
  const auto all = faults(text + "0]");
  ASSERT_EQ(all.size(), kMostJsonFaults + 1);
  EXPECT_EQ(all.back(), "json_more_faults 0:0 ");
  EXPECT_EQ(all[kMostJsonFaults - 1], fmt::format("json_not_a_number {}:1 ", kMostJsonFaults));
}

TEST(WriteJson, SortsKeysAndKeepsShortThingsOnALine) {
  const Json value = Json::parse(R"({"zones": {"z2": {"number": 2, "name": "Yard"}, "z1": {"loop": {"eol_ohm": 5600},
                                     "number": 1}}, "empty": {}, "list": [], "Big": true})");
  EXPECT_EQ(write_json(value), R"({
  "Big": true,
  "empty": {},
  "list": [],
  "zones": {
    "z1": {
      "loop": {"eol_ohm": 5600},
      "number": 1
    },
    "z2": {"name": "Yard", "number": 2}
  }
}
)");
}

TEST(WriteJson, BreaksALineAtTheColumnLimit) {
  const auto object = [](std::size_t letters) {
    return Json{{"k", {{"a", std::string(letters, 'x')}}}, {"l", {Json::object({{"b", 1}})}}};
  };
  const auto widest = [](const std::string& text) {
    std::size_t width = 0;
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t end = text.find('\n', at);
      width = std::max(width, end - at);
      at = end + 1;
    }
    return width;
  };
  EXPECT_EQ(widest(write_json(object(103))), 120U);  // `  "k": {"a": "xxx"},` is 17 columns without the x
  EXPECT_LT(widest(write_json(object(104))), 120U);
}

// ECMA-262 Number::toString, as the samples of RFC 8785 appendix B show it for these doubles.
TEST(WriteJson, WritesNumbersAsEcmascriptDoes) {
  const std::pair<double, const char*> samples[] = {{0.0, "0"},
                                                    {-0.0, "0"},
                                                    {5e-324, "5e-324"},
                                                    {-5e-324, "-5e-324"},
                                                    {1.7976931348623157e308, "1.7976931348623157e+308"},
                                                    {9007199254740992.0, "9007199254740992"},
                                                    {-9007199254740992.0, "-9007199254740992"},
                                                    {295147905179352830000.0, "295147905179352830000"},
                                                    {9.999999999999997e22, "9.999999999999997e+22"},
                                                    {1e23, "1e+23"},
                                                    {1.0000000000000001e23, "1.0000000000000001e+23"},
                                                    {999999999999999700000.0, "999999999999999700000"},
                                                    {999999999999999900000.0, "999999999999999900000"},
                                                    {1e21, "1e+21"},
                                                    {9.999999999999997e-7, "9.999999999999997e-7"},
                                                    {0.000001, "0.000001"},
                                                    {333333333.3333332, "333333333.3333332"},
                                                    {333333333.33333325, "333333333.33333325"},
                                                    {333333333.3333333, "333333333.3333333"},
                                                    {-0.0000033333333333333333, "-0.0000033333333333333333"},
                                                    {1424953923781206.2, "1424953923781206.2"},
                                                    {4.7, "4.7"},
                                                    {5600.0, "5600"},
                                                    {0.05, "0.05"}};
  for (const auto& [value, expected] : samples) EXPECT_EQ(write_json(Json(value)), std::string(expected) + "\n");
}

TEST(WriteJson, KeepsIntegersExactly) {
  EXPECT_EQ(write_json(Json(std::uint64_t{18446744073709551615U})), "18446744073709551615\n");
  EXPECT_EQ(write_json(Json(std::int64_t{-9223372036854775807})), "-9223372036854775807\n");
}

TEST(WriteJson, EscapesOnlyWhatMustBe) {
  EXPECT_EQ(write_json(Json("\"\\\b\f\n\r\t\x01/ü")), "\"\\\"\\\\\\b\\f\\n\\r\\t\\u0001/ü\"\n");
}

TEST(WriteJson, WhatMustNotBeHeldIsAProgrammingFault) {
  EXPECT_THROW(write_json(Json(std::numeric_limits<double>::quiet_NaN())), std::logic_error);
  EXPECT_THROW(write_json(Json(std::numeric_limits<double>::infinity())), std::logic_error);
  EXPECT_THROW(write_json(Json("\xFF")), std::logic_error);
}

TEST(SameJson, ComparesByValue) {
  EXPECT_TRUE(same_json(Json::parse(R"({"a": 1, "b": 2})"), Json::parse(R"({"b": 2.0, "a": 1})")));
  EXPECT_FALSE(same_json(Json::parse("[1, 2]"), Json::parse("[2, 1]")));
  EXPECT_FALSE(same_json(Json(1), Json("1")));
  EXPECT_FALSE(same_json(Json::object(), Json::array()));
  EXPECT_FALSE(same_json(Json(nullptr), Json(false)));
}

}  // namespace
}  // namespace zoneproof
