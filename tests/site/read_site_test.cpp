// Every fault that a site file can have: one message, at the place, with cause and remedy.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <iterator>
#include <nlohmann/json.hpp>
#include <random>

#include "base/file.hpp"
#include "base/json_pointer.hpp"
#include "base/json_text.hpp"
#include "base/utf8.hpp"
#include "site/file.hpp"
#include "site/number_form.hpp"
#include "site/record_json.hpp"
#include "site/shelf.hpp"
#include "small_site_json.hpp"

namespace zoneproof::site {
namespace {

using Json = nlohmann::ordered_json;
using testing::ElementsAre;
using testing::HasSubstr;

/// The small site with one value set (or, with null, unknown).
std::string with(const std::string& pointer, const Json& value) {
  Json site = small_site_json();
  site[Json::json_pointer(pointer)] = value;
  return write_json(site);
}

/// A part of the shelf as it is copied into a site.
Json shelf_copy(const char* id) {
  const std::optional<Part> part = part_for_site(id);
  return write_record(record_of<Part>(), &*part);
}

std::string without(const std::string& pointer) {
  Json site = small_site_json();
  site.at(Json::json_pointer(pointer_parent(pointer))).erase(pointer.substr(pointer.rfind('/') + 1));
  return write_json(site);
}

std::string all_of(const std::vector<Message>& messages) {
  std::string out;
  for (const Message& message : messages) out += full_text(message) + "\n";
  return out;
}

/// What one change must lead to: this one message and no other.
struct Fault {
  const char* pointer;  // what is changed
  const char* value;    // to what, as JSON
  const char* code;
  const char* at;    // where the message points; empty: where the change was made
  const char* says;  // a part of sentence and remedy
};

class OneFault : public testing::TestWithParam<Fault> {};

/// What reports one thing for good is programmed to nothing; what may be programmable is.
TEST(ReadSite, TakesAProgramOnlyOfAContactThatTakesOne) {
  Json site = Json::parse(kSmallSite);
  site["detectors"]["eye"]["programmed"] = {{"alarm", {{"reports", "alarm"}, {"zone", "air"}}}};
  EXPECT_TRUE(read_site(write_json(site), "x").messages.empty()) << "the part does not say what it reports";
  Json& reports = site["parts"]["pir"]["detector"]["contacts"]["alarm"]["reports"];
  reports = "programmable";
  EXPECT_TRUE(read_site(write_json(site), "x").messages.empty());
  reports = "alarm";
  const ReadResult refused = read_site(write_json(site), "x");
  ASSERT_EQ(refused.messages.size(), 2U);
  for (const Message& message : refused.messages) EXPECT_EQ(message.code, "site_contradiction");
  EXPECT_EQ(refused.messages.front().place.pointer, "/detectors/eye/programmed/alarm/reports");
}

TEST_P(OneFault, GivesOneMessageWithPlaceCauseAndRemedy) {
  const Fault& fault = GetParam();
  const std::string text = with(fault.pointer, Json::parse(fault.value));
  const ReadResult result = read_site(text, "brook.site.json");
  EXPECT_FALSE(result.site.has_value());
  ASSERT_EQ(result.messages.size(), 1U) << all_of(result.messages);
  const Message& message = result.messages.front();
  EXPECT_EQ(message.code, fault.code) << full_text(message);
  EXPECT_EQ(message.place.pointer, *fault.at ? fault.at : fault.pointer);
  EXPECT_THAT(full_text(message), HasSubstr(fault.says));
  EXPECT_FALSE(remedy(message).empty());
  EXPECT_GT(message.place.line, 1);
  EXPECT_GE(message.place.column, 1);
}

const Fault kFormFaults[] = {
    {"/zones/door/nmae", "\"x\"", "site_unknown_key_near", "", "name"},
    {"/zones/door/colour_of_paint", "1", "site_unknown_key", "", "colour_of_paint"},
    {"/cables/run/length_ft", "10", "site_foreign_unit", "", "\"length_m\": 3.048"},
    {"/cables/run/length_ft", "\"ten\"", "site_foreign_unit_factor", "", "0.3048 metres"},
    {"/areas/shop/temperature_max_degF", "86", "site_foreign_unit", "", "\"temperature_max_degC\": 30"},
    {"/cables/run/length", "10", "site_unit_missing", "", "length_m, in metres"},
    {"/zones/door/loop/eol_ohm", "\"5.6k\"", "site_number_as_text", "", "Write 5600"},
    {"/zones/door/loop/eol_ohm", "\"about 5k\"", "site_text_not_a_number", "", "ohms"},
    {"/parts/aux/supply/mains_V", "\"12 V\"", "site_number_as_text", "", "Write 12"},
    {"/zones/door/loop/eol_ohm", "true", "site_number_wanted", "", "true or false"},
    {"/zones/door/loop/eol_ohm", "[5600]", "site_number_wanted", "", "a list"},
    {"/zones/door/number", "\"1\"", "site_count_wanted", "", "whole number"},
    {"/zones/door/number", "1.5", "site_count_fraction", "", "number is 1.5; it must be a whole number"},
    {"/zones/door/number", "-1", "site_count_out_of_range", "", "0 to 99999"},
    {"/zones/door/number", "1e300", "site_count_out_of_range", "", "0 to 99999"},
    {"/cables/run/length_m", "{\"note\": \" \", \"value\": 5}", "site_only_blanks", "/cables/run/length_m/note",
     "note"},
    {"/bonds_complete", "\"yes\"", "site_flag_wanted", "", "true or false"},
    {"/zones/door/name", "7", "site_text_wanted", "", "quotation marks"},
    {"/zones/door/panel", "7", "site_id_wanted", "", "id"},
    {"/zones/door/panel", "\"Main Panel\"", "site_not_an_identifier", "", "Main Panel"},
    {"/zones/door/loop", "[]", "site_object_wanted", "", "loop"},
    {"/zones", "[]", "site_object_wanted", "", "zones"},
    {"/zones/door", "7", "site_object_wanted", "", "door"},
    {"/cables/run/areas", "\"shop\"", "site_list_wanted", "", "list"},
    {"/cables/run/areas", "[\"shop\", \"shop\"]", "site_listed_twice", "/cables/run/areas/1", "shop"},
    {"/zones/door/type", "\"intrudr\"", "site_unknown_word_near", "", "Write intruder"},
    {"/zones/door/type", "\"burglary by night\"", "site_unknown_word", "", "intruder, entry_exit"},
    {"/zones/door/type", "3", "site_word_wanted", "", "Here stands a number, but type is a word"},
    {"/zones/door/type", "[\"intruder\"]", "site_word_wanted", "", "intruder, entry_exit"},
    {"/zones/Door", "{}", "site_bad_id", "", "lower-case"},
    {"/zones/a234567890123456789012345678901234567890x", "{}", "site_bad_id", "", "40"},
    {"/zones/none", "{}", "site_none_as_id", "", "none"},
    {"/zones/door/name", "\"Front\\u0007door\"", "site_hidden_characters", "", "U+0007"},
    {"/zones/door/name", "\"Front\\u202edoor\"", "site_hidden_characters", "", "U+202E"},
    {"/zones/door/name", "\"two\\nlines\"", "site_hidden_characters", "", "U+000A"},
    {"/zones/door/name", "\"Front\\uffffdoor\"", "site_hidden_characters", "", "U+FFFF"},
    {"/zones/door/name", "\"Front\\ufdd0door\"", "site_hidden_characters", "", "U+FDD0"},
    {"/zones/door/name", "\"Front\\ud83f\\udffedoor\"", "site_hidden_characters", "", "U+1FFFE"},
    {"/zones/door/name", "\"Front\\u2062door\"", "site_hidden_characters", "", "U+2062"},
    {"/units/unit/name", "\"  \"", "site_only_blanks", "", "leave name out"},
    {"/units/unit/name", "\"\\u00a0\\u200b\\u3000\"", "site_only_blanks", "", "name holds blanks"},
    {"/note", "\" \\n \"", "site_only_blanks", "", "note"},
    {"/parts/pir/shelf_hash", "\"abc\"", "site_not_a_hash", "", "64"},
    {"/parts/pir/kind", "null", "site_missing", "/parts/pir", "kind"},
    {"/parts/terminal/zone_terminal/windows/rest/means", "null", "site_missing",
     "/parts/terminal/zone_terminal/windows/rest", "means"},
    {"/rulebooks/house_rules/entries/loop_margin_V/source", "null", "site_missing",
     "/rulebooks/house_rules/entries/loop_margin_V", "source"},
    {"/rulebooks/house_rules/entries/Margin",
     "{\"value\": 1, \"unit\": \"V\", \"meaning\": \"x\", \"source\": \"x\", \"verified\": true}", "site_bad_entry_id",
     "", "Margin"},
};
INSTANTIATE_TEST_SUITE_P(Form, OneFault, testing::ValuesIn(kFormFaults));

const Fault kNumberFaults[] = {
    {"/cables/run/length_m", "-3", "site_out_of_range", "", "0 m to 5000 m"},
    {"/cables/run/length_m", "1e9", "site_out_of_range", "", "5000 m"},
    {"/cables/run/length_m", "\"none\"", "site_none_not_possible", "", "write 0"},
    {"/zones/door/panel", "\"none\"", "site_none_reference", "", "unknown"},
    {"/cables/run/length_m", "{\"min\": 30, \"max\": 20}", "site_range_reversed", "", "30 m"},
    {"/cables/run/length_m", "{\"value\": 5, \"min\": 10, \"max\": 20}", "site_value_outside",
     "/cables/run/length_m/value", "5 m"},
    {"/cables/run/length_m", "{\"value\": 5, \"plus\": -1, \"minus\": 1}", "site_negative_tolerance",
     "/cables/run/length_m/plus", "-1 m"},
    {"/cables/run/length_m", "{\"value\": 5, \"tolerance_pct\": -1}", "site_negative_tolerance",
     "/cables/run/length_m/tolerance_pct", "-1 %"},
    {"/cables/run/length_m", "{\"value\": 5, \"tolerance_pct\": 120}", "site_tolerance_too_large",
     "/cables/run/length_m/tolerance_pct", "120 %"},
    {"/cables/run/length_m", "{\"value\": 5, \"plus\": 1}", "site_tolerance_half", "", "minus"},
    {"/cables/run/length_m", "{\"value\": 5, \"min\": 1}", "site_range_half", "", "max"},
    {"/cables/run/length_m", "{\"value\": 5, \"tolerance_pct\": 1, \"min\": 4, \"max\": 6}", "site_tolerance_twice", "",
     "tolerance_pct, min"},
    {"/cables/run/length_m", "{\"note\": \"guess\"}", "site_value_missing", "", "value"},
    {"/cables/run/length_m", "{\"value\": null, \"plus\": 1, \"minus\": 1}", "site_tolerance_of_nothing", "",
     "plus, minus"},
    {"/cables/run/length_m", "{\"value\": \"5 m\"}", "site_number_as_text", "/cables/run/length_m/value", "Write 5"},
    {"/cables/run/length_m", "{\"value\": 1, \"plus\": 1, \"minus\": 2}", "site_out_of_range",
     "/cables/run/length_m/minus", "-1 m"},
    {"/cables/run/length_m", "{\"value\": 5, \"tolerence_pct\": 1}", "site_unknown_key_near",
     "/cables/run/length_m/tolerence_pct", "tolerance_pct"},
    {"/cables/run/length_m", "{\"value\": 5, \"origin\": \"guessed\"}", "site_unknown_word",
     "/cables/run/length_m/origin", "measured"},
    {"/cables/run/length_m", "{\"value\": 5, \"origin\": 5}", "site_word_wanted", "/cables/run/length_m/origin",
     "Here stands a number, but origin is a word"},
    {"/cables/run/length_m", "{\"value\": 5, \"tempco_ppm_K\": 1e7}", "site_out_of_range",
     "/cables/run/length_m/tempco_ppm_K", "100000"},
    {"/cables/run/length_m", "{\"value\": 5, \"note\": \"\\u0000\"}", "site_hidden_characters",
     "/cables/run/length_m/note", "U+0000"},
};
INSTANTIATE_TEST_SUITE_P(Number, OneFault, testing::ValuesIn(kNumberFaults));

const Fault kReferenceFaults[] = {
    {"/zones/door/panel", "\"panle\"", "site_dangling_near", "", "Write \"panel\""},
    {"/zones/door/panel", "\"elsewhere\"", "site_dangling", "", "panels"},
    {"/zones/door/panel", "\"psu\"", "site_wrong_collection", "", "supplies"},
    {"/cables/run/part", "\"pir\"", "site_wrong_part_kind", "", "kind detector"},
    {"/cables/run/part", "\"run\"", "site_dangling", "", "parts"},
    {"/cables/run/areas", "[\"shoo\"]", "site_dangling_near", "/cables/run/areas/0", "shop"},
    {"/rulebook/book", "\"their_rules\"", "site_dangling", "", "rulebooks"},
    {"/areas/door", "{}", "site_duplicate_id", "/zones/door", "areas"},
    {"/junctions/box_a/feed", "{\"from\": \"box_b\"}", "site_cycle", "/junctions/box_a/feed/from",
     "box_a, box_b, box_a"},
    {"/junctions/box_a/feed", "{\"from\": \"box_a\"}", "site_cycle", "/junctions/box_a/feed/from", "box_a, box_a"},
    {"/zones/door/loop/contacts/c1/contact", "\"tamper\"", "site_not_in_part", "", "it has: alarm"},
    {"/detectors/eye/programmed", "{\"relay1\": {\"zone\": \"air\"}}", "site_not_in_part",
     "/detectors/eye/programmed/relay1", "it has: alarm"},
    {"/detectors/eye/programmed", "{\"alarm\": {\"zone\": \"eye\"}}", "site_wrong_collection",
     "/detectors/eye/programmed/alarm/zone", "zones"},
    {"/detectors/eye/zone", "\"dor\"", "site_dangling_near", "", "door"},
    {"/junctions/box_a/feed/output", "\"aux2\"", "site_not_in_part", "", "aux1"},
    {"/triggers/t1/setting/preset", "\"third\"", "site_not_in_part", "", "half"},
    {"/bonds/strap/b", "\"psu\"", "site_same_ends", "", "psu"},
};
INSTANTIATE_TEST_SUITE_P(Reference, OneFault, testing::ValuesIn(kReferenceFaults));

const Fault kContradictions[] = {
    {"/parts/spare", "{\"kind\": \"relay\"}", "site_part_object_missing", "", "relay"},
    {"/parts/pir/load", "{}", "site_part_object_other", "", "load"},
    {"/zones/door/loop/arrangement", "\"single_eol_open\"", "site_contradiction", "/zones/door/loop/alarm_ohm",
     "single_eol_open"},
    {"/zones/door/loop/mask_ohm", "1000", "site_contradiction", "", "double_eol"},
    {"/zones/air/loop", "{\"arrangement\": \"normally_open\"}", "site_contradiction", "", "wireless"},
    {"/zones/twin", R"({"number": 1, "panel": "panel"})", "site_zone_number_twice", "/zones/twin/number", "\"door\""},
    {"/zones/twin", R"({"medium": "wired", "panel": "panel", "input": 1})", "site_zone_input_twice",
     "/zones/twin/input", "doubled_with"},
    {"/zones/twin", "{\"doubled_with\": \"door\"}", "site_doubled_arrangement", "/zones/twin/doubled_with",
     "double_eol"},
    {"/parts/pir/detector/contacts/alarm/reports", "\"relay\"", "site_unknown_word", "", "programmable"},
    {"/zones/door/loop/contacts/c1/zone", "\"air\"", "site_contact_of_other_zone", "", "air"},
    {"/junctions/box_b/feed/output", "\"aux1\"", "site_contradiction", "", "box_a"},
    {"/detectors/eye/feed", "{\"from\": \"none\", \"cable\": \"run\"}", "site_contradiction",
     "/detectors/eye/feed/cable", "none"},
    {"/parts/aux/supply/outputs/aux1", "{\"protection\": \"fuse\", \"foldback_A\": 1}", "site_contradiction",
     "/parts/aux/supply/outputs/aux1/foldback_A", "fuse"},
    {"/zones/door/loop", "{\"arrangement\": \"doubled_parallel\", \"eol_ohm\": 4700}", "site_contradiction",
     "/zones/door/loop/eol_ohm", "doubled_parallel"},
    {"/zones/door/loop", "{\"arrangement\": \"doubled_parallel\", \"eol_place\": \"at_end\"}", "site_contradiction",
     "/zones/door/loop/eol_place", "doubled_parallel"},
    {"/triggers/t1/contact_to", "\"high\"", "site_contradiction", "", "loop_tap"},
    {"/parts/pir/detector", R"({"supply_min_V": "none", "contacts": {"alarm": {"without_supply": "open"}}})",
     "site_contradiction", "/parts/pir/detector/contacts/alarm/without_supply", "supply_min_V"},
    {"/units/unit", R"({"missed_by": "nobody", "poll_s": 60})", "site_contradiction", "/units/unit/poll_s", "nobody"},
    {"/units/unit", R"({"missed_by": "station", "missed_zone": "door"})", "site_contradiction",
     "/units/unit/missed_zone", "station"},
    {"/units/unit/missed_zone", "\"psu\"", "site_wrong_collection", "", "zones"},
    {"/triggers/t1",
     "{\"zone\": \"door\", \"source\": \"following_output\", \"output\": \"arm\", \"contact_to\": \"low\"}",
     "site_contradiction", "/triggers/t1/contact_to", "open_collector"},
    {"/outputs/arm/active_when", "\"alarm\"", "site_active_when", "", "armed, disarmed"},
    {"/outputs/arm/zone", "\"door\"", "site_contradiction", "", "armed"},
    {"/outputs/arm/relay_contact_used", "\"open\"", "site_contradiction", "", "open_collector"},
    {"/triggers/t1/output", "\"arm\"", "site_contradiction", "", "loop_tap"},
    {"/triggers/t1/contact", "\"alarm\"", "site_contradiction", "", "loop_tap"},
    {"/units/unit/arming/pullup_ohm", "\"none\"", "site_contradiction", "/units/unit/arming/pullup_to", "none"},
    {"/parts/terminal/zone_terminal/source_pct", "100", "site_contradiction", "", "regulated"},
    {"/parts/terminal/zone_terminal/current_A", "0.001", "site_contradiction", "", "negative"},
    {"/parts/terminal/zone_terminal/windows/rest/min_pct", "10", "site_either_or", "", "min_V"},
    {"/parts/terminal/zone_terminal/readings", R"({"a": {"kind": "shorted", "shown_V": 5}})", "site_contradiction",
     "/parts/terminal/zone_terminal/readings/a/shown_V", "kind is shorted"},
    {"/parts/terminal/zone_terminal/readings", R"({"a": {"kind": "open", "shown_A": 0.001}})", "site_contradiction",
     "/parts/terminal/zone_terminal/readings/a/shown_A", "kind is open"},
    {"/parts/terminal/zone_terminal/readings", R"({"a": {"kind": "open", "resistor_ohm": 4700}})", "site_contradiction",
     "/parts/terminal/zone_terminal/readings/a/resistor_ohm", "kind is open"},
    {"/parts/terminal/zone_terminal/readings", R"({"a": {"kind": "loaded", "resistor_ohm": 0}})", "site_out_of_range",
     "/parts/terminal/zone_terminal/readings/a/resistor_ohm", "1 "},
    {"/parts/terminal/zone_terminal/readings", R"({"a": {"meter": {"error_pct": 200}}})", "site_out_of_range",
     "/parts/terminal/zone_terminal/readings/a/meter/error_pct", "50"},
    {"/parts/terminal/zone_terminal",
     R"({"refers_to": "current_source", "readings": {"a": {"kind": "open", "shown_V": 5}}})",
     "site_readings_of_no_source", "/parts/terminal/zone_terminal/readings", "behind a resistance"},
    {"/parts/box/unit/current_A", "0.4", "site_either_or", "/parts/box/unit/power_W", "current_A"},
    {"/parts/box/unit/input/judging", "\"ranges\"", "site_contradiction", "/triggers/t1/setting/preset", "ranges"},
    {"/parts/box/unit/arming/low_max_V", "4", "site_min_above_max", "", "high_min_V"},
    {"/areas/shop/temperature_min_degC", "35", "site_min_above_max", "", "temperature_max_degC"},
    {"/parts/terminal/zone_terminal/windows/rest/min_V", "4", "site_min_above_max", "", "3 V"},
    {"/rulebooks/house_rules/entries/loop_margin_V/value", "null", "site_rule_empty",
     "/rulebooks/house_rules/entries/loop_margin_V", "points"},
    {"/rulebooks/house_rules/entries/battery_factor/value", "1", "site_either_or", "", "points"},
    {"/rulebooks/house_rules/entries/battery_factor/at_unit", "null", "site_rule_at_unit",
     "/rulebooks/house_rules/entries/battery_factor", "at_unit"},
    {"/rulebooks/house_rules/entries/battery_factor/points/1/at", "-5", "site_rule_points_order", "",
     "0 °C of the row before"},
};
INSTANTIATE_TEST_SUITE_P(Contradiction, OneFault, testing::ValuesIn(kContradictions));

struct ImpossibleRule {
  const char* entry;
  double value;
  const char* code;
};

class Impossible : public testing::TestWithParam<ImpossibleRule> {};

// An entry of chance outside of what it can be is no missing entry: it is named where it stands.
TEST_P(Impossible, IsRefusedWhereItStands) {
  Json site = small_site_json();
  Json& entries = site["rulebooks"]["house_rules"]["entries"];
  const std::string id = GetParam().entry;
  entries[id] = {{"value", GetParam().value},
                 {"unit", id == "yield_confidence_pct" ? "pct" : "1"},
                 {"meaning", "How chance is counted."},
                 {"source", "own"},
                 {"verified", false}};
  const ReadResult result = read_site(site.dump(), "brook.site.json");
  ASSERT_EQ(result.messages.size(), 1U) << all_of(result.messages);
  EXPECT_EQ(result.messages.front().code, GetParam().code);
  EXPECT_EQ(result.messages.front().place.pointer, "/rulebooks/house_rules/entries/" + id + "/value");
}

INSTANTIATE_TEST_SUITE_P(Rule, Impossible,
                         testing::Values(ImpossibleRule{"yield_sigmas", -1.0, "site_rule_least"},
                                         ImpossibleRule{"yield_log_ratio", 1.0, "site_rule_above"},
                                         ImpossibleRule{"yield_confidence_pct", 0.0, "site_rule_between"},
                                         ImpossibleRule{"yield_confidence_pct", 100.0, "site_rule_between"}));

TEST(ReadSite, TheSmallSiteIsWithoutFault) {
  const ReadResult result = read_site(kSmallSite, "brook.site.json");
  EXPECT_TRUE(result.messages.empty()) << all_of(result.messages);
  ASSERT_TRUE(result.site.has_value());
}

TEST(ReadSite, ARelayOutputAsATriggersSourceSaysWhatItsContactSwitches) {
  Json site = small_site_json();
  site["parts"]["dry"] = {{"kind", "output"}, {"output", {{"kind", "relay"}}}};
  site["outputs"]["follow"] = {{"panel", "panel"}, {"part", "dry"}, {"follows", "zone_state"}, {"zone", "door"}};
  site["triggers"]["t1"] = {
      {"zone", "door"}, {"source", "following_output"}, {"output", "follow"}, {"contact_to", "low"}};
  const ReadResult result = read_site(write_json(site), "brook.site.json");
  EXPECT_TRUE(result.messages.empty()) << all_of(result.messages);
}

TEST(ReadSite, WhatWasFoundOfOutputsIsOfThoseThatThePanelHas) {
  Json site = small_site_json();
  site["parts"]["old_panel"]["panel"]["outputs"] = {{"pgm_1", {{"number", 1}, {"follows_zone", true}}}};
  site["panels"]["panel"]["outputs_found"] = {{"pgm_1", {{"use", "free"}}}};
  const ReadResult right = read_site(write_json(site), "brook.site.json");
  EXPECT_TRUE(right.messages.empty()) << all_of(right.messages);
  ASSERT_TRUE(right.site.has_value());
  EXPECT_TRUE(right.site->panels.at("panel").outputs_found.at("pgm_1").use.is(OutputUse::free));
  site["panels"]["panel"]["outputs_found"]["pgm_2"] = {{"use", "used"}};
  const ReadResult wrong = read_site(write_json(site), "brook.site.json");
  ASSERT_EQ(wrong.messages.size(), 1U) << all_of(wrong.messages);
  EXPECT_EQ(wrong.messages[0].code, "site_not_in_part");
  EXPECT_THAT(full_text(wrong.messages[0]), HasSubstr("/panels/panel/outputs_found/pgm_2"));
  EXPECT_THAT(full_text(wrong.messages[0]), HasSubstr("pgm_1"));
}

/// What a file may say is drawn, printed and listed as it is: whatever a paper would have to show another way was
/// refused before.
TEST(ReadSite, TakesNoCharacterThatAPaperWouldShowInAnotherWay) {
  for (char32_t c = 0; c <= 0x10FFFF; ++c) {
    if (c >= 0xD800 && c < 0xE000) continue;
    std::string letter;  // UTF-8 by the standard's table 3-6
    if (c < 0x80) {
      letter = {static_cast<char>(c)};
    } else if (c < 0x800) {
      letter = {static_cast<char>(0xC0 | c >> 6), static_cast<char>(0x80 | (c & 0x3F))};
    } else if (c < 0x10000) {
      letter = {static_cast<char>(0xE0 | c >> 12), static_cast<char>(0x80 | (c >> 6 & 0x3F)),
                static_cast<char>(0x80 | (c & 0x3F))};
    } else {
      letter = {static_cast<char>(0xF0 | c >> 18), static_cast<char>(0x80 | (c >> 12 & 0x3F)),
                static_cast<char>(0x80 | (c >> 6 & 0x3F)), static_cast<char>(0x80 | (c & 0x3F))};
    }
    ASSERT_EQ(printable(letter) == letter, hidden_characters(letter, false).empty()) << static_cast<unsigned>(c);
  }
}

/// A number of more digits than a computer's is quoted as it was typed, one of a million by its first digits.
TEST(ReadSite, QuotesANumberAsItWasTyped) {
  for (const char* typed :
       {"99999999999999999999", "-12345678901234567890", "18446744073709551615", "1.0e30", "2.50"}) {
    std::string site(kSmallSite);
    const std::string before = R"("number": 1, "name")";
    site.replace(site.find(before), before.size(), "\"number\": " + std::string(typed) + ", \"name\"");
    const ReadResult result = read_site(site, "x");
    ASSERT_EQ(result.messages.size(), 1U) << all_of(result.messages);
    EXPECT_THAT(text(result.messages.front()), HasSubstr("number is " + std::string(typed) + ";")) << typed;
  }
  for (const std::string& digits : {std::string(290, '7'), std::string(1'000'000, '7')}) {
    std::string site(kSmallSite);
    const std::string before = R"("number": 1, "name")";
    site.replace(site.find(before), before.size(), "\"number\": " + digits + ", \"name\"");
    const ReadResult result = read_site(site, "x");
    ASSERT_EQ(result.messages.size(), 1U);
    EXPECT_LT(full_text(result.messages.front()).size(), 250U);
    EXPECT_THAT(text(result.messages.front()), HasSubstr(std::string(40, '7') + "..."));
  }
}

TEST(ReadSite, TakesNamesWithJoinersAsPersianNeedsThem) {
  const ReadResult result = read_site(with("/zones/door/name", "درب\u200cها"), "x");
  EXPECT_TRUE(result.messages.empty()) << all_of(result.messages);
}

TEST(ReadSite, OfAPartThatHasNoneItSaysHowToAddOneInsteadOfListingNothing) {
  Json site = small_site_json();
  site["panels"]["panel"]["outputs_found"] = {{"pgm_1", {{"use", "free"}}}};
  const ReadResult result = read_site(write_json(site), "brook.site.json");
  ASSERT_EQ(result.messages.size(), 1U) << all_of(result.messages);
  EXPECT_EQ(result.messages[0].code, "site_none_in_part");
  EXPECT_THAT(full_text(result.messages[0]), HasSubstr("schema --field /parts/*/panel/outputs/*"));
}

TEST(ReadSite, PointsToTheLineAndColumnOfTheValueOrKey) {
  const ReadResult result = read_site(
      "{\n"
      "  \"format\": \"zoneproof-site\",\n"
      "  \"version\": 3,\n"
      "  \"cables\": {\n"
      "    \"run\": {\"length_m\": -1, \"colour\": 1}\n"
      "  }\n"
      "}\n",
      "brook.site.json");
  ASSERT_EQ(result.messages.size(), 2U) << all_of(result.messages);
  EXPECT_THAT(full_text(result.messages[0]), HasSubstr("brook.site.json:5:25: /cables/run/length_m: length_m is -1 m"));
  EXPECT_THAT(full_text(result.messages[1]), HasSubstr("brook.site.json:5:29: /cables/run/colour: "));
}

TEST(ReadSite, TellsEveryProblemAndNotOnlyTheFirst) {
  Json site = small_site_json();
  site["cables"]["run"]["length_m"] = -1;
  site["zones"]["door"]["panel"] = "elsewhere";
  site["zones"]["door"]["typo"] = 1;
  site["outputs"]["arm"]["zone"] = "door";
  const ReadResult result = read_site(write_json(site), "brook.site.json");
  std::vector<std::string> codes;
  for (const Message& message : result.messages) codes.push_back(message.code);
  EXPECT_THAT(codes, testing::UnorderedElementsAre("site_out_of_range", "site_dangling", "site_unknown_key_near",
                                                   "site_contradiction"))
      << all_of(result.messages);
  EXPECT_TRUE(std::is_sorted(result.messages.begin(), result.messages.end(),
                             [](const Message& a, const Message& b) { return a.place.line < b.place.line; }));
}

TEST(ReadSite, AThousandEqualProblemsAreListedInPartAndCounted) {
  Json site = small_site_json();
  for (int i = 0; i < 1000; ++i) site["zones"]["z" + std::to_string(i)] = {{"input", -1}};
  const ReadResult result = read_site(write_json(site), "brook.site.json");
  ASSERT_EQ(result.messages.size(), 26U);
  EXPECT_THAT(full_text(result.messages.back()), HasSubstr("975 more places"));
}

TEST(ReadSite, RefusesWhatIsNoSiteWithOneMessage) {
  const auto only_code = [](const std::string& text) {
    const ReadResult result = read_site(text, "x");
    EXPECT_FALSE(result.site.has_value());
    return result.messages.size() == 1 ? result.messages.front().code : all_of(result.messages);
  };
  EXPECT_EQ(only_code("[]"), "site_object_wanted");
  EXPECT_EQ(only_code("{}"), "site_format_missing");
  EXPECT_EQ(only_code(R"({"format": "zoneproof-parts", "version": 3})"), "site_format_other");
  EXPECT_EQ(only_code(R"({"format": 7, "version": 1})"), "site_format_other");
  EXPECT_EQ(only_code(R"({"format": "zoneproof-site"})"), "site_version_missing");
  EXPECT_EQ(only_code(R"({"format": "zoneproof-site", "version": "1"})"), "site_version_missing");
  EXPECT_EQ(only_code(R"({"format": "zoneproof-site", "version": 4, "new": 1})"), "site_version_newer");
  EXPECT_EQ(only_code(R"({"format": "zoneproof-site", "version": 0})"), "site_version_unknown");
  EXPECT_EQ(only_code(R"({"format": "zoneproof-site", "format": "x", "version": 1})"), "json_duplicate_key");
  EXPECT_EQ(only_code(R"({"format": "zoneproof-site", "version": 3, "name": NaN})"), "json_not_a_number");
  EXPECT_EQ(only_code(R"({"format": "zoneproof-site", "version": 3, "zones": )" + std::string(100000, '[')),
            "json_too_deep");
  EXPECT_EQ(only_code(""), "json_empty");
  EXPECT_EQ(only_code(std::string(kSmallSite.substr(0, kSmallSite.size() / 2))).substr(0, 5), "json_");
}

/// Swaps, doubles, drops and overwrites pieces of a text.
std::string damaged(std::string text, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  static const char* const pieces[] = {"{",  "}",     "[",        "]",       ",",        ":",    "\"",  "null",
                                       "-1", "1e999", "\"none\"", "\\u0000", "\"door\"", "\xff", "0.1", "\n"};
  for (std::uint64_t i = random() % 6; i > 0 && !text.empty(); --i) {
    const std::size_t at = random() % text.size();
    const std::size_t length = random() % 20;
    switch (random() % 4) {
      case 0: text.erase(at, length); break;
      case 1: text.insert(at, text.substr(random() % text.size(), length)); break;
      case 2: text.insert(at, pieces[random() % std::size(pieces)]); break;
      default: text.replace(at, length, pieces[random() % std::size(pieces)]);
    }
  }
  return text;
}

RC_GTEST_PROP(ReadSite, AnyTextGivesASiteOrTheReasonsWhyNot, (std::uint64_t seed)) {
  for (std::uint64_t i = 0; i < 20; ++i) {
    const ReadResult result = read_site(damaged(std::string(kSmallSite), seed + i), "x");
    RC_ASSERT(result.site.has_value() != any_error(result.messages));
    for (const Message& message : result.messages) RC_ASSERT(!full_text(message).empty() && message.place.line >= 1);
    if (result.site) RC_ASSERT(read_site(write_site(*result.site), "x").site.has_value());
  }
}

TEST(ReadSite, AMillionZonesGiveOneMessage) {
  std::string text =
      R"({"format": "zoneproof-site", "version": 3, "triggers": {"t": {"zone": "z5"}}, "zones": {"z0": {})";
  for (int i = 1; i < 1'000'000; ++i) text += ",\"z" + std::to_string(i) + "\":{}";
  text += "}}";
  const ReadResult result = read_site(text, "huge.site.json");
  ASSERT_EQ(result.messages.size(), 1U) << all_of(result.messages);
  EXPECT_EQ(result.messages.front().code, "site_too_many");
  EXPECT_EQ(result.messages.front().place.pointer, "/zones");
}

TEST(ReadSite, AMillionUnknownKeysGiveAPageOfMessages) {
  std::string text = R"({"format": "zoneproof-site", "version": 3)";
  for (int i = 0; i < 1'000'000; ++i) text += ",\"zone" + std::to_string(i) + "\":0";
  const ReadResult result = read_site(text + "}", "huge.site.json");
  EXPECT_FALSE(result.site.has_value());
  EXPECT_LT(result.messages.size(), 60U);
}

TEST(ReadSite, OriginComesFromTheNumberElseFromThePartElseFromTheSite) {
  const ReadResult result =
      read_site(with("/parts/pir/detector/contacts/alarm/open_ohm", {{"value", 1e8}, {"origin", "typical"}}), "x");
  ASSERT_TRUE(result.site.has_value()) << all_of(result.messages);
  const Site& site = *result.site;
  const ContactSpec& contact = site.parts.at("pir").detector->contacts.at("alarm");
  EXPECT_EQ(contact.open_ohm.origin, Origin::typical);
  EXPECT_EQ(contact.closed_ohm.origin, Origin::data_sheet);
  EXPECT_EQ(site.parts.at("box").unit->power_W.origin, Origin::measured);
  EXPECT_EQ(site.rulebooks.at("house_rules").entries.at("loop_margin_V").value.origin, Origin::envelope);
  const ReadResult plain = read_site(without("/origin"), "x");
  ASSERT_TRUE(plain.site.has_value());
  EXPECT_EQ(plain.site->parts.at("box").unit->power_W.origin, Origin::assumed);
}

TEST(ReadSite, WhatIsUnknownKnowsWhereItWouldStand) {
  const ReadResult result = read_site(kSmallSite, "x");
  ASSERT_TRUE(result.site.has_value());
  const Site& site = *result.site;
  const Zone& air = site.zones.at("air");
  EXPECT_EQ(air.loop.eol_ohm.pointer, "/zones/air/loop/eol_ohm");
  EXPECT_TRUE(air.loop.eol_ohm.unknown());
  EXPECT_EQ(air.panel.pointer, "/zones/air/panel");
  EXPECT_EQ(air.input.pointer, "/zones/air/input");
  EXPECT_EQ(air.loop.contacts_complete.pointer, "/zones/air/loop/contacts_complete");
  EXPECT_EQ(air.type.pointer, "/zones/air/type");
  EXPECT_EQ(site.parts.at("pir").detector->current_A.pointer, "/parts/pir/detector/current_A");
  EXPECT_EQ(site.cables.at("run").areas.at(0).pointer, "/cables/run/areas/0");
}

TEST(ReadSite, KeepsTheFormInWhichAToleranceIsStated) {
  const ReadResult result = read_site(kSmallSite, "x");
  ASSERT_TRUE(result.site.has_value());
  const Loop& loop = result.site->zones.at("door").loop;
  EXPECT_EQ(loop.eol_ohm.low, 5572);
  EXPECT_EQ(loop.eol_ohm.high, 5656);
  EXPECT_EQ(loop.alarm_ohm.nominal, 5600) << "min and max alone: the middle";
  const Value& cable = result.site->parts.at("two_core").cable->resistance_ohm_per_km;
  EXPECT_EQ(cable.low, 76);
  EXPECT_EQ(cable.high, 84);
  EXPECT_EQ(cable.tempco_ppm_K, 3930);
}

TEST(ReadSite, UnknownMayBeSaidByNull) {
  const ReadResult absent = read_site(without("/zones/door/loop/eol_ohm"), "x");
  const ReadResult null = read_site(with("/zones/door/loop/eol_ohm", nullptr), "x");
  ASSERT_TRUE(absent.site && null.site);
  EXPECT_TRUE(same_site(*absent.site, *null.site));
  EXPECT_EQ(write_site(*absent.site), write_site(*null.site));
}

TEST(DoubledZones, TheLoopStandsAtOneOfThem) {
  Json site = small_site_json();
  site["zones"]["door"]["loop"] = {{"arrangement", "doubled_series"}, {"eol_ohm", 1000}};
  site["zones"]["twin"] = {{"doubled_with", "door"}};
  site["zones"]["door"]["loop"]["contacts"]["c2"] = {{"zone", "twin"}};
  EXPECT_TRUE(read_site(write_json(site), "x").site.has_value());
  Json both = site;
  both["zones"]["twin"]["loop"] = {{"eol_ohm", 1000}};
  const ReadResult result = read_site(write_json(both), "x");
  ASSERT_EQ(result.messages.size(), 1U);
  EXPECT_EQ(result.messages.front().code, "site_loop_of_second_zone");
  Json chain = site;
  chain["zones"]["third"] = {{"doubled_with", "twin"}};
  EXPECT_EQ(read_site(write_json(chain), "x").messages.front().code, "site_doubled_chain");
  Json itself = site;
  itself["zones"]["door"]["loop"]["contacts"].erase("c2");
  itself["zones"]["twin"]["doubled_with"] = "twin";
  EXPECT_EQ(read_site(write_json(itself), "x").messages.front().code, "site_itself");
}

TEST(DoubledZones, TwoThatNameEachOtherGiveOneMessage) {
  Json site = small_site_json();
  site["zones"]["door"]["doubled_with"] = "twin";
  site["zones"]["twin"] = {{"doubled_with", "door"}, {"loop", {{"eol_ohm", 1000}}}};
  const ReadResult result = read_site(write_json(site), "x");
  ASSERT_EQ(result.messages.size(), 1U) << all_of(result.messages);
  EXPECT_EQ(result.messages.front().code, "site_doubled_chain");
}

TEST(Ids, OneThatCannotBeGivesOneMessageAndNoneOfWhatFollowsFromIt) {
  for (const char* id : {"none", "", "Back door"}) {
    Json site = small_site_json();
    site["zones"][id] = {{"number", 9}, {"medium", "wireless"}};
    const ReadResult result = read_site(write_json(site), "x");
    EXPECT_FALSE(result.site) << id;
    EXPECT_EQ(result.messages.size(), 1U) << all_of(result.messages);
  }
  Json site = small_site_json();
  site["zones"][""] = {{"number", 9}, {"nmae", "x"}};
  EXPECT_EQ(read_site(write_json(site), "x").messages.size(), 2U) << "what is wrong inside is told too";
}

TEST(Windows, OfOtherMeaningMayTouchAndNotOverlap) {
  const auto with_window = [](const char* low, const char* means) {
    Json site = small_site_json();
    site["parts"]["terminal"]["zone_terminal"]["windows"]["next"] = {
        {"means", means}, {"min_V", Json::parse(low)}, {"max_V", "none"}};
    return read_site(write_json(site), "x");
  };
  EXPECT_TRUE(with_window("3", "alarm").site) << "the other ends there";
  EXPECT_TRUE(with_window("2", "secure").site) << "the same meaning";
  const ReadResult overlap = with_window("2.9", "alarm");
  ASSERT_EQ(overlap.messages.size(), 1U) << all_of(overlap.messages);
  EXPECT_EQ(overlap.messages.front().code, "site_windows_overlap");
  EXPECT_THAT(full_text(overlap.messages.front()), HasSubstr("\"next\" (alarm) and \"rest\" (secure)"));
}

TEST(Copies, APartThatIsNoLongerTheShelfsIsNamed) {
  Json site = small_site_json();
  site["parts"]["panel_8"] = shelf_copy("panel_8");
  EXPECT_TRUE(read_site(write_json(site), "x").messages.empty());
  site["parts"]["panel_8"]["panel"]["inputs"] = 9;
  const ReadResult changed = read_site(write_json(site), "x");
  EXPECT_TRUE(changed.site);
  ASSERT_EQ(changed.messages.size(), 1U) << all_of(changed.messages);
  EXPECT_EQ(changed.messages.front().code, "site_part_changed");
  EXPECT_EQ(changed.messages.front().place.pointer, "/parts/panel_8");
}

TEST(OwnParts, BesideASiteOfAnotherEndingAreNotedAsNotRead) {
  const std::string folder = testing::TempDir();
  const std::string parts = R"({"format": "zoneproof-parts", "version": 3, "parts": {}})";
  ASSERT_FALSE(save_file(folder + "brook.parts.json", parts));
  ASSERT_FALSE(save_file(folder + "brook.json", std::string(kSmallSite)));
  ASSERT_FALSE(save_file(folder + "brook.site.json", std::string(kSmallSite)));
  EXPECT_TRUE(load_site(folder + "brook.site.json").messages.empty());
  const ReadResult other = load_site(folder + "brook.json");
  EXPECT_TRUE(other.site);
  ASSERT_EQ(other.messages.size(), 1U) << all_of(other.messages);
  EXPECT_EQ(other.messages.front().code, "site_parts_not_read");
}

TEST(OwnParts, AFaultyOneIsToldOnce) {
  const std::string parts = R"({"format": "zoneproof-parts", "version": 3, "parts": {
      "mine": {"kind": "detector", "detector": {"supply_min_V": 15, "supply_max_V": 9}}}})";
  const ReadResult result = read_site_with_parts(with("/detectors/eye/part", "mine"), "x", parts, "x.parts.json");
  ASSERT_EQ(result.messages.size(), 1U) << all_of(result.messages);
  EXPECT_EQ(result.messages.front().place.file, "x.parts.json");
}

