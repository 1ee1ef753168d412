#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run.hpp"
#include "cli/workshop.hpp"
#include "site/file.hpp"

namespace zoneproof::cli {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

std::string site_path() {
  static const std::string path = file_with("workshop.site.json", workshop());
  return path;
}

std::string demo_path() { return std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/tern-hollow.site.json"; }

json results_of(const Outcome& outcome) {
  const json parsed = json::parse(outcome.out, nullptr, false);
  EXPECT_FALSE(parsed.is_discarded()) << outcome.out << outcome.err;
  return parsed;
}

TEST(Program, WithoutArgumentsListsItsCommands) {
  const Outcome outcome = run_line("");
  EXPECT_EQ(outcome.exit_code, 2) << "nothing was done";
  EXPECT_EQ(run_line("--help").exit_code, 0);
  for (const char* command :
       {"check", "prove", "levels", "supply", "terminal", "netlist", "draft", "parts", "rules", "schema"}) {
    EXPECT_THAT(outcome.out, HasSubstr(command));
  }
}

TEST(Program, HelpOfEveryCommandHasAnExampleWithinTheScreen) {
  for (const char* command :
       {"check", "prove", "levels", "supply", "terminal", "netlist", "draft", "parts", "rules", "schema"}) {
    const Outcome outcome = run_line(std::string(command) + " --help");
    EXPECT_EQ(outcome.exit_code, 0) << command;
    EXPECT_THAT(outcome.out, HasSubstr(std::string("zoneproof ") + command)) << command;
    EXPECT_LE(widest_line(outcome.out), 100U) << command;
  }
}

TEST(Program, BadCommandLinesAreToldWithTheRemedyAndExitTwo) {
  for (const char* line : {"prov x", "prove", "prove a b", "prove x --zone", "prove x --frobnicate",
                           "prove x --links loop,sight", "schema nonsense", "schema --field zones",
                           "schema --field /zones/x/colour", "parts spoon", "parts --id no_such", "rules no_such"}) {
    const Outcome outcome = run_line(line);
    EXPECT_EQ(outcome.exit_code, 2) << line;
    EXPECT_EQ(outcome.out, "") << line;
    EXPECT_THAT(outcome.err, HasSubstr(".")) << line;
    EXPECT_THAT(outcome.err, Not(HasSubstr("TEXT"))) << line << ": words of the parser's library";
  }
}

TEST(Program, SlipsOfTheCommandLineAreToldAsWhatTheyAre) {
  const std::string site = site_path();
  EXPECT_THAT(run_line("--json").err, HasSubstr("Name a command first"));
  EXPECT_THAT(run_line("prove " + site + " --links loop, trigger").err,
              HasSubstr("Write --links loop,trigger, without blanks."));
  EXPECT_THAT(run_line("prove " + site + " --links loop ,trigger").err, HasSubstr("without blanks"));
  EXPECT_THAT(run_line("schema parts --field /x").err, HasSubstr("zoneproof schema parts --field /"));
  std::ostringstream out, err;
  EXPECT_EQ(run({"prove", ""}, out, err, Terminal{}), 2);
  EXPECT_THAT(err.str(), HasSubstr("Write the name of the file."));
  EXPECT_THAT(err.str(), Not(HasSubstr("leave")));
}

TEST(Prove, TellsCornersInWordsAndEachOnce) {
  const std::string out = run_line("prove " + demo_path() + " --links loop,trigger,deliver --all").out;
  EXPECT_THAT(out, HasSubstr("made by"));
  EXPECT_THAT(out, Not(HasSubstr("Part "))) << "parts have names";
  for (const char* raw : {"_ohm", "_V ", "source_V", "cutoff_V", "battery_cutoff/"}) {
    EXPECT_THAT(out, Not(HasSubstr(raw))) << raw;
  }
}

TEST(Levels, SuppliesApartAreAskedForOfTwoSuppliesOnly) {
  const Outcome one = run_line("levels " + site_path() + " --condition supplies_apart");
  EXPECT_EQ(one.exit_code, 2);
  EXPECT_THAT(one.err, HasSubstr("supplies of this site: 1"));
  EXPECT_EQ(run_line("levels " + demo_path() + " --condition supplies_apart --zone 1").exit_code, 0);
}

TEST(Parts, OfOneKindAreListedWithoutWhatTheyShare) {
  const std::string out = run_line("parts unit").out;
  EXPECT_THAT(out, Not(HasSubstr("Interface unit"))) << "all of them are";
  EXPECT_THAT(out, Not(HasSubstr("kind")));
  EXPECT_THAT(run_line("parts").out, HasSubstr("Interface unit"));
}

TEST(Program, EmptyValuesAndFlagsWithValuesAreRefusedWithOneMessage) {
  const std::string site = site_path();
  const std::vector<std::vector<std::string>> lines = {{"prove", site, "--zone", ""},
                                                       {"prove", site, "--zone="},
                                                       {"prove", site, "--links", ""},
                                                       {"parts", "--id", ""},
                                                       {"schema", "--field", ""},
                                                       {"netlist", site, "-o", ""},
                                                       {"prove", ""},
                                                       {"prove", site, "--all=3"},
                                                       {"prove", site, "--json=yes"},
                                                       {"prove", site, "--all=true"},
                                                       {"draft", "x.csv", "--replace=no"}};
  for (const std::vector<std::string>& line : lines) {
    std::ostringstream out, err;
    EXPECT_EQ(run(line, out, err, Terminal{}), 2) << line.back();
    EXPECT_EQ(out.str(), "") << line.back();
    const std::string told = err.str();
    EXPECT_EQ(std::count(told.begin(), told.end(), '\n'), 2) << "sentence and remedy: " << told;
  }
}

TEST(Program, WithoutZonesNothingIsProven) {
  const std::string path = file_with("bare.site.json", R"({"format": "zoneproof-site", "version": 3})");
  for (const std::string command : {"check ", "prove ", "supply "}) {
    const Outcome outcome = run_line(command + path);
    EXPECT_THAT(outcome.out, HasSubstr("nothing is proven")) << command;
    EXPECT_THAT(outcome.out, Not(HasSubstr("Everything"))) << command;
    EXPECT_THAT(outcome.out, Not(HasSubstr("Nothing is left"))) << command;
  }
}

TEST(Prove, ShowsAThinSupplyOfADetectorThoughCoverageIsForALaterVersion) {
  const Outcome outcome = run_line("prove " + demo_path() + " --links sense");
  EXPECT_THAT(outcome.out, testing::ContainsRegex("thin +sense"));
}

TEST(Prove, SpeaksInSentencesOfWhatIsProven) {
  const Outcome outcome = run_line("prove " + demo_path() + " --all --zone 3");
  EXPECT_THAT(outcome.out, HasSubstr("The contact reports the alarm."));
  EXPECT_THAT(outcome.out, Not(testing::ContainsRegex("(proven|thin) +[a-z]+ +[a-z]+_[a-z_]+")));
}

TEST(Shelf, APartIsPastedIntoASiteAsItIsPrinted) {
  const std::string named = R"({"format": "zoneproof-site", "version": 3, "panels": {"p": {"part": "panel_8"}}PARTS})";
  const auto with_parts = [&](const std::string& parts) {
    return std::string(named).replace(named.find("PARTS"), 5, parts);
  };
  const Outcome refused = run_line("check " + file_with("shelf.site.json", with_parts("")));
  EXPECT_EQ(refused.exit_code, 2);
  EXPECT_THAT(refused.out, HasSubstr("zoneproof parts --id panel_8 --json"));
  const auto printed = nlohmann::json::parse(run_line("parts --id panel_8 --json").out);
  const std::string parts = printed.at("results").at("parts").dump();
  const Outcome pasted = run_line("check " + file_with("pasted.site.json", with_parts(", \"parts\": " + parts)));
  EXPECT_EQ(pasted.exit_code, 0) << pasted.out << pasted.err;
}

TEST(Check, ListsWhatIsToBeFoundOut) {
  const Outcome outcome = run_line("check " + site_path());
  EXPECT_EQ(outcome.exit_code, 0) << outcome.err;
  EXPECT_THAT(outcome.out, HasSubstr("/cables/door_cable/length_m"));
  EXPECT_THAT(outcome.out, HasSubstr("Length of the run, one way."));
  EXPECT_LE(widest_line(outcome.out), 100U);
}

TEST(Check, TellsEveryProblemWithPlaceAndExitsTwo) {
  std::string text = workshop();
  text.replace(text.find("\"double_eol\""), 12, "\"double_oel\"");
  text.replace(text.find("\"loads_complete\": true"), 22, "\"loads_compleat\": true");
  const Outcome outcome = run_line("check " + file_with("faulty.site.json", text));
  EXPECT_EQ(outcome.exit_code, 2);
  EXPECT_THAT(outcome.out, HasSubstr("double_oel"));
  EXPECT_THAT(outcome.out, HasSubstr("loads_compleat"));
  EXPECT_THAT(outcome.out, testing::ContainsRegex("faulty.site.json:[0-9]+:[0-9]+"));
}

TEST(Prove, ShowsTheBoardAndTheEvidenceAndExitsOne) {
  const Outcome outcome = run_line("prove " + site_path());
  EXPECT_EQ(outcome.exit_code, 1) << outcome.err;
  EXPECT_EQ(outcome.err, "");
  EXPECT_THAT(outcome.out, HasSubstr("Shop floor"));
  EXPECT_THAT(outcome.out, HasSubstr("unanswered"));
  EXPECT_THAT(outcome.out, HasSubstr("length_m of Door cable"));
  EXPECT_THAT(outcome.out, HasSubstr("Smoke")) << "a fire zone is not there to be verified";
  EXPECT_LE(widest_line(outcome.out), 100U);
  EXPECT_EQ(outcome.out.find('\x1b'), std::string::npos);
}

TEST(Prove, IsDoneWhenTheLinksAskedForAreProven) {
  const Outcome outcome = run_line("prove " + site_path() + " --zone 1 --links loop");
  EXPECT_THAT(outcome.out, HasSubstr("Shop floor"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("Back door")));
  EXPECT_THAT(outcome.out, Not(HasSubstr("deliver")));
  const json results = results_of(run_line("prove " + site_path() + " --zone shop_floor --links loop --json"));
  const bool proven = results["results"]["all_proven"];
  EXPECT_EQ(outcome.exit_code, proven ? 0 : 1);
  EXPECT_EQ(results["results"]["chains"].size(), 1U);
  EXPECT_EQ(results["results"]["chains"][0]["links"]["loop"]["verdict"],
            proven ? "proven" : results["results"]["chains"][0]["verdict"]);
}

TEST(Prove, AnUnknownZoneIsBadInput) { EXPECT_EQ(run_line("prove " + site_path() + " --zone 77").exit_code, 2); }

TEST(Prove, ColoursVerdictsOnATerminalOnly) {
  EXPECT_NE(run_line("prove " + site_path() + " --links loop", true).out.find("\x1b["), std::string::npos);
  EXPECT_EQ(run_line("prove " + site_path() + " --links loop", true, true).out.find("\x1b["), std::string::npos);
}

TEST(Levels, NamesNodesAndExtremesOfEachState) {
  const Outcome text = run_line("levels " + site_path() + " --zone 1 --condition mains --corner");
  EXPECT_EQ(text.exit_code, 0) << text.err;
  EXPECT_THAT(text.out, HasSubstr("rest"));
  EXPECT_LE(widest_line(text.out), 100U);
  const json results = results_of(run_line("levels " + site_path() + " --zone 1 --json"));
  bool alarm_seen = false;
  for (const json& level : results["results"]["levels"]) {
    if (level["panel"].is_null() || level["panel"]["low_V"].is_null()) continue;
    EXPECT_LE(level["panel"]["low_V"], level["panel"]["nominal_V"]);
    EXPECT_LE(level["panel"]["nominal_V"], level["panel"]["high_V"]);
    EXPECT_FALSE(level["panel"]["nodes"].empty());
    // By hand: 5 V over 5.6 kohm pull-up into EOL, or EOL and alarm resistor: 2.5 V and 3.33 V.
    if (level["state"] == "rest" && level["trigger"].is_null()) {
      EXPECT_NEAR(level["panel"]["nominal_V"], 2.5, 0.03);
    }
    if (level["state"] == "alarm_alarm" && level["trigger"].is_null()) {
      EXPECT_NEAR(level["panel"]["nominal_V"], 10.0 / 3, 0.03);
      alarm_seen = true;
    }
  }
  EXPECT_TRUE(alarm_seen);
}

TEST(Levels, AnUnknownConditionIsBadInput) {
  EXPECT_EQ(run_line("levels " + site_path() + " --condition moonlight").exit_code, 2);
}

TEST(Supply, PutsNoNumberOfAGuessIntoTheResults) {
  std::ifstream file(demo_path());
  json site = json::parse(file);
  site["cables"][site["units"]["unit_house"]["feed"]["cable"].get<std::string>()]["length_m"] = nullptr;
  const std::string path = file_with("unknown_length.site.json", site.dump());
  const json results = results_of(run_line("supply " + path + " --json"));
  int of_unit = 0;
  for (const json& point : results["results"]["conditions"]) {
    for (const json& load : point["loads"]) {
      if (load["id"] != "unit_house") continue;
      EXPECT_TRUE(load["low_V"].is_null() && load["nominal_V"].is_null() && load["high_V"].is_null());
      ++of_unit;
    }
  }
  EXPECT_GT(of_unit, 0);
}

TEST(Supply, ShowsLoadsOutputsAndBattery) {
  const Outcome text = run_line("supply " + site_path());
  EXPECT_NE(text.exit_code, 2) << text.err;
  EXPECT_THAT(text.out, HasSubstr("Unit"));
  EXPECT_THAT(text.out, HasSubstr("Panel supply"));
  EXPECT_THAT(text.out, HasSubstr("Batter"));
  EXPECT_LE(widest_line(text.out), 100U);
  const json results = results_of(run_line("supply " + site_path() + " --json"));
  EXPECT_EQ(results["results"]["conditions"].size(), 5U);
}

TEST(Netlist, IsADeckOnTheScreenOrInAFile) {
  const Outcome screen = run_line("netlist " + site_path());
  EXPECT_EQ(screen.exit_code, 0) << screen.err;
  EXPECT_THAT(screen.out, HasSubstr(".end"));
  const std::string path = folder() + "/deck.cir";
  EXPECT_EQ(run_line("netlist " + site_path() + " -o " + path).exit_code, 0);
  std::ifstream file(path);
  std::stringstream text;
  text << file.rdbuf();
  EXPECT_EQ(text.str(), screen.out);
  EXPECT_EQ(run_line("netlist " + site_path() + " -o " + folder() + "/no/such/folder/deck.cir").exit_code, 2);
}

TEST(Shelf, PartsAndRulesAreShownWithTheirSources) {
  EXPECT_THAT(run_line("parts unit").out, HasSubstr("unit_8_ranges_1m"));
  EXPECT_THAT(run_line("parts --id unit_8_ranges_1m").out, HasSubstr("generic data sheet"));
  EXPECT_THAT(run_line("rules").out, HasSubstr("common_practice"));
  EXPECT_THAT(run_line("rules common_practice").out, HasSubstr("not verified"));
  for (const char* line :
       {"parts", "parts --id unit_8_ranges_1m", "rules", "rules european_intruder", "rules north_american_burglary"}) {
    EXPECT_LE(widest_line(run_line(line).out), 100U) << line;
  }
}

TEST(Schema, GivesSchemasAndHelpOnFields) {
  for (const char* format : {"site", "parts", "rulebook"}) {
    EXPECT_EQ(json::parse(run_line(std::string("schema ") + format).out).value("type", ""), "object") << format;
  }
  const Outcome help = run_line("schema --field /zones/z7/loop/eol_ohm");
  EXPECT_EQ(help.exit_code, 0);
  EXPECT_THAT(help.out, HasSubstr("The end-of-line resistor."));
  EXPECT_THAT(run_line("schema --field /").out, HasSubstr("zones"));
  EXPECT_THAT(run_line("schema --field /zones/*/loop").out, HasSubstr("arrangement"));
  EXPECT_LE(widest_line(run_line("schema --field /").out), 100U);
}

TEST(Draft, MakesASiteThatChecksAndSaysWhatIsMissing) {
  const std::string table =
      file_with("zones.csv", "number,name,type,arrangement,eol_ohm\n1,Shop,intruder,DEOL,5K6F\n2,Store,intruder,,\n");
  const std::string site = folder() + "/drafted.site.json";
  const Outcome made =
      run_line("draft " + table + " --panel panel_8 --unit unit_8_ranges_1m --rulebook common_practice -o " + site);
  ASSERT_EQ(made.exit_code, 0) << made.err;
  const Outcome checked = run_line("check " + site);
  EXPECT_EQ(checked.exit_code, 0) << checked.out;
  EXPECT_THAT(checked.out, HasSubstr("Not known"));
  EXPECT_THAT(checked.out, HasSubstr("Trigger of Zone 1 (Shop) to Video unit"));
  const Outcome proved = run_line("prove " + site);
  EXPECT_EQ(proved.exit_code, 1) << proved.err;
  EXPECT_THAT(proved.out, HasSubstr("unanswered"));
  EXPECT_THAT(proved.out, HasSubstr("missing"));
}

TEST(Draft, TakesOwnPartsFromBesideTheTableOrWhereItIsTold) {
  const std::string own = R"({"format": "zoneproof-parts", "version": 3, "parts": {
    "my_unit": {"name": "Mine", "kind": "unit", "unit": {"inputs": 3, "input": {}, "arming": {}}}}})";
  const std::string table = file_with("own_zones.csv", "number\n1\n");
  EXPECT_EQ(run_line("draft " + table + " --unit my_unit").exit_code, 2);
  const std::string elsewhere = file_with("elsewhere.parts.json", own);
  EXPECT_EQ(run_line("draft " + table + " --unit my_unit --parts " + elsewhere).exit_code, 0);
  file_with("own_zones.parts.json", own);
  EXPECT_EQ(run_line("draft " + table + " --unit my_unit").exit_code, 0);
  const std::string faulty = file_with("faulty.parts.json", "{");
  EXPECT_EQ(run_line("draft " + table + " --unit my_unit --parts " + faulty).exit_code, 2);
  EXPECT_EQ(run_line("draft " + table + " --parts " + folder() + "/nowhere.parts.json").exit_code, 2);
}

