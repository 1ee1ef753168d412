// The command terminal: what a technician types is what is computed, what is missing is asked for, and what it prints
// goes into a site file and says the same there.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
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
  asked.current_error = "1%+0";
  std::vector<Message> problems;
  const site::ZoneTerminalSpec spec = results::terminal_typed(asked, problems).spec;
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

/// A line that is refused, and what it has to say: the place, the cause, the remedy.
struct Refused {
  const char* line;
  std::vector<const char*> says;
};

void expect_refused(const Refused& refused) {
  const Outcome outcome = run_line(refused.line);
  EXPECT_EQ(outcome.exit_code, 2) << refused.line;
  EXPECT_EQ(outcome.out, "") << refused.line;
  std::string said = outcome.err;
  std::replace(said.begin(), said.end(), '\n', ' ');  // however the lines break
  for (const char* words : refused.says) EXPECT_THAT(said, HasSubstr(words)) << refused.line;
}

TEST(TerminalCommand, AsksForWhatIsMissing) {
  const Refused lines[] = {
      {"terminal", {"--open"}},
      {"terminal --open 4.98V", {"--meter", "--error"}},
      {"terminal --open 4.98V --meter 10M/1%", {"--error"}},
      {"terminal --short 0.88mA --burden 100/10%", {"--current-error"}},
      {"terminal --open 4.98V --meter 10M/1% --error 0.5%", {"without the digits", "--error 0.5%+3", "+0"}},
      {"terminal --short 1mA --burden 100/10% --current-error 1%", {"--current-error", "without the digits"}}};
  for (const Refused& line : lines) expect_refused(line);
}

TEST(TerminalCommand, SaysWhatItCannotReadAndWhy) {
  const Refused lines[] = {
      {"terminal --open 4.98 --meter 10M/1% --error 0.5%+3", {"the unit is missing, V or mV", "--open 4.98V"}},
      {"terminal --open 4.98v --meter 10M/1% --error 0.5%+3", {"\"v\" is no unit", "V or mV", "--open 4.98V"}},
      {"terminal --open V --meter 10M/1% --error 0.5%+3", {"does not begin with a number"}},
      {"terminal --open +-5V --meter 10M/1% --error 0.5%+3", {"\"+-5\" is no number"}},
      {"terminal --open 1,234V --meter 10M/1% --error 0.5%+3", {"thousands", "write a point"}},
      {"terminal --open 4.9800000000000V --meter 10M/1% --error 0.5%+3", {"more digits than any meter"}},
      {"terminal --open 4.98V@generator --meter 10M/1% --error 0.5%+3", {"@generator", "neither @mains nor @battery"}},
      {"terminal --open 4.98V@Battery --meter 10M/1% --error 0.5%+3", {"neither @mains nor @battery"}},
      {"terminal --open 4.98V --meter 10M --error 0.5%+3", {"tolerance behind a / is missing", "--meter 10M/1%"}},
      {"terminal --open 4.98V --meter 10M/1 --error 0.5%+3", {"unit is missing, %", "10M/1%"}},
      {"terminal --open 4.98V --meter 10M/1% --error 3", {"unit is missing, %", "0.5%+3"}},
      {"terminal --open 4.98V --meter 10M/1% --error 0.5%+2.5", {"\"2.5\" is no whole number", "0.5%+3"}},
      {"terminal --over 5k6=2.49V --meter 10M/1% --error 0.5%+3", {"tolerance", "--over 4k7/1%=2.51V"}},
      {"terminal --over 5k6/1% --meter 10M/1% --error 0.5%+3", {"there is no =", "--over 4k7/1%=2.51V"}},
      {"terminal --short 0.88V --burden 1/1% --current-error 1%+3", {"\"V\" is no unit", "A, mA or uA"}},
      {"terminal --open 4.98V --meter 10M/1% --error 0.5%+3 --eol 0/1%", {"0 ohm is a short"}},
      {"terminal --open 4.98V --meter 10M/1% --error 0.5%+3 --eol 5k6", {"tolerance", "5k6/1%"}}};
  for (const Refused& line : lines) expect_refused(line);
}

