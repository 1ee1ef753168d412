#include "site/draft.hpp"

#include <gtest/gtest.h>

#include "site/file.hpp"
#include "site/made_id.hpp"
#include "site/shelf.hpp"
#include "site/words.hpp"

namespace zoneproof::site {
namespace {

DraftRequest with_parts() {
  DraftRequest request;
  request.name = "Test";
  request.panel = "panel_8";
  request.zone_terminal = "terminal_5v_double_5k6_pu5k6";
  request.unit = "unit_2_threshold_pullup";
  request.supply = "boxed_supply_1a";
  request.rulebook = "common_practice";
  return request;
}

std::vector<std::string> codes_of(const DraftResult& result) {
  std::vector<std::string> codes;
  for (const Message& message : result.messages) codes.push_back(message.code);
  return codes;
}

TEST(Draft, MakesZonesDetectorsCablesAndTriggers) {
  const DraftResult result = draft_site(
      "number,name,type,arrangement,eol_ohm,alarm_ohm,tolerance_pct,detector,cable,cable_m,input,trigger,area\n"
      "1,Shop,intruder,DEOL,5k6,5600,1,pir_wide_12m,alarm_4x0_22,18,1,loop_tap,Ground floor\n",
      "zones.csv", with_parts());
  ASSERT_TRUE(result.site) << full_text(result.messages.front());
  const Site& site = *result.site;
  const Zone& zone = site.zones.at("shop");
  EXPECT_EQ(zone.number.value, 1);
  EXPECT_TRUE(zone.type.is(ZoneType::intruder));
  EXPECT_TRUE(zone.medium.is(Medium::wired));
  EXPECT_TRUE(zone.loop.arrangement.is(Arrangement::double_eol));
  EXPECT_DOUBLE_EQ(zone.loop.eol_ohm.nominal, 5600);
  EXPECT_DOUBLE_EQ(zone.loop.eol_ohm.low, 5544);
  EXPECT_EQ(zone.loop.contacts.size(), 2U) << "alarm and tamper, as a double end-of-line loop has them";
  EXPECT_EQ(site.cables.at("shop_cable").length_m.nominal, 18);
  EXPECT_EQ(site.areas.at("ground_floor").name, "Ground floor");
  const Trigger& trigger = site.triggers.at("shop_trigger");
  EXPECT_EQ(trigger.input.value, 1);
  EXPECT_EQ(trigger.channel.value, 1) << "this unit binds its channels";
  EXPECT_EQ(trigger.at_panel.id, "panel");
  EXPECT_EQ(site.units.at("unit").feed.output, "out") << "the supply has one output";
  EXPECT_EQ(site.parts.at("panel_8").shelf_hash, part_for_site("panel_8")->shelf_hash);
  EXPECT_FALSE(site.parts.at("panel_8").shelf_version.empty());
}

TEST(Draft, SaysOfWhichZoneADetectorWithoutALoopIs) {
  const DraftResult result = draft_site(
      "number,name,medium,arrangement,detector\n1,Shop,wireless,,pir_wide_12m\n2,Store,wired,nc,pir_wide_12m\n",
      "zones.csv", with_parts());
  ASSERT_TRUE(result.site) << full_text(result.messages.front());
  EXPECT_EQ(result.site->detectors.at("shop_detector").zone.id, "shop");
  EXPECT_TRUE(result.site->detectors.at("store_detector").zone.unknown()) << "its loop says so";
}

/// A contact is what its part says that it reports, whatever it is called.
TEST(Draft, PutsOnThePairTheContactsThatReportWhatStandsThere) {
  const auto contact_of = [](const std::string& contacts, const char* role) -> std::string {
    DraftRequest request = with_parts();
    const PartsResult read = read_parts(R"({"format": "zoneproof-parts", "version": 3, "origin": "measured", "parts": {
      "my_pir": {"kind": "detector", "detector": {"contacts": )" +
                                            contacts + "}}}}",
                                        "own.parts.json");
    EXPECT_TRUE(read.messages.empty()) << full_text(read.messages.front());
    request.own_parts = read.parts;
    const DraftResult result = draft_site("number,detector,arrangement\n1,my_pir,deol\n", "z.csv", request);
    for (const auto& [id, entry] : result.site.value().zones.at("zone_1").loop.contacts) {
      if (word_of(*entry.role.value) == role) return entry.contact;
    }
    return "";
  };
  EXPECT_EQ(contact_of(R"({"out": {"reports": "alarm"}, "lid": {"reports": "tamper"}})", "alarm"), "out");
  EXPECT_EQ(contact_of(R"({"out": {"reports": "alarm"}, "lid": {"reports": "tamper"}})", "tamper"), "lid");
  EXPECT_EQ(contact_of(R"({"alarm": {"reports": "alarm"}, "spare": {"reports": "alarm"}})", "alarm"), "alarm");
  EXPECT_EQ(contact_of(R"({"out1": {"reports": "alarm"}, "out2": {"reports": "alarm"}})", "alarm"), "") << "either";
  EXPECT_EQ(contact_of(R"({"alarm": {"reports": "fault"}})", "alarm"), "") << "its name is wrong";
  EXPECT_EQ(contact_of(R"({"alarm": {}})", "alarm"), "alarm") << "what it reports is asked for then";
}

TEST(Draft, WhatNobodySaysStaysUnknown) {
  const DraftResult result = draft_site("name\nShop\nStore\n", "zones.csv", {});
  ASSERT_TRUE(result.site);
  const Zone& zone = result.site->zones.at("shop");
  EXPECT_FALSE(zone.number.known());
  EXPECT_FALSE(zone.type.known());
  EXPECT_FALSE(zone.medium.known());
  EXPECT_FALSE(zone.input.known());
  EXPECT_FALSE(zone.loop.arrangement.known());
  EXPECT_TRUE(zone.loop.eol_ohm.unknown());
  EXPECT_TRUE(zone.loop.cable.unknown());
  EXPECT_FALSE(zone.loop.contacts_complete.known());
  EXPECT_TRUE(result.site->triggers.empty());
  EXPECT_TRUE(result.site->panels.at("panel").part.unknown());
  EXPECT_FALSE(result.site->bonds_complete.known());
}

TEST(Draft, EveryBadCellIsToldAtOnceWithItsPlace) {
  const DraftResult result = draft_site(
      "number;name;type;eol_ohm;cable_m;detector\n"
      "one;Shop;intruder;5600;12,5;pir_wide_12m\n"
      "2;Store;burglar;5X6;long;pir_wide_12\n"
      "3;Yard;;;;panel_8\n",
      "zones.csv", with_parts());
  EXPECT_FALSE(result.site);
  ASSERT_EQ(codes_of(result),
            (std::vector<std::string>{"draft_not_whole", "draft_word", "draft_not_a_resistor", "draft_not_a_number",
                                      "draft_no_part_near", "draft_part_kind"}));
  EXPECT_EQ(result.messages[0].place.line, 2);
  EXPECT_EQ(result.messages[0].place.column, 1);
  EXPECT_EQ(result.messages[1].place.line, 3);
  EXPECT_EQ(result.messages[1].place.column, 9);
  EXPECT_EQ(result.messages[5].place.line, 4);
}

TEST(Draft, DecimalCommasOfSemicolonFilesAreRead) {
  const DraftResult result =
      draft_site("name;cable_m;eol_ohm;arrangement\nShop;12,5;\"4,7k\";single_eol_closed\n", "z.csv", {});
  ASSERT_TRUE(result.site);
  EXPECT_EQ(result.site->cables.at("shop_cable").length_m.nominal, 12.5);
  EXPECT_EQ(result.site->zones.at("shop").loop.eol_ohm.nominal, 4700);
}

TEST(Draft, WhatTheFinishedSiteRefusesIsToldAtItsCell) {
  const DraftResult result = draft_site("number,name,arrangement,eol_ohm\n1,Shop,normally_closed,5600\n", "z.csv", {});
  EXPECT_FALSE(result.site);
  const auto found = std::find_if(result.messages.begin(), result.messages.end(),
                                  [](const Message& message) { return message.code == "site_contradiction"; });
  ASSERT_NE(found, result.messages.end());
  EXPECT_EQ(found->place.line, 2);
  EXPECT_EQ(found->place.column, 24);
}

/// What is said of a draft, with its remedies.
std::string told(const char* table, const DraftRequest& request) {
  std::string all;
  for (const Message& message : draft_site(table, "z.csv", request).messages) all += full_text(message) + '\n';
  return all;
}

TEST(Draft, WhatTheFinishedSiteRefusesIsCalledAsTheTableCallsIt) {
  const std::string resistor = told("number,name,arrangement,eol_ohm,tolerance_pct\n1,Shop,deol,-5,1\n", {});
  EXPECT_NE(resistor.find("z.csv:2:13: eol_ohm is -5 ohm"), std::string::npos) << resistor;
  const std::string input = told("number,name,unit_input\n1,Shop,0\n", {});
  EXPECT_NE(input.find("z.csv:2:8: unit_input is 0"), std::string::npos) << input;
  const std::string loop = told("number,name,medium,arrangement\n1,Shop,wireless,deol\n", {});
  EXPECT_NE(loop.find("z.csv:2:17: arrangement is given, but medium is wireless"), std::string::npos) << loop;
  EXPECT_NE(loop.find("Remove arrangement"), std::string::npos) << loop;
}

TEST(Draft, BelowAHeaderThatIsNoneNothingIsTold) {
  std::string table = "this is,no header\n";
  for (int i = 0; i < 50; ++i) table += "a \"quotation\",in \"every\" line\n";
  const DraftResult result = draft_site(table, "z.csv", {});
  ASSERT_FALSE(result.messages.empty());
  for (const Message& message : result.messages) EXPECT_EQ(message.place.line, 1) << full_text(message);
}

TEST(Draft, EverythingItMakesHasANameForPeople) {
  DraftRequest request = with_parts();
  request.units = 2;
  const DraftResult result =
      draft_site("number,name,detector,cable_m\n1,Shop,pir_wide_12m,5\n2,,,7\n", "z.csv", request);
  ASSERT_TRUE(result.site);
  const Site& site = *result.site;
  EXPECT_EQ(site.panels.at("panel").name, "Panel");
  EXPECT_EQ(site.units.at("unit_1").name, "Video unit");
  EXPECT_EQ(site.units.at("unit_2").name, "Video unit 2");
  EXPECT_EQ(site.detectors.at("shop_detector").name, "Detector of Shop");
  EXPECT_EQ(site.cables.at("shop_cable").name, "Cable of Shop");
  EXPECT_EQ(site.cables.at("zone_2_cable").name, "Cable of zone 2");
  // A zone may have a name that leaves no room for "Detector of": then the id must do.
  const std::string longest(200, 'n');
  const DraftResult tight = draft_site("name,detector\n" + longest + ",pir_wide_12m\n", "z.csv", with_parts());
  ASSERT_TRUE(tight.site);
  EXPECT_EQ(tight.site->detectors.begin()->second.name, "");
}

TEST(Draft, HeadersAreReadInAnyOrderAndFaultsInThemTold) {
  EXPECT_TRUE(draft_site("Zone Name,No\nShop,1\n", "z.csv", {}).site);
  EXPECT_EQ(codes_of(draft_site("name,nam\nShop,1\n", "z.csv", {})), std::vector<std::string>{"draft_column_near"});
  EXPECT_EQ(codes_of(draft_site("name,name\nShop,1\n", "z.csv", {})), std::vector<std::string>{"draft_column_twice"});
  EXPECT_EQ(codes_of(draft_site("type\nintruder\n", "z.csv", {})), std::vector<std::string>{"draft_no_zone_column"});
  EXPECT_EQ(codes_of(draft_site("", "z.csv", {})), std::vector<std::string>{"draft_no_rows"});
  EXPECT_EQ(codes_of(draft_site("number\n1\n1\n", "z.csv", {})), std::vector<std::string>{"draft_number_twice"});
}

TEST(Draft, ZonesBeyondTheInputsAreNamed) {
  DraftRequest request = with_parts();
  const char* table = "number,name\n1,A a\n2,B b\n3,C c\n4,D d\n5,E e\n";
  DraftResult result = draft_site(table, "z.csv", request);
  ASSERT_TRUE(result.site);
  EXPECT_EQ(result.site->triggers.size(), 2U);
  EXPECT_EQ(codes_of(result), std::vector<std::string>{"draft_no_room"});
  request.units = 3;
  result = draft_site(table, "z.csv", request);
  ASSERT_TRUE(result.site);
  EXPECT_EQ(result.site->triggers.size(), 5U);
  EXPECT_EQ(result.site->triggers.at("e_e_trigger").unit.id, "unit_3");
  EXPECT_TRUE(codes_of(result).empty());
}

TEST(Draft, FireAndHoldUpZonesGetNoWire) {
  const DraftResult result =
      draft_site("name,type\nSmoke,fire\nButton,hold_up\nShop,intruder\n", "z.csv", with_parts());
  ASSERT_TRUE(result.site);
  ASSERT_EQ(result.site->triggers.size(), 1U);
  EXPECT_EQ(result.site->triggers.begin()->second.zone.id, "shop");
}

TEST(Draft, ResistorsWithoutToleranceAreCounted) {
  const DraftResult result =
      draft_site("name,arrangement,eol_ohm\nShop,single_eol_closed,5600\nYard,single_eol_closed,5K6J\n", "z.csv", {});
  ASSERT_TRUE(result.site);
  EXPECT_EQ(codes_of(result), std::vector<std::string>{"draft_no_tolerance"});
}

TEST(Draft, IsTheSameEachTimeAndSurvivesWriting) {
  const char* table = "number,name\n1,Büro\n2,Büro\n3,倉庫\n4,12th floor\n5,None\n";
  const DraftResult first = draft_site(table, "z.csv", with_parts()), second = draft_site(table, "z.csv", with_parts());
  ASSERT_TRUE(first.site && second.site);
  EXPECT_EQ(write_site(*first.site), write_site(*second.site));
  const ReadResult again = read_site(write_site(*first.site), "z");
  ASSERT_TRUE(again.site);
  EXPECT_TRUE(same_site(*again.site, *first.site));
  for (const char* id : {"buro", "buro_2", "item", "n12th_floor", "item_2"})
    EXPECT_EQ(first.site->zones.count(id), 1U) << id;
}

/// A person's own file: a unit of three inputs that is on no shelf, and a panel that goes by a name of the shelf.
Map<Part> own_parts() {
  const PartsResult read = read_parts(R"({"format": "zoneproof-parts", "version": 3, "origin": "measured", "parts": {
    "my_unit": {"name": "Unit of three inputs", "kind": "unit",
      "unit": {"inputs": 3, "channels": 3, "channel_binding": "fixed", "input": {}, "arming": {}}},
    "panel_8": {"name": "Panel as found", "kind": "panel", "panel": {"inputs": 8}},
    "my_pir": {"name": "Detector as found", "kind": "detector", "detector": {"contacts": {"alarm": {"kind": "relay"}}}}}})",
                                      "own.parts.json");
  EXPECT_TRUE(read.messages.empty()) << full_text(read.messages.front());
  return read.parts;
}

