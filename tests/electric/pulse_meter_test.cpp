// What a direct-current meter shows at a pulsed terminal, and what a unit may see there, against ngspice in time.
//
// Source: transient runs of ngspice on a circuit drawn from paper (decks/frame.inc has the unit and its feed); a meter
// averages, so the mean over the last period of a run that has come to repeat itself is what it shows. Beside it the
// means of any textbook of circuits: duty cycle times amplitude, 1/pi and 2/pi of the peak of a half and a full wave.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <numbers>
#include <sstream>

#include "electric/hand_deck.hpp"
#include "electric/levels.hpp"

namespace zoneproof::electric {
namespace {

constexpr double agreement_of_means_V = 2e-4;  // of means: edges of 1 ns and steps of 2 us
constexpr double moment_V = 2e-3;              // of single moments

/// The source in ngspice and in the site file, beside what all cases share; period 20 ms.
struct Case {
  const char* name;
  const char* source;    ///< lines of the deck between nodes `s` and 0
  const char* terminal;  ///< fields of the zone terminal
  const char* input;     ///< fields of the unit's input
  const char* clamps;    ///< lines of the deck at the unit's input
};

std::string patch_of(const Case& drawn) {
  return std::string(R"({
    "parts": {
      "signal_cable": {"cable": {"capacitance_nF_per_km": 100}},
      "terminal_part": {"zone_terminal": {"period_s": 0.02, "filter_s": "none", "capacitance_nF": 47, "series_ohm": "none", )") +
         drawn.terminal + R"(}},
      "unit_part": {"unit": {"input": {"capacitance_nF": 22, "filter_s": "none", "sampling_s": 0.001, "debounce_s": 0.05)" +
         drawn.input + R"(}}}},
    "zones": {"z1": {"loop": {"arrangement": "single_eol_closed", "eol_ohm": {"value": 4700, "tolerance_pct": 0, "tempco_ppm_K": 0},
      "contacts": {"a": {"detector": "da", "contact": "closed", "role": "alarm", "shunt_ohm": "none"}}}}}})";
}

/// The pair, drawn: half of the cable's 5.5 nF at either end of it, the wire's 1.2 nF and the input's 22 nF at the
/// input.
///
///   s --(source)-- 0        s --[3300]-- t --[5.15]-- f --o/o-- h --[4700]-- g --[5.15]-- 0
///                                   t: 47 nF + 2.75 nF, 1 M          f-g: 2.75 nF
std::map<std::string, double> in_ngspice(const Case& drawn) {
  const std::string folder = std::string(ZONEPROOF_BINARY_DIR) + "/decks/pulse_meter";
  std::filesystem::create_directories(folder);
  const std::string deck = folder + "/" + drawn.name + ".cir", told = folder + "/" + drawn.name + ".txt";
  std::ofstream(deck)
      << "pulsed pair\n.include " << ZONEPROOF_SOURCE_DIR << "/tests/electric/decks/frame.inc\n"
      << drawn.source << "\nrpu s t 3300\nrmeas t 0 1meg\nct t 0 49.75n\nrout t f 5.15\nra f h 0.35\n"
      << "reol h g 4700\nrback g 0 5.15\ncfar f g 2.75n\ncin in un 23.2n\n"
      << drawn.clamps << "\n.options method=gear\n.control\ntran 2u 200m 0 2u\nlet unit=v(in)-v(un)\n"
      << "meas tran panelmean avg v(t) from=180m to=200m\nmeas tran unitmean avg unit from=180m to=200m\n"
      << "meas tran unithigh max unit from=180m to=200m\nmeas tran unitlow min unit from=180m to=200m\n"
      << "quit\n.endc\n.end\n";
  const std::string command = "ngspice -b " + deck + " > " + told + " 2>&1";
  if (std::system(command.c_str()) == -1) throw std::runtime_error("ngspice does not start");
  std::ifstream in(told);
  std::map<std::string, double> values;
  for (std::string line; std::getline(in, line);) {
    std::istringstream words(line);
    std::string name, sign;
    double value = 0.0;
    if (words >> name >> sign >> value && sign == "=") values[name] = value;
  }
  for (const char* name : {"panelmean", "unitmean", "unithigh", "unitlow"}) {
    if (values.count(name) == 0)
      throw std::runtime_error(std::string("ngspice does not tell ") + name + "; see " + told);
  }
  return values;
}

Level level_of(const Case& drawn) {
  ZoneSituation situation;
  situation.zone = "z1";
  situation.trigger = "t1";
  return solve_level(base_site_with(patch_of(drawn)), situation);
}

constexpr const char* kScanned = R"("drive": "scanned", "on_s": 0.005, "off_V": 0, "look_s": 0.004)";
constexpr const char* kWave = R"("drive": "alternating", "source_V": null, "rms_V": 5, "look_s": 0.005, "wave": )";

/// Linear pairs: the mean is that of the source, whatever the capacitances and wherever they stand.
const Case linear[] = {
    {"scanned", "vs s 0 pulse(0 5.05 0 1n 1n 5m 20m)", kScanned, "", ""},
    {"scanned_raised", "vs s 0 pulse(1.2 5.05 0 1n 1n 5m 20m)",
     R"("drive": "scanned", "on_s": 0.005, "off_V": 1.2, "look_s": 0.004)", "", ""},
    {"both_polarities", "vs s 0 pulse(-3.3 5.05 0 1n 1n 12m 20m)",
     R"("drive": "bipolar", "on_s": 0.012, "reverse_V": -3.3, "reverse_s": "none", "look_s": 0.008)", "", ""},
    {"three_parts", "vs s 0 pwl(0 0 1n 5.05 5m 5.05 5.000001m -5.05 7m -5.05 7.000001m 0 20m 0) r=0",
     R"("drive": "bipolar", "on_s": 0.005, "off_V": 0, "reverse_V": -5.05, "reverse_s": 0.002, "look_s": 0.004)", "",
     ""},
};

TEST(MeterOnAPulsedTerminal, ShowsTheMeanOfATransientRun) {
  for (const Case& drawn : linear) {
    SCOPED_TRACE(drawn.name);
    const Level level = level_of(drawn);
    ASSERT_TRUE(level.pulse && level.pulse->panel_meter && level.pulse->unit_meter);
    EXPECT_TRUE(level.pulse->gaps.empty());
    const auto spice = in_ngspice(drawn);
    EXPECT_NEAR(level.pulse->panel_meter->nominal, spice.at("panelmean"), agreement_of_means_V);
    EXPECT_NEAR(level.pulse->unit_meter->nominal, spice.at("unitmean"), agreement_of_means_V);
    EXPECT_LE(level.pulse->unit_meter->low, spice.at("unitmean") + agreement_of_means_V);
    EXPECT_GE(level.pulse->unit_meter->high, spice.at("unitmean") - agreement_of_means_V);
    const circuit::WorstCase& unit = level.solved.cases.at(*level.unit);
    EXPECT_LE(unit.low.bound, spice.at("unitlow") + moment_V);
    EXPECT_GE(unit.high.bound, spice.at("unithigh") - moment_V);
    EXPECT_NEAR(unit.high.bound, spice.at("unithigh"), 0.01) << "the pulse settles: the reach is no wider than needed";
  }
}

/// Duty cycle times amplitude, with no simulator: the divider of 3300 ohm against loop, panel and unit.
TEST(MeterOnAPulsedTerminal, ShowsTheDutyCycleOfTheTextbook) {
  const double load = 1.0 / (1.0 / (2.0 * 5.15 + 0.35 + 4700.0) + 1.0 / 1e6 + 1.0 / (1.164 + 68e3));
  const double divided = 5.05 * load / (load + 3300.0);
  // The unit's own current lifts its negative by 0.35 A x 0.615 ohm; through 68 kohm that is some millivolts here.
  EXPECT_NEAR(level_of(linear[0]).pulse->panel_meter->nominal, 0.25 * divided, 0.01);
}

struct Wave {
  const char* word;
  const char* source;
  double share;  ///< mean as a share of the peak
  double peak;   ///< V, of 5 V r.m.s.
};

TEST(MeterOnAnAlternatingTerminal, ShowsTheMeanOfATransientRunAndOfTheTextbook) {
  const double two_sided = 5.0 * std::numbers::sqrt2;
  for (const Wave& wave :
       {Wave{"sine", "bs s 0 v=7.0710678*sin(2*pi*50*time)", 0.0, two_sided},
        Wave{"half_wave", "bs s 0 v=max(0,10*sin(2*pi*50*time))", std::numbers::inv_pi, 10.0},
        Wave{"full_wave", "bs s 0 v=abs(7.0710678*sin(2*pi*50*time))", 2.0 * std::numbers::inv_pi, two_sided},
        Wave{"square", "vs s 0 pulse(-5 5 0 1n 1n 10m 20m)", 0.0, 5.0}}) {
    SCOPED_TRACE(wave.word);
    const std::string terminal = std::string(kWave) + '"' + wave.word + '"';
    const Case drawn{wave.word, wave.source, terminal.c_str(), "", ""};
    const Level level = level_of(drawn);
    ASSERT_TRUE(level.pulse && level.pulse->unit_meter);
    const auto spice = in_ngspice(drawn);
    EXPECT_NEAR(level.pulse->panel_meter->nominal, spice.at("panelmean"), agreement_of_means_V);
    EXPECT_NEAR(level.pulse->unit_meter->nominal, spice.at("unitmean"), agreement_of_means_V);
    const circuit::WorstCase& unit = level.solved.cases.at(*level.unit);
    EXPECT_LE(unit.low.bound, spice.at("unitlow") + moment_V);
    EXPECT_GE(unit.high.bound, spice.at("unithigh") - moment_V);
    const double load = 1.0 / (1.0 / 4710.65 + 1.0 / 1e6 + 1.0 / 68e3);
    EXPECT_NEAR(level.pulse->panel_meter->nominal, wave.share * wave.peak * load / (load + 3300.0), 0.01);
  }
}

/// Where the source lets go, or a clamp conducts, the mean hangs on the capacitances: it has to lie within the bounds.
TEST(MeterOnAPulsedTerminal, ShowsWhatLiesWithinTheBoundsWhereThePairIsNotLinear) {
  const char* clamps =
      R"(, "inner_rail_V": 3.3, "inner_rail_load_ohm": 1000, "clamp_forward_V": 0.6, "clamp_on_ohm": 1000)";
  const char* diodes =
      "vrailin ur un 3.3\nbhigh in ur i=max(0,(v(in)-v(ur)-0.6)/1000)\nblow un in i=max(0,(v(un)-v(in)-0.6)/1000)";
  const Case bent[] = {
      {"lets_go",
       "vs s0 0 5.05\nvc c 0 pulse(0 1 0 1n 1n 5m 20m)\nsw s0 s c 0 gate\n.model gate sw(vt=0.5 ron=1m roff=1e13)",
       R"("drive": "scanned", "on_s": 0.005, "off_V": "none", "look_s": 0.004)", "", ""},
      {"clamped", "vs s 0 pulse(-9 9 0 1n 1n 10m 20m)",
       R"("drive": "bipolar", "source_V": 9, "on_s": 0.01, "reverse_V": -9, "reverse_s": "none", "look_s": 0.008)",
       clamps, diodes},
  };
  for (const Case& drawn : bent) {
    SCOPED_TRACE(drawn.name);
    const Level level = level_of(drawn);
    ASSERT_TRUE(level.pulse && level.pulse->unit_meter);
    const auto spice = in_ngspice(drawn);
    EXPECT_LE(level.pulse->panel_meter->low, spice.at("panelmean") + agreement_of_means_V);
    EXPECT_GE(level.pulse->panel_meter->high, spice.at("panelmean") - agreement_of_means_V);
    EXPECT_LE(level.pulse->unit_meter->low, spice.at("unitmean") + agreement_of_means_V);
    EXPECT_GE(level.pulse->unit_meter->high, spice.at("unitmean") - agreement_of_means_V);
    EXPECT_LT(level.pulse->unit_meter->high - level.pulse->unit_meter->low, 1.0) << "wide bounds prove little";
    const circuit::WorstCase& unit = level.solved.cases.at(*level.unit);
    EXPECT_LE(unit.low.bound, spice.at("unitlow") + moment_V);
    EXPECT_GE(unit.high.bound, spice.at("unithigh") - moment_V);
  }
}

}  // namespace
}  // namespace zoneproof::electric