TEST(OwnParts, AddToThoseOfTheSite) {
  const std::string text = with("/detectors/eye/part", "my_pir");
  EXPECT_FALSE(read_site(text, "x").site.has_value());
  const std::string parts = R"({"format": "zoneproof-parts", "version": 3, "origin": "data_sheet", "parts": {
      "my_pir": {"kind": "detector", "detector": {"current_A": 0.01, "contacts": {"alarm": {}}}}}})";
  const ReadResult result = read_site_with_parts(text, "x", parts, "x.parts.json");
  ASSERT_TRUE(result.site.has_value()) << all_of(result.messages);
  EXPECT_EQ(result.site->parts.at("my_pir").detector->current_A.origin, Origin::data_sheet);
  // Written, the site holds them, and their numbers mean the same.
  const ReadResult again = read_site(write_site(*result.site), "x");
  ASSERT_TRUE(again.site.has_value());
  EXPECT_EQ(again.site->parts.at("my_pir").detector->current_A.origin, Origin::data_sheet);
  EXPECT_TRUE(read_site_with_parts(write_site(*result.site), "x", parts, "x.parts.json").site.has_value())
      << "the same part in both is no clash";
}

TEST(OwnParts, TheSameIdWithOtherContentIsAnError) {
  const std::string parts = R"({"format": "zoneproof-parts", "version": 3, "parts": {
      "pir": {"kind": "detector", "detector": {"current_A": 0.01}}}})";
  const ReadResult result = read_site_with_parts(kSmallSite, "x", parts, "x.parts.json");
  EXPECT_FALSE(result.site.has_value());
  ASSERT_EQ(result.messages.size(), 1U) << all_of(result.messages);
  EXPECT_EQ(result.messages.front().code, "site_own_part_clash");
}

TEST(OwnParts, AFaultInThemIsToldAtItsPlaceInTheirFile) {
  const std::string parts = R"({"format": "zoneproof-parts", "version": 3, "parts": {
      "mine": {"kind": "detector", "detector": {"current_A": "10 mA"}}}})";
  const ReadResult result = read_site_with_parts(with("/detectors/eye/part", "other"), "x", parts, "x.parts.json");
  EXPECT_FALSE(result.site.has_value());
  ASSERT_EQ(result.messages.size(), 1U) << all_of(result.messages);
  EXPECT_EQ(result.messages.front().place.file, "x.parts.json");
  EXPECT_EQ(result.messages.front().place.line, 2);
}

}  // namespace
}  // namespace zoneproof::site
