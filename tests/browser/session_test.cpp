// The session: what it is asked it answers as the command does, an edit leaves it as a fresh open would, and nothing
// that is refused changes anything.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstring>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "base/language.hpp"
#include "browser/asked.hpp"
#include "browser/door.hpp"
#include "browser/exports.hpp"
#include "results/ask.hpp"
#include "results/question_text.hpp"
#include "site/file.hpp"

namespace zoneproof::browser {
namespace {

using Json = nlohmann::ordered_json;
using testing::ElementsAre;

const std::string kiln = "data/demo/kiln-yard.site.json";
const std::string kiosk = "docs/guide/kiosk.site.json";

Json results(const std::string& answer) { return Json::parse(answer).at("results"); }

std::vector<std::string> codes(const std::string& answer) {
  std::vector<std::string> codes;
  const Json told = results(answer);
  if (!told.contains("problems")) return codes;
  for (const Json& problem : told.at("problems")) codes.push_back(problem.at("code"));
  return codes;
}

std::string text_of(Door& door, long long session) { return results(door.site(session)).at("text"); }

/// A state without text knows no lines.
void forget_lines(Json& json) {
  if (json.is_object() && json.contains("line")) json["line"] = json["column"] = 0;
  if (!json.is_structured()) return;
  for (auto& value : json) forget_lines(value);
}

void expect_the_commands_answers(const std::string& site, const std::vector<Asked>& questions) {
  const std::string path = path_of(site);
  Door door;
  const long long session = results(door.open(bytes_of(site), path)).at("session");
  for (const Asked& asked : questions) {
    const std::string command = command_says(asked.line, path);
    ASSERT_FALSE(command.empty()) << asked.question;
    EXPECT_EQ(door.ask(session, asked.question), command) << asked.question;
  }
}

TEST(Session, EveryAnswerIsByteForByteTheCommandsOwn) {
  expect_the_commands_answers(kiosk, everything_asked());
  expect_the_commands_answers("docs/guide/old-panel.site.json", everything_asked());
}

TEST(Session, AnswersInTheLanguageSpokenAlsoWhatItHasAnsweredInAnother) {
  Door door;
  const long long session = results(door.open(bytes_of(kiosk), "kiosk")).at("session");
  const std::string question = R"({"command": "prove"})", english = door.ask(session, question);
  const SpokenLanguage spoken(language_called("de").value());
  const std::string german = door.ask(session, question);
  EXPECT_THAT(german, testing::HasSubstr("Meldergruppe"));
  EXPECT_THAT(german, testing::Not(testing::HasSubstr("Zone 1 (")));
  Door fresh;
  const long long other = results(fresh.open(bytes_of(kiosk), "kiosk")).at("session");
  EXPECT_EQ(fresh.ask(other, question), german);
  const SpokenLanguage again(Language::english);
  EXPECT_EQ(door.ask(session, question), english);
}

TEST(Session, AnswersFaultsAndChancesAsTheCommandDoes) {
  expect_the_commands_answers(kiosk, {{R"({"command": "faults"})", {"faults", "SITE"}},
                                      {R"({"command": "levels", "condition": "mains", "yield": true})",
                                       {"levels", "SITE", "--condition", "mains", "--yield"}}});
}

/// The demo sites take long to ask everything; tests/webassembly asks that.
TEST(Session, AnswersForALargeSiteAsTheCommandDoes) {
  expect_the_commands_answers(
      kiln, {{R"({"command": "prove"})", {"prove", "SITE"}}, {R"({"command": "supply"})", {"supply", "SITE"}}});
}

TEST(Session, AnEditIsAnsweredAsAFreshOpenOfTheEditedFile) {
  Door door;
  const std::string opened = door.open(bytes_of(kiosk), "kiosk");
  const std::string patch = patch_on(opened, R"([
    {"op": "replace", "path": "/name", "value": "Kiosk after the visit"},
    {"op": "remove", "path": "/triggers/door_trigger"},
    {"op": "replace", "path": "/parts/panel_8/name", "value": "Panel as it is"},
    {"op": "add", "path": "/zones/door/loop/eol_ohm", "value": {"value": 4700, "tolerance_pct": 5}}])");
  const std::string applied = door.apply(1, patch);
  ASSERT_TRUE(results(applied).contains("revision")) << applied;
  EXPECT_EQ(results(applied).at("notes").size(), 1u);  // the part is no longer a copy of the shelf's
  const std::string fresh = door.open(text_of(door, 1), "kiosk");
  EXPECT_EQ(results(fresh).at("revision"), results(applied).at("revision"));
  for (const Asked& asked : everything_asked()) {
    const std::string edited = door.ask(1, asked.question), read = door.ask(2, asked.question);
    if (asked.line.front() == "schema") continue;
    Json one = Json::parse(edited), other = Json::parse(read);
    forget_lines(one);
    forget_lines(other);
    EXPECT_EQ(one, other) << asked.question;
  }
}

/// Operations of every fault of the demo sites: real edits, each of a known kind.
TEST(Session, TheUndoOfEveryDemoFaultTakesTheContentBack) {
  std::size_t tried = 0;
  for (const auto& entry : std::filesystem::directory_iterator(path_of("data/demo/faults"))) {
    const Json fault = Json::parse(bytes_of("data/demo/faults/" + entry.path().filename().string()));
    Door door;
    const std::string opened =
        door.open(bytes_of("data/demo/" + fault.at("scenario").get<std::string>() + ".site.json"), "site");
    const std::string before = text_of(door, 1);
    const std::string applied = door.apply(1, patch_on(opened, fault.at("patch").dump()));
    ASSERT_TRUE(results(applied).contains("undo")) << entry.path() << applied;
    EXPECT_NE(text_of(door, 1), before);
    const std::string undone = door.apply(1, results(applied).at("undo").dump());
    ASSERT_TRUE(results(undone).contains("revision")) << entry.path() << undone;
    Json after = Json::parse(text_of(door, 1)), first = Json::parse(before);
    EXPECT_EQ(after.at("revision").get<int>(), first.at("revision").get<int>() + 2);
    after.erase("revision");
    first.erase("revision");
    EXPECT_EQ(after, first) << entry.path();
    ++tried;
  }
  EXPECT_GT(tried, 20u);
}

TEST(Session, ARefusedPatchIsToldInFullAndChangesNothing) {
  Door door;
  const std::string opened = door.open(bytes_of(kiosk), "kiosk");
  const std::string before = text_of(door, 1), answer = door.ask(1, R"({"command": "levels"})");
  // The first operation alone would do.
  EXPECT_THAT(codes(door.apply(1, patch_on(opened, R"([{"op": "replace", "path": "/name", "value": "x"},
                                                       {"op": "remove", "path": "/zones/nowhere"}])"))),
              ElementsAre("patch_path_missing"));
  const std::string two = door.apply(1, patch_on(opened, R"([{"op": "replace", "path": "/name", "value": 5},
                                                              {"op": "add", "path": "/wings", "value": {}}])"));
  EXPECT_EQ(codes(two).size(), 2u) << two;
  const Json told = results(two);
  for (const Json& problem : told.at("problems")) EXPECT_EQ(problem.at("place").at("file"), "kiosk");
  EXPECT_EQ(codes(door.apply(1, "[")).size(), 1u);
  EXPECT_EQ(codes(door.apply(1, "")).size(), 1u);
  EXPECT_EQ(text_of(door, 1), before);
  EXPECT_EQ(door.ask(1, R"({"command": "levels"})"), answer);
  // And the patch that was made for the state before is refused once that is gone.
  const std::string rename = patch_on(opened, R"([{"op": "replace", "path": "/name", "value": "Kiosk 2"}])");
  EXPECT_TRUE(results(door.apply(1, rename)).contains("undo"));
  EXPECT_THAT(codes(door.apply(1, rename)), ElementsAre("patch_other_revision"));
}

TEST(Session, AFaultySiteOpensNothingAndTellsEveryProblem) {
  Door door;
  const std::string answer = door.open(R"({"format": "zoneproof-site", "version": 3, "revision": "x",
                                           "zones": {"Z": {}, "z": {"number": "one"}}})",
                                       "bad.site.json");
  EXPECT_GE(codes(answer).size(), 3u) << answer;
  const Json told = results(answer);
  for (const Json& problem : told.at("problems")) EXPECT_GT(problem.at("place").at("line"), 0);
  EXPECT_EQ(door.open_sessions(), 0u);
}