TEST(TerminalCommand, RefusesWhatTheSiteFileWouldRefuseAsImpossible) {
  const Refused lines[] = {
      {"terminal --open 4.98kV --meter 10M/1% --error 0.5%+3", {"4980 V", "-60 V to 60 V", "unit"}},
      {"terminal --open -61V --meter 10M/1% --error 0.5%+3", {"-61 V", "-60 V to 60 V"}},
      {"terminal --open 4.98V --meter 10m/1% --error 0.5%+3", {"0.01 ohm", "1 ohm to", "m a thousandth"}},
      {"terminal --open 4.98V --meter 0/1% --error 0.5%+3", {"0 ohm", "--meter 10M/1%"}},
      {"terminal --open 4.98V --meter -10M/1% --error 0.5%+3", {"-10 Mohm", "sign"}},
      {"terminal --open 4.98V --meter 10M/200% --error 0.5%+3", {"200 %", "0 % to 100 %"}},
      {"terminal --open 4.98V --meter 10M/1% --error 60%+3", {"60 %", "0 % to 50 %"}},
      {"terminal --open 4.98V --meter 10M/1% --error 1%+2000", {"2000", "0 to 1000"}},
      {"terminal --over 0/1%=2.49V --meter 10M/1% --error 0.5%+3", {"0 ohm", "4k7/1%=2.51V"}},
      {"terminal --short 500A --burden 1/1% --current-error 1%+3", {"500 A", "-10 A to 10 A", "--short 0.88mA"}},
      {"terminal --short 1A --burden 2M/1% --current-error 1%+3", {"2 Mohm", "--burden 100/10%"}},
      {"terminal --open 4.98V --meter 10M/1% --error 0.5%+3 --eol 99999M/1%", {"99999 Mohm", "10 Mohm"}}};
  for (const Refused& line : lines) expect_refused(line);
}

TEST(TerminalCommand, RefusesOptionsThatBelongToNothing) {
  const Refused lines[] = {
      {"terminal --part x --open 4.98V --meter 10M/1% --error 0.5%+3",
       {"--part names the zone terminal x", "no site file is given"}},
      {"terminal --open 4.98V --meter 10M/1% --error 0.5%+3 --burden 1/1%",
       {"--burden", "--short", "leave --burden out"}},
      {"terminal --short 1mA --burden 9/1% --current-error 1%+3 --meter 10M/1%", {"--meter", "--open or --over"}}};
  for (const Refused& line : lines) expect_refused(line);
}

TEST(TerminalCommand, ShowsReadingsWithTheDigitsThatTheMeterShowed) {
  const std::string line =
      "terminal --open 5.10V --over 2k2/1%=980mV --short 0.880mA --burden 100/10% --current-error 1%+3";
  const std::string out = run_line(line + meter).out;
  for (const char* shown : {" 5.10 V ", " 980 mV ", " 0.880 mA "}) EXPECT_THAT(out, HasSubstr(shown));
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
  json spec = {{"refers_to", "negative"}, {"drive", "steady"}, {"source", "regulated"}};
  spec.update(zone_terminal);
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
  EXPECT_THAT(other.err, HasSubstr("no zone terminal input_2 with readings"));
  EXPECT_THAT(other.err, HasSubstr("input_1"));
  const Outcome plain = run_line("terminal " + file_with("plain.site.json", workshop()));
  EXPECT_EQ(plain.exit_code, 2);
  EXPECT_THAT(plain.err, HasSubstr("No zone terminal of the site file has readings."));
  EXPECT_THAT(plain.err, HasSubstr("schema --field"));
}

TEST(TerminalCommand, RefusesBesideASiteFileWhatStandsInIt) {
  const std::string path = site_with(results_of(two).at("zone_terminal"));
  const std::pair<const char*, const char*> options[] = {
      {"--open", "5V"},      {"--over", "5k6/1%=2V"}, {"--short", "1mA"},         {"--meter", "10M/1%"},
      {"--error", "0.5%+3"}, {"--burden", "9/1%"},    {"--current-error", "1%+3"}};
  for (const auto& [option, value] : options) {
    const Outcome outcome = run_line("terminal " + path + " " + option + " " + value);
    EXPECT_EQ(outcome.exit_code, 2) << option;
    EXPECT_EQ(outcome.out, "") << option;
    EXPECT_THAT(outcome.err, HasSubstr(std::string("A site file and ") + option)) << option;
  }
}