TEST(Draft, TakesAPersonsOwnPartsAndPutsThemBeforeTheShelf) {
  DraftRequest request = with_parts();
  request.own_parts = own_parts();
  request.unit = "my_unit";
  const DraftResult result = draft_site("number,detector,arrangement\n1,my_pir,nc\n", "z.csv", request);
  ASSERT_TRUE(result.site) << full_text(result.messages.front());
  EXPECT_EQ(result.site->triggers.begin()->second.channel.value, 1) << "as the own part binds it";
  EXPECT_EQ(result.site->zones.at("zone_1").loop.contacts.count("alarm"), 1U);
  EXPECT_EQ(result.site->parts.at("panel_8").name, "Panel as found");
  EXPECT_TRUE(result.site->parts.at("panel_8").shelf_hash.empty()) << "it is not the shelf's";
  EXPECT_EQ(result.site->parts.at("my_unit").origin, Origin::measured) << "what the file says of all of them";
  EXPECT_EQ(result.site->parts.count("terminal_5v_double_5k6_pu5k6"), 1U) << "the shelf is still there";
}

TEST(Draft, AnOwnPartOfTheWrongKindOrMisspeltIsRefused) {
  DraftRequest request = with_parts();
  request.own_parts = own_parts();
  request.unit = "my_pir";
  EXPECT_EQ(codes_of(draft_site("number\n1\n", "z.csv", request)), std::vector<std::string>{"draft_part_kind"});
  request.unit = "my_unti";
  const DraftResult misspelt = draft_site("number\n1\n", "z.csv", request);
  ASSERT_EQ(codes_of(misspelt), std::vector<std::string>{"draft_no_part_near"});
  EXPECT_NE(full_text(misspelt.messages.front()).find("Write my_unit"), std::string::npos);
}