TEST(Session, WhatIsNoUtf8IsToldInUtf8) {  // found by tests/fuzz
  Door door;
  const std::string answer = door.open("\xFF\xFF{", "bytes");
  ASSERT_FALSE(codes(answer).empty());
  EXPECT_NE(codes(answer).front(), "own_fault") << answer;
}

TEST(Session, OwnPartsOpenASiteAsTheFileBesideItDoes) {
  Door door;
  const std::string site = R"({"format": "zoneproof-site", "version": 3, "revision": 1, "name": "s",
                               "panels": {"p": {"part": "my_panel"}}})";
  const std::string parts = R"({"format": "zoneproof-parts", "version": 3,
                                "parts": {"my_panel": {"kind": "panel", "name": "Mine", "panel": {}}}})";
  EXPECT_FALSE(codes(door.open(site, "s")).empty());
  const OwnParts own = {parts, "s.parts.json"};
  const std::string opened = door.open(site, "s", &own);
  ASSERT_TRUE(results(opened).contains("session")) << opened;
  EXPECT_NE(text_of(door, 1).find("my_panel"), std::string::npos);
}

TEST(Session, AClosedOneAnswersNothingAndItsNumberDoesNotComeBack) {
  Door door;
  door.open(bytes_of(kiosk), "a");
  EXPECT_EQ(results(door.close(1)), Json({{"command", "close"}}));
  for (const std::string& answer :
       {door.close(1), door.ask(1, "{}"), door.apply(1, "{}"), door.site(1), door.site(0), door.ask(-1, "")}) {
    EXPECT_THAT(codes(answer), ElementsAre("session_not_open"));
  }
  EXPECT_EQ(results(door.open(bytes_of(kiosk), "b")).at("session"), 2);
  EXPECT_EQ(door.open_sessions(), 1u);
}

