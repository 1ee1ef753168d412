// The command terminal: what a technician types is what is computed, what is missing is asked for, and what it prints
// goes into a site file and says the same there.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "cli/workshop.hpp"
#include "results/typed_readings.hpp"

namespace zoneproof::cli {
namespace {

using nlohmann::json;
using testing::HasSubstr;
using testing::Not;

const std::string meter = " --meter 10M/1% --error 0.5%+3";
const std::string two = "terminal --open 4.98V --over 5k6/1%=2.49V" + meter;

json results_of(const std::string& line) {
  const Outcome outcome = run_line(line + " --json");
  const json parsed = json::parse(outcome.out, nullptr, false);
  EXPECT_FALSE(parsed.is_discarded()) << line << outcome.out << outcome.err;
  return parsed.at("results");
}

TEST(TerminalCommand, ReadsWhatATechnicianTypes) {
  results::TerminalQuestion asked;
  asked.open = {"4.98V", "-12.030V@battery", "980mV"};
  asked.over = {"4k7/5%=2.51V"};
  asked.shorted = {"0.88mA"};
  asked.meter = "10M/2%";
  asked.error = "0.5%+3";
  asked.burden = "100/10%";
  asked.current_error = "1%";
  std::vector<Message> problems;
  const site::ZoneTerminalSpec spec = results::terminal_typed(asked, problems);
  ASSERT_TRUE(problems.empty()) << full_text(problems.front());
  ASSERT_EQ(spec.readings.size(), 5u);
  const site::TerminalReading& open = spec.readings.at("open_1");
  EXPECT_DOUBLE_EQ(open.shown_V.nominal, 4.98);
  EXPECT_DOUBLE_EQ(open.meter.digit_V.nominal, 0.01);
  EXPECT_DOUBLE_EQ(open.meter.input_ohm.low, 9.8e6);
  EXPECT_DOUBLE_EQ(open.meter.error_pct.nominal, 0.5);
  EXPECT_EQ(open.meter.error_digits.value, 3);
  EXPECT_TRUE(open.supply.is(site::ReadingSupply::mains));
  const site::TerminalReading& battery = spec.readings.at("open_2");
  EXPECT_DOUBLE_EQ(battery.shown_V.nominal, -12.03);
  EXPECT_DOUBLE_EQ(battery.meter.digit_V.nominal, 0.001);
  EXPECT_TRUE(battery.supply.is(site::ReadingSupply::battery));
  EXPECT_NEAR(spec.readings.at("open_3").shown_V.nominal, 0.98, 1e-12);
  EXPECT_NEAR(spec.readings.at("open_3").meter.digit_V.nominal, 0.001, 1e-15);
  const site::TerminalReading& over = spec.readings.at("over_4");
  EXPECT_DOUBLE_EQ(over.resistor_ohm.nominal, 4700);
  EXPECT_DOUBLE_EQ(over.resistor_ohm.high, 4700 * 1.05);
  const site::TerminalReading& shorted = spec.readings.at("short_5");
  EXPECT_NEAR(shorted.shown_A.nominal, 0.88e-3, 1e-15);
  EXPECT_NEAR(shorted.meter.digit_A.nominal, 1e-5, 1e-15);
  EXPECT_DOUBLE_EQ(shorted.meter.burden_ohm.high, 110);
  EXPECT_EQ(shorted.meter.error_digits.value, 0);
}

TEST(TerminalCommand, AsksForWhatIsMissingAndRefusesWhatItCannotRead) {
  const std::pair<const char*, const char*> lines[] = {
      {"terminal", "--open"},
      {"terminal --open 4.98V", "--meter"},
      {"terminal --open 4.98V --meter 10M/1%", "--error"},
      {"terminal --short 0.88mA --burden 100/10%", "--current-error"},
      {"terminal --open 4.98 --meter 10M/1% --error 0.5%+3", "4.98V"},
      {"terminal --open 4.98V@generator --meter 10M/1% --error 0.5%+3", "4.98V@generator"},
      {"terminal --open 4.98V --meter 10M --error 0.5%+3", "10M/1%"},
      {"terminal --open 4.98V --meter 0/1% --error 0.5%+3", "10M/1%"},
      {"terminal --open 4.98V --meter 10M/1% --error 3", "0.5%+3"},
      {"terminal --open 4.98V --meter 10M/1% --error 0.5%+2.5", "0.5%+3"},
      {"terminal --over 5k6=2.49V --meter 10M/1% --error 0.5%+3", "4k7/1%=2.51V"},
      {"terminal --over 0/1%=2.49V --meter 10M/1% --error 0.5%+3", "4k7/1%=2.51V"},
      {"terminal --open 4.98V --meter 10M/1% --error 0.5%+3 --eol 5k6", "5k6/1%"}};
  for (const auto& [line, says] : lines) {
    const Outcome outcome = run_line(line);
    EXPECT_EQ(outcome.exit_code, 2) << line;
    EXPECT_EQ(outcome.out, "") << line;
    EXPECT_THAT(outcome.err, HasSubstr(says)) << line;
  }
}

TEST(TerminalCommand, TellsSourceLevelsAndExitsWithZeroWhereTheRegionHasAnEnd) {
  const Outcome outcome = run_line(two + " --eol 5k6/1%");
  EXPECT_EQ(outcome.exit_code, 0) << outcome.err;
  EXPECT_LE(widest_line(outcome.out), 100U);
  // By hand: 4.98 V -+ (0.0249 + 0.03) V at 10 Mohm, and the ratio of both readings over 5.6 kohm.
  const json results = results_of(two + " --eol 5k6/1%");
  const json& source = results.at("sources").at(0);
  EXPECT_NEAR(source.at("V").at("low").get<double>(), 4.9251 * (1 + 5241.3 / 10.1e6), 1e-3);
  EXPECT_NEAR(source.at("ohm").at("high").get<double>(), 5983, 2);
  EXPECT_EQ(source.at("corners").size(), 4u);
  EXPECT_TRUE(results.at("bounded").get<bool>());
  EXPECT_TRUE(results.at("next").is_null());
}

TEST(TerminalCommand, TellsTheReadingToTakeNextWhereTooLittleWasRead) {
  const std::string open = "terminal --open 4.98V" + meter;
  const Outcome outcome = run_line(open + " --eol 5k6/1%");
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_THAT(outcome.out, HasSubstr("The voltage over 5.6 kohm"));
  const json results = results_of(open + " --eol 5k6/1%");
  EXPECT_EQ(results.at("lacking"), "loaded");
  EXPECT_EQ(results.at("next").at("kind"), "loaded");
  EXPECT_LT(results.at("next").at("open_then_V").get<double>(), 0.2);
  // Without the loads it still says what is lacking.
  EXPECT_THAT(run_line(open).out, HasSubstr("over a resistor"));
}

TEST(TerminalCommand, NamesTheReadingThatContradictsTheOthers) {
  const std::string line = two + " --over 1k/1%=0.76V --over 2k2/1%=2.90V";
  const Outcome outcome = run_line(line);
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_THAT(outcome.out, HasSubstr("over_4 (over 2.2 kohm) contradicts the others"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("behind a resistance of")));
  const json results = results_of(line);
  EXPECT_FALSE(results.at("agree").get<bool>());
  EXPECT_TRUE(results.at("sources").empty());
  int odd = 0;
  for (const json& reading : results.at("readings")) odd += reading.at("others_agree_without_it").get<bool>() ? 1 : 0;
  EXPECT_EQ(odd, 1);
  EXPECT_THAT(run_line("terminal --open 5.00V --open 6.00V" + meter).out, HasSubstr("One of these is wrong"));
}

TEST(TerminalCommand, TellsASourceThatFollowsTheRail) {
  const std::string line = "terminal --open 13.62V --open 11.90V@battery --over 5k6/1%=6.79V" + meter;
  EXPECT_THAT(run_line(line).out, HasSubstr("raw_rail"));
  const json results = results_of(line);
  EXPECT_TRUE(results.at("follows_rail").get<bool>());
  EXPECT_EQ(results.at("sources").size(), 2u);
  const std::string same = "terminal --open 4.98V --open 4.99V@battery --over 5k6/1%=2.49V" + meter;
  EXPECT_FALSE(results_of(same).at("follows_rail").get<bool>());
}

/// A site with one terminal that has these readings, source regulated.
std::string site_with(const json& zone_terminal) {
  json spec = zone_terminal;
  spec.update(json{{"refers_to", "negative"}, {"drive", "steady"}, {"source", "regulated"}});
  return file_with("measured.site.json",
                   json{{"format", "zoneproof-site"},
                        {"version", 1},
                        {"revision", 1},
                        {"parts", {{"input_1", {{"kind", "zone_terminal"}, {"zone_terminal", spec}}}}}}
                       .dump(2));
}

TEST(TerminalCommand, PrintsReadingsThatSayTheSameInASiteFile) {
  const json typed = results_of(two + " --eol 5k6/1%");
  const json in_file = results_of("terminal " + site_with(typed.at("zone_terminal")) + " --eol 5k6/1%");
  EXPECT_EQ(in_file.at("part"), "input_1");
  EXPECT_EQ(in_file.at("sources"), typed.at("sources"));
  EXPECT_EQ(in_file.at("zone_terminal"), typed.at("zone_terminal"));
}

TEST(TerminalCommand, OfASiteFileChoosesTheTerminalThatHasReadings) {
  const std::string path = site_with(results_of(two).at("zone_terminal"));
  EXPECT_EQ(run_line("terminal " + path).exit_code, 0);
  EXPECT_EQ(run_line("terminal " + path + " --part input_1").exit_code, 0);
  const Outcome other = run_line("terminal " + path + " --part input_2");
  EXPECT_EQ(other.exit_code, 2);
  EXPECT_THAT(other.err, HasSubstr("input_1"));
  EXPECT_EQ(run_line("terminal " + path + " --open 5V" + meter).exit_code, 2);
  EXPECT_EQ(run_line("terminal " + file_with("plain.site.json", workshop())).exit_code, 2) << "no readings there";
}

TEST(TerminalCommand, NamesWhatTheReadingsOfASiteFileLack) {
  json spec = results_of(two).at("zone_terminal");
  spec["readings"]["open_1"]["meter"].erase("error_pct");
  const Outcome outcome = run_line("terminal " + site_with(spec));
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_THAT(outcome.out, HasSubstr("zone_terminal/readings/open_1/meter/error_pct"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("behind a resistance of")));
}

}  // namespace
}  // namespace zoneproof::cli
