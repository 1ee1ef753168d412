#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run.hpp"
#include "cli/workshop.hpp"

namespace zoneproof::cli {
namespace {

using testing::HasSubstr;

/// Every command that reads a site refuses it: exit 2, nothing on standard output but for check, place and remedy told.
void expect_refused(const std::string& path, const std::string& said) {
  for (const char* command : {"check ", "prove ", "levels ", "supply ", "terminal ", "netlist "}) {
    const Outcome outcome = run_line(command + path);
    const std::string told = outcome.out + outcome.err;
    EXPECT_EQ(outcome.exit_code, 2) << command << path << '\n' << told;
    EXPECT_THAT(told, HasSubstr(path)) << command;
    EXPECT_THAT(told, HasSubstr(said)) << command << path;
    EXPECT_LT(told.size(), 20'000U) << "one message a cause, not a flood";
  }
}

std::string changed(const std::string& from, const std::string& to) {
  std::string text = workshop();
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

TEST(BadInput, AMissingFile) { expect_refused(folder() + "/not_there.site.json", "."); }

TEST(BadInput, AFolder) { expect_refused(folder(), "folder"); }

TEST(BadInput, AnEmptyFile) { expect_refused(file_with("empty.site.json", ""), "empty"); }

TEST(BadInput, BinaryGarbage) {
  std::string bytes;
  unsigned state = 12345;
  for (int i = 0; i < 5000; ++i) bytes += static_cast<char>((state = state * 1103515245U + 12345U) >> 16U);
  expect_refused(file_with("garbage.site.json", bytes), ":1:");
}

TEST(BadInput, AFileThatIsCutOffAnywhere) {
  const std::string whole = workshop();
  for (std::size_t part = 1; part < 8; ++part) {
    const std::string path = file_with("cut.site.json", whole.substr(0, whole.size() * part / 8));
    const Outcome outcome = run_line("check " + path);
    EXPECT_EQ(outcome.exit_code, 2) << part;
    EXPECT_THAT(outcome.out, testing::ContainsRegex("cut.site.json:[0-9]+:[0-9]+")) << part;
  }
}

TEST(BadInput, ADuplicateKey) {
  expect_refused(file_with("twice.site.json", changed("\"revision\": 1", "\"revision\": 1, \"revision\": 2")),
                 "revision");
}

TEST(BadInput, AWrongType) {
  expect_refused(file_with("type.site.json", changed("\"length_m\": 18", "\"length_m\": [18]")),
                 "/cables/eye_cable/length_m");
}

TEST(BadInput, AWrongUnit) {
  expect_refused(file_with("unit.site.json", changed("\"length_m\": 18", "\"length_ft\": 60")), "length_m");
}

TEST(BadInput, NaNIsNoNumber) {
  expect_refused(file_with("nan.site.json", changed("\"length_m\": 18", "\"length_m\": NaN")), "NaN");
}

TEST(BadInput, FeedsThatGoRoundInACircle) {
  std::string text = changed(
      "\"panels\": {",
      "\"junctions\": {\"j1\": {\"feed\": {\"from\": \"j2\"}}, \"j2\": {\"feed\": {\"from\": \"j1\"}}}, \"panels\": {");
  expect_refused(file_with("cycle.site.json", text), "j1");
}

TEST(BadInput, DeepNesting) {
  expect_refused(file_with("deep.site.json", std::string(100'000, '[')), ":1:");
  std::string deep;
  for (int i = 0; i < 50'000; ++i) deep += "{\"a\":";
  expect_refused(file_with("deep_object.site.json", deep), ":1:");
}

TEST(BadInput, AMillionZones) {
  std::string text = R"({"format": "zoneproof-site", "version": 3, "zones": {)";
  for (int i = 0; i < 1'000'000; ++i) text += (i == 0 ? "\"z" : ",\"z") + std::to_string(i) + "\":{}";
  const Outcome outcome = run_line("check " + file_with("million.site.json", text + "}}"));
  EXPECT_EQ(outcome.exit_code, 2);
  EXPECT_THAT(outcome.out, HasSubstr("1000000"));
  EXPECT_LT(outcome.out.size(), 2'000U);
}

TEST(BadInput, HostileNamesNeitherMoveTheCursorNorTurnTheReadingDirection) {
  const std::string path = file_with("hostile.site.json", changed("\"Shop floor\"", "\"a\\u001b[2J\\u202egnorw\""));
  for (const char* command : {"check ", "prove "}) {
    const Outcome outcome = run_line(command + path);
    EXPECT_EQ(outcome.exit_code, 2);
    EXPECT_EQ((outcome.out + outcome.err).find('\x1b'), std::string::npos);
    EXPECT_EQ((outcome.out + outcome.err).find("\xE2\x80\xAE"), std::string::npos);
  }
  const Outcome argument = run_line(std::string("prove \x1b[2Jx"));
  EXPECT_EQ(argument.exit_code, 2);
  EXPECT_EQ(argument.err.find('\x1b'), std::string::npos);
}

/// Workshop's unit has fewer than 99 inputs: every command refuses to send anybody there.
TEST(BadInput, AnInputThatTheUnitDoesNotHave) {
  nlohmann::ordered_json site = nlohmann::ordered_json::parse(workshop());
  site["triggers"].begin().value()["input"] = 99;
  expect_refused(file_with("input.site.json", site.dump(1)), "has no input 99");
}

TEST(BadInput, AnOptionWithoutItsValueAndOneGivenTwice) {
  const std::string path = file_with("whole.site.json", workshop());
  for (const std::string& line :
       {"handover " + path + " -o", "prove " + path + " --zone", std::string("check --language")}) {
    const Outcome outcome = run_line(line);
    EXPECT_EQ(outcome.exit_code, 2) << line;
    EXPECT_THAT(outcome.err, HasSubstr("is given without a value")) << line;
    EXPECT_THAT(outcome.err, HasSubstr("Write the value behind it")) << line;
  }
  const Outcome twice = run_line("prove " + path + " --zone 1 --zone 2");
  EXPECT_EQ(twice.exit_code, 2);
  EXPECT_THAT(twice.err, HasSubstr("--zone is given more than once"));
}

/// What check says of the file and of the zones stands side by side: the one does not deny the other.
TEST(Check, DoesNotCallASiteWithBrokenZonesFreeOfProblems) {
  const Outcome outcome = run_line("check " + std::string(ZONEPROOF_SOURCE_DIR) + "/data/demo/kiln-yard.site.json");
  EXPECT_EQ(outcome.exit_code, 0);
  EXPECT_THAT(outcome.out, HasSubstr("the file itself is in order"));
  EXPECT_THAT(outcome.out, testing::Not(HasSubstr("no problems")));
}

TEST(BadInput, IsAlsoToldAsJson) {
  const Outcome outcome = run_line("prove " + folder() + "/not_there.site.json --json");
  EXPECT_EQ(outcome.exit_code, 2);
  EXPECT_EQ(outcome.err, "");
  const auto results = nlohmann::json::parse(outcome.out);
  EXPECT_EQ(results["results"]["command"], "prove");
  EXPECT_EQ(results["results"]["problems"].size(), 1U);
  EXPECT_TRUE(results["site_hash"].is_null());
}

TEST(OwnFault, OutputThatCannotBeWrittenIsNoSuccess) {
  std::ofstream full("/dev/full");
  if (!full) GTEST_SKIP() << "no /dev/full here";
  std::ostringstream err;
  EXPECT_EQ(run({"rules", "common_practice"}, full, err, {}), 3);
  EXPECT_THAT(err.str(), HasSubstr("could not be written"));
}

}  // namespace
}  // namespace zoneproof::cli