TEST(Question, IsReadWithEveryFaultAtItsPlace) {
  const auto faults = [](const char* text) {
    std::vector<Message> messages;
    EXPECT_FALSE(results::read_question(text, messages)) << text;
    std::vector<std::string> told;
    for (const Message& message : messages) told.push_back(message.code + message.place.pointer);
    return told;
  };
  EXPECT_THAT(faults("[]"), ElementsAre("question_object_wanted"));
  EXPECT_THAT(faults("{}"), ElementsAre("question_command_missing"));
  EXPECT_THAT(faults(R"({"command": 5})"), ElementsAre("question_command_missing/command"));
  EXPECT_THAT(faults(R"({"command": "draft"})"), ElementsAre("question_command_unknown/command"));
  EXPECT_THAT(faults(R"({"command": "prove", "links": "loop", "zone": 6, "all": true})"),
              ElementsAre("question_texts_wanted/links", "question_text_wanted/zone", "question_key_unknown/all"));
  EXPECT_THAT(faults(R"({"command": "levels", "yield": "yes"})"), ElementsAre("question_flag_wanted/yield"));
  EXPECT_THAT(faults(R"({"command": "prove", "links": ["loop", 1]})"), ElementsAre("question_texts_wanted/links"));
  EXPECT_THAT(faults(R"({"command": "prove")"), ElementsAre("json_unfinished"));
}

TEST(Question, EveryCommandIsReadAsItself) {
  ASSERT_EQ(results::commands_asked().size(), std::variant_size_v<results::Question>);
  for (const std::string& command : results::commands_asked()) {
    std::vector<Message> messages;
    const auto question = results::read_question(Json({{"command", command}}).dump(), messages);
    ASSERT_TRUE(question) << command;
    EXPECT_EQ(results::command_of(*question), command);
  }
}

/// What is handed out, as a text; given back at once.
std::string taken(char* text) {
  EXPECT_NE(text, nullptr);
  std::string copy = text == nullptr ? "" : text;
  zoneproof_free(text);
  return copy;
}

TEST(Exports, PassTextsInAndOut) {
  const std::string site = bytes_of(kiosk);
  char* room = zoneproof_space(site.size());
  std::memcpy(room, site.data(), site.size());
  const std::string opened = taken(zoneproof_open(room, site.size(), "kiosk", 5, nullptr, 0, nullptr, 0));
  zoneproof_free(room);
  const int session = results(opened).at("session");
  const std::string rename = patch_on(opened, R"([{"op": "replace", "path": "/name", "value": "Kiosk \u0000?"}])");
  EXPECT_FALSE(codes(taken(zoneproof_apply(session, rename.data(), rename.size()))).empty());  // no zero in a name
  const std::string supply = R"({"command": "supply"})";
  Door door;
  door.open(site, "kiosk");
  EXPECT_EQ(taken(zoneproof_ask(session, supply.data(), supply.size())), door.ask(1, supply));
  EXPECT_EQ(results(taken(zoneproof_site(session))), results(door.site(1)));
  const std::string with_zero("{\"command\": \"pro\0ve\"}", 21);
  EXPECT_FALSE(codes(taken(zoneproof_ask(session, with_zero.data(), with_zero.size()))).empty());
  EXPECT_EQ(results(taken(zoneproof_close(session))).at("command"), "close");
  EXPECT_THAT(codes(taken(zoneproof_site(session))), ElementsAre("session_not_open"));
}

}  // namespace
}  // namespace zoneproof::browser