TEST(Draft, BadCellsExitTwoAndWriteNothing) {
  const std::string site = folder() + "/not_written.site.json";
  const Outcome made = run_line("draft " + file_with("bad.csv", "number,name\nx,Shop\n") + " -o " + site);
  EXPECT_EQ(made.exit_code, 2);
  EXPECT_THAT(made.err, HasSubstr("bad.csv:2:1"));
  EXPECT_FALSE(std::ifstream(site).good());
  EXPECT_EQ(run_line("draft " + file_with("ok.csv", "number\n1\n") + " --units many").exit_code, 2);
}

// Names far longer than a screen, and of wide letters: nothing leaves the screen's width.
TEST(Tables, HoldTheirWidthWithNamesOfAnyLength) {
  std::string text = workshop();
  const std::string longest(190, 'N');
  std::string wide;
  for (int i = 0; i < 60; ++i) wide += "倉";
  const auto rename = [&](const std::string& from, const std::string& to) {
    for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
      text.replace(at, from.size(), to);
  };
  rename("\"Shop floor\"", "\"" + longest + "\"");
  rename("\"Back door\"", "\"" + wide + "\"");
  rename("\"Panel supply\"", "\"" + wide + "\"");
  rename("\"Unit\"", "\"" + longest + "\"");
  const std::string path = file_with("long.site.json", text);
  for (const char* command : {"prove ", "levels ", "supply "}) {
    const Outcome outcome = run_line(command + path);
    EXPECT_NE(outcome.exit_code, 2) << outcome.err;
    EXPECT_LE(widest_line(outcome.out), 100U) << command;
  }
}

// The envelope of docs/guide/json.md; data/schema/results.schema.json is held against it by results_schema_test.py.
TEST(Json, HasItsEnvelopeAndNoNaN) {
  for (const std::string& line : {"check " + site_path(), "prove " + site_path(), "levels " + site_path() + " --zone 1",
                                  "supply " + site_path(), std::string("parts unit"), std::string("rules")}) {
    const Outcome outcome = run_line(line + " --json");
    const json results = results_of(outcome);
    EXPECT_EQ(results["format"], "zoneproof-results") << line;
    EXPECT_EQ(results["version"], 1) << line;
    EXPECT_TRUE(results["engine"].is_string()) << line;
    EXPECT_TRUE(results.contains("site_hash")) << line;
    EXPECT_EQ(results["results"]["command"], line.substr(0, line.find(' '))) << line;
    EXPECT_THAT(outcome.out, Not(HasSubstr("NaN"))) << line;
    EXPECT_EQ(outcome.err, "") << line;
  }
  const auto site = site::load_site(site_path());
  EXPECT_EQ(results_of(run_line("check " + site_path() + " --json"))["site_hash"], site::site_hash(*site.site));
}

}  // namespace
}  // namespace zoneproof::cli