TEST(TerminalCommand, NamesWhatTheReadingsOfASiteFileLack) {
  json spec = results_of(two).at("zone_terminal");
  spec["readings"]["open_1"]["meter"].erase("error_pct");
  const Outcome outcome = run_line("terminal " + site_with(spec));
  EXPECT_EQ(outcome.exit_code, 1);
  EXPECT_THAT(outcome.out, HasSubstr("zone_terminal/readings/open_1/meter/error_pct"));
  EXPECT_THAT(outcome.out, HasSubstr("Error as a share of the reading"));
  EXPECT_THAT(outcome.out, HasSubstr("sheet of the meter"));
  EXPECT_THAT(outcome.out, Not(HasSubstr("behind a resistance of")));
}

json stated(double value, double tolerance_pct) {
  return {{"value", value}, {"tolerance_pct", tolerance_pct}, {"origin", "data_sheet"}};
}

json source_of(const json& spec) { return results_of("terminal " + site_with(spec)).at("sources").at(0); }

TEST(TerminalCommand, IsMadeSharperByOneValueOfTheSheetAlone) {
  json spec = results_of(two).at("zone_terminal");
  const json alone = source_of(spec);
  spec["pullup_ohm"] = stated(5600, 1);
  const json cut = source_of(spec);
  // Whatever input lies across the screws takes from the pull-up's 5600 ohm: 1 % more is the most.
  EXPECT_NEAR(cut.at("ohm").at("high").get<double>(), 5656, 0.1);
  EXPECT_NEAR(cut.at("ohm").at("low").get<double>(), alone.at("ohm").at("low").get<double>(), 1e-6);
  EXPECT_THAT(run_line("terminal " + site_with(spec)).out, HasSubstr("own measuring input is part of this"));
  for (const char* key : {"source_V", "input_ohm", "series_ohm"}) {
    json one = results_of(two).at("zone_terminal");
    one[key] = stated(key == std::string("source_V") ? 5.0 : 1e6, 1);
    EXPECT_EQ(run_line("terminal " + site_with(one)).exit_code, 0) << key;
  }
}

TEST(TerminalCommand, NamesTheValueOfTheSheetThatContradictsTheReadings) {
  json spec = results_of(two).at("zone_terminal");
  spec["pullup_ohm"] = stated(2200, 1);
  const Outcome either = run_line("terminal " + site_with(spec));
  EXPECT_EQ(either.exit_code, 1);
  EXPECT_THAT(either.out, HasSubstr("One of these is wrong"));
  EXPECT_THAT(either.out, HasSubstr("pullup_ohm"));
  // A third reading that agrees with both others leaves the sheet alone with its claim.
  spec["readings"] = results_of(two + " --over 2k2/1%=1.40V").at("zone_terminal").at("readings");
  const std::string line = "terminal " + site_with(spec);
  EXPECT_THAT(run_line(line).out, HasSubstr("pullup_ohm of Part input_1 contradicts the readings, which agree"));
  EXPECT_EQ(results_of(line).at("sheet_contradicts"), json({"/parts/input_1/zone_terminal/pullup_ohm"}));
  for (const json& reading : results_of(line).at("readings"))
    EXPECT_FALSE(reading.at("others_agree_without_it").get<bool>());
}

TEST(TerminalCommand, AnswersNothingOfATerminalThatComesAndGoesAndSaysWhatToMeasure) {
  const std::pair<const char*, const char*> drives[] = {
      {"scanned", "on_s"}, {"bipolar", "reverse_V"}, {"alternating", "rms_V"}};
  for (const auto& [drive, field] : drives) {
    json spec = results_of(two).at("zone_terminal");
    spec["drive"] = drive;
    const std::string line = "terminal " + site_with(spec);
    const Outcome outcome = run_line(line);
    EXPECT_EQ(outcome.exit_code, 1) << drive;
    EXPECT_THAT(outcome.out, HasSubstr("oscilloscope")) << drive;
    EXPECT_THAT(outcome.out, HasSubstr(field)) << drive;
    EXPECT_THAT(outcome.out, Not(HasSubstr("behind a resistance of"))) << drive;
    const json results = results_of(line);
    EXPECT_FALSE(results.at("agree").get<bool>());
    EXPECT_EQ(results.at("gaps").at(0).at("reason"), "not_by_meter");
  }
}

}  // namespace
}  // namespace zoneproof::cli