TEST(Draft, AGradeIsOneOfTheRulebook) {
  struct Case {
    const char* rulebook;
    std::optional<long long> grade;
    std::vector<std::string> codes;
    bool made;
  };
  const Case cases[] = {{"european_intruder", 2, {}, true},
                        {"european_intruder", 4, {}, true},
                        {"european_intruder", 5, {"draft_grade_unknown"}, false},
                        {"european_intruder", {}, {"draft_grade_open"}, true},
                        {"common_practice", {}, {}, true},
                        {"common_practice", 2, {"draft_no_grades"}, false},
                        {"", 2, {"draft_grade_alone"}, false},
                        {"", {}, {}, true}};
  for (const Case& one : cases) {
    DraftRequest request;
    request.rulebook = one.rulebook;
    request.grade = one.grade;
    const DraftResult result = draft_site("number\n1\n", "z.csv", request);
    EXPECT_EQ(codes_of(result), one.codes) << one.rulebook << " " << one.grade.value_or(0);
    EXPECT_EQ(result.site.has_value(), one.made) << one.rulebook << " " << one.grade.value_or(0);
  }
}

TEST(Draft, TenThousandEqualNamesAreNoWork) {
  std::string table = "name\n";
  for (int i = 0; i < 10'000; ++i) table += "Shop\n";
  const DraftResult result = draft_site(table, "z.csv", with_parts());
  ASSERT_TRUE(result.site);
  EXPECT_EQ(result.site->zones.size(), 10'000U);
}

TEST(Draft, RefusesATapOnAFireOrHoldUpCircuit) {
  const DraftResult result = draft_site(
      "number,type,trigger\n1,fire,loop_tap\n2,intruder,loop_tap\n3,hold_up,loop_tap\n4,hold_up,following_output\n",
      "t.csv", with_parts());
  EXPECT_FALSE(result.site);
  EXPECT_EQ(codes_of(result), (std::vector<std::string>{"draft_never_tap", "draft_never_tap"}));
  EXPECT_EQ(result.messages.front().place.line, 2);
  EXPECT_EQ(result.messages.front().place.column, 8);
  EXPECT_EQ(result.messages.back().place.line, 4);
}

TEST(Draft, KeepsWhatARowSaysOfATriggerWithoutAUnit) {
  DraftRequest request = with_parts();
  request.unit.clear();
  const DraftResult result =
      draft_site("number,trigger,unit_input,channel\n1,loop_tap,2,\n2,,,3\n3,,,\n", "t.csv", request);
  ASSERT_TRUE(result.site);
  ASSERT_EQ(result.site->triggers.size(), 2U);
  const Trigger& first = result.site->triggers.at("zone_1_trigger");
  EXPECT_TRUE(first.source.is(TriggerSource::loop_tap));
  EXPECT_EQ(first.input.value, 2);
  EXPECT_TRUE(first.unit.unknown());
  EXPECT_EQ(result.site->triggers.at("zone_2_trigger").channel.value, 3);
}

TEST(Draft, AnInputBeyondTheUnitIsRefusedAndOneOfSeveralUnitsIsSaid) {
  const std::string table = "number,unit_input\n1,3\n2,1\n";
  const DraftResult beyond = draft_site(table, "t.csv", with_parts());  // the unit has two inputs
  EXPECT_FALSE(beyond.site);
  EXPECT_EQ(beyond.messages.back().code, "draft_no_such_input");
  EXPECT_EQ(beyond.messages.back().place.line, 2);
  EXPECT_EQ(beyond.messages.back().place.column, 3);
  DraftRequest several = with_parts();
  several.units = 2;
  const DraftResult open = draft_site("number,unit_input\n2,1\n", "t.csv", several);
  ASSERT_TRUE(open.site);
  EXPECT_EQ(open.messages.back().code, "draft_input_of_which_unit");
  EXPECT_EQ(open.site->triggers.at("zone_2_trigger").input.value, 1);
  EXPECT_TRUE(open.site->triggers.at("zone_2_trigger").unit.unknown());
}

/// What a check of the finished site would say, at the row of the table and once for each mistake.
TEST(Draft, InputsThatAreNotThereOrGivenTwiceAreToldAtTheirRow) {
  struct Case {
    const char *table, *code;
    int line, column;
    bool made;
  };
  for (const Case& one :  // the panel has eight inputs, the unit two
       {Case{"number,arrangement,input,trigger\n1,nc,1,\n2,nc,99,loop_tap\n", "site_no_such_panel_input", 3, 6, false},
        Case{"number,arrangement,input\n1,nc,1\n2,nc,1\n", "site_zone_input_twice", 3, 6, false},
        Case{"number,input\n1,1\n2,99\n", "site_panel_input_doubtful", 3, 3, true},
        Case{"number,input\n1,1\n2,1\n", "site_zone_input_doubtful", 3, 3, true},
        Case{"number,unit_input\n1,1\n2,1\n", "site_unit_input_twice", 3, 3, true},
        Case{"number,channel,unit_input\n1,3,2\n", "site_no_such_channel", 2, 3, false},
        Case{"number,name\n1,Shop\n2,Shop\n", "site_zone_name_twice", 3, 3, true}}) {
    const DraftResult result = draft_site(one.table, "z.csv", with_parts());
    std::vector<Message> told;
    for (const Message& message : result.messages) {
      if (message.code.rfind("site_", 0) == 0) told.push_back(message);
    }
    ASSERT_EQ(told.size(), 1U) << one.table;
    EXPECT_EQ(told.front().code, one.code);
    EXPECT_EQ(told.front().place.line, one.line) << full_text(told.front());
    EXPECT_EQ(told.front().place.column, one.column) << full_text(told.front());
    EXPECT_EQ(result.site.has_value(), one.made) << full_text(told.front());
  }
}

TEST(Draft, ATriggerWithoutAWireTakesNoInputAway) {
  const DraftResult result =
      draft_site("number,trigger\n1,camera_analytics\n2,loop_tap\n3,loop_tap\n", "t.csv", with_parts());
  ASSERT_TRUE(result.site);
  EXPECT_FALSE(result.site->triggers.at("zone_1_trigger").input.known());
  EXPECT_EQ(result.site->triggers.at("zone_3_trigger").input.value, 2);
  const DraftResult wired = draft_site("number,trigger,unit_input\n1,live_view,1\n", "t.csv", with_parts());
  EXPECT_FALSE(wired.site) << "an input that no wire goes to is a contradiction";
  EXPECT_EQ(wired.messages.back().place.column, 13);
}

TEST(Draft, OptionsThatSayNothingAloneAreRefused) {
  DraftRequest request = with_parts();
  request.unit.clear();
  request.supply.clear();
  request.units = 1;
  request.battery = "battery_7ah";
  const DraftResult result = draft_site("number\n1\n", "t.csv", request);
  EXPECT_FALSE(result.site);
  EXPECT_EQ(codes_of(result), (std::vector<std::string>{"draft_option_alone", "draft_option_alone"}));
}

TEST(Draft, ALengthOfNoCableAndAToleranceOfNoResistorAreTold) {
  const DraftResult result =
      draft_site("number,cable,cable_m,tolerance_pct\n1,none,12,\n2,,,5\n", "t.csv", with_parts());
  EXPECT_FALSE(result.site);
  EXPECT_EQ(codes_of(result), (std::vector<std::string>{"draft_length_of_none", "draft_tolerance_alone"}));
}

TEST(Draft, EveryFaultOfHeaderRowsAndSiteIsToldInOneRunInTheOrderOfTheLines) {
  const DraftResult result =
      draft_site("number,colour,input,cable_m\n1,red,5\n2,,99999999,1\nx,,,2\n4,,,many\n", "t.csv", with_parts());
  EXPECT_FALSE(result.site);
  std::vector<int> lines;
  for (const Message& message : result.messages) {
    if (kind_of(message.code).severity == Severity::error) lines.push_back(message.place.line);
  }
  EXPECT_EQ(lines, (std::vector<int>{1, 2, 3, 4, 4, 5}))
      << "x is no number, and so the row has neither number nor name";
}

TEST(MadeIds, FitTheFormatHoweverLongOrStrangeTheName) {
  MadeIds ids;
  for (const std::string& name :
       {std::string(200, 'x'), std::string(200, 'x'), std::string("\xFF\xFE"), std::string("-- --")}) {
    const std::string id = ids.make(name);
    EXPECT_LE(id.size(), 40U);
    EXPECT_TRUE(id.front() >= 'a' && id.front() <= 'z');
  }
}

}  // namespace
}  // namespace zoneproof::site
