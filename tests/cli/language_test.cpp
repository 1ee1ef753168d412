// --language and ZONEPROOF_LANGUAGE: whatever is said is said in the language asked for, and nothing else changes.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "cli/language_option.hpp"
#include "cli/run.hpp"
#include "cli/workshop.hpp"

namespace zoneproof::cli {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

std::string workshop_in_words() { return file_with("language.site.json", workshop()); }

std::vector<std::string> codes(const LanguageAsked& asked) {
  std::vector<std::string> codes;
  for (const Message& problem : asked.problems) codes.push_back(problem.code);
  return codes;
}

/// As run_line, with the variable set.
Outcome run_with(const std::vector<std::string>& arguments, const std::string& variable) {
  std::ostringstream out, err;
  Terminal terminal;
  terminal.language = variable;
  const int code = run(arguments, out, err, terminal);
  return {code, out.str(), err.str()};
}

TEST(LanguageOption, StandsBeforeOrAfterTheCommand) {
  const std::string german = run_line("prove " + workshop_in_words() + " --language de").out;
  EXPECT_THAT(german, HasSubstr("Meldergruppe"));
  EXPECT_THAT(german, Not(HasSubstr("Zone 1 (")));
  EXPECT_EQ(run_line("--language de prove " + workshop_in_words()).out, german);
  EXPECT_EQ(run_line("prove --language=de " + workshop_in_words()).out, german);
  EXPECT_EQ(run_with({"prove", workshop_in_words()}, "de").out, german);
  EXPECT_EQ(run_line("prove " + workshop_in_words() + " --language en").out,
            run_line("prove " + workshop_in_words()).out);
}

TEST(LanguageOption, GoesBeforeTheVariable) {
  EXPECT_EQ(run_with({"prove", workshop_in_words(), "--language", "en"}, "de").out,
            run_line("prove " + workshop_in_words()).out);
  EXPECT_EQ(run_with({"prove", workshop_in_words(), "--language", "de"}, "xx").exit_code, 1);
}

TEST(LanguageOption, AnUnknownLanguageIsOneMessageThatNamesTheKnownOnes) {
  for (const Outcome& outcome : {run_line("prove " + workshop_in_words() + " --language fr"),
                                 run_with({"prove", workshop_in_words()}, "de_DE.UTF-8"), run_line("--language fr")}) {
    EXPECT_EQ(outcome.exit_code, 2);
    EXPECT_EQ(outcome.out, "");
    EXPECT_THAT(outcome.err, HasSubstr("en, de"));
  }
  EXPECT_THAT(run_with({"check"}, "fr").err, HasSubstr("ZONEPROOF_LANGUAGE"));
}

TEST(LanguageOption, TakesOneValueOnce) {
  EXPECT_THAT(codes(take_language({"check", "--language"}, "")), ElementsAre("option_empty"));
  EXPECT_THAT(codes(take_language({"--language", "de", "--language", "de"}, "")), ElementsAre("option_twice"));
  EXPECT_THAT(codes(take_language({"--language="}, "")), ElementsAre("option_empty"));
  EXPECT_THAT(codes(take_language({"--language", ""}, "de")), ElementsAre("option_empty"));
  EXPECT_THAT(codes(take_language({}, "")), ElementsAre());
}

TEST(LanguageOption, LeavesAllElseOfTheLine) {
  const LanguageAsked asked = take_language({"draft", "a.csv", "--language", "de", "--name", "x"}, "");
  EXPECT_THAT(asked.rest, ElementsAre("draft", "a.csv", "--name", "x"));
  EXPECT_THAT(take_language({"check", "--", "--language", "de"}, "").rest,
              ElementsAre("check", "--", "--language", "de"));
}

TEST(LanguageOption, WhatIsWrongWithTheLineIsToldInTheLanguage) {
  EXPECT_THAT(run_line("prove --language de").err, HasSubstr("prove braucht ANLAGE."));
  EXPECT_THAT(run_line("frobnicate --language de").err, HasSubstr("Den Befehl frobnicate gibt es nicht."));
}

TEST(LanguageOption, HelpIsInTheLanguageAndWithinTheScreen) {
  for (const char* command : {"check", "prove", "levels", "supply", "faults", "remedies", "terminal", "netlist",
                              "sight", "network", "clip", "storm", "draft", "parts", "rules", "schema"}) {
    const Outcome outcome = run_line(std::string(command) + " --help --language de");
    EXPECT_EQ(outcome.exit_code, 0) << command;
    EXPECT_THAT(outcome.out, HasSubstr("--language SPRACHE")) << command;
    EXPECT_THAT(outcome.out, HasSubstr("Beispiel")) << command;
    EXPECT_LE(widest_line(outcome.out), 100U) << command;
    EXPECT_THAT(run_line(std::string(command) + " --help").out, HasSubstr("--language LANGUAGE")) << command;
  }
  EXPECT_THAT(run_line("--help --language de").out, HasSubstr("Befehle"));
}

}  // namespace
}  // namespace zoneproof::cli
