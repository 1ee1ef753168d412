// Pulsed terminals on a whole site: levels, settling, meter and sampling against the closed form of the divider, and
// what is said where something is not known.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "electric/hand_deck.hpp"
#include "electric/levels.hpp"

namespace zoneproof::electric {
namespace {

using nlohmann::json;

/// A pair with 4.7 kohm at its end, on a terminal driven 5 ms of every 20 ms; 10 nF at the screws, no other
/// capacitance.
json scanned() {
  return json::parse(R"({
    "parts": {
      "signal_cable": {"cable": {"capacitance_nF_per_km": 0}},
      "terminal_part": {"zone_terminal": {"drive": "scanned", "on_s": 0.005, "period_s": 0.02, "off_V": 0, "look_s": 0.004,
        "filter_s": "none", "capacitance_nF": 10, "series_ohm": "none"}},
      "unit_part": {"unit": {"input": {"capacitance_nF": "none", "filter_s": "none", "sampling_s": 0.001, "debounce_s": 0.05}}}},
    "units": {"u1": {"feed": {"cable": "none"}}},
    "zones": {"z1": {"loop": {"arrangement": "single_eol_closed", "eol_ohm": {"value": 4700, "tolerance_pct": 0, "tempco_ppm_K": 0},
      "contacts": {"a": {"detector": "da", "contact": "closed", "role": "alarm", "shunt_ohm": "none"}}}}}})");
}

/// RFC 7396, but for null: it stays, so that it still takes out what stands in the base site.
void merge(json& base, const json& patch) {
  for (const auto& [key, value] : patch.items()) {
    if (value.is_object() && base[key].is_object()) {
      merge(base[key], value);
    } else {
      base[key] = value;
    }
  }
}

json merged(json base, const char* patch) {
  merge(base, json::parse(patch));
  return base;
}

Level at_rest(const json& patch, UnitCondition unit = UnitCondition::powered) {
  ZoneSituation situation;
  situation.zone = "z1";
  situation.trigger = "t1";
  situation.unit = unit;
  return solve_level(base_site_with(patch.dump()), situation);
}

/// Level of the terminal by hand: a divider of pull-up against everything that hangs on the terminal.
double divider(double volts) {
  const double load = 1.0 / (1.0 / 4701.0 + 1.0 / 1e6 + 1.0 / 68e3);
  return volts * load / (load + 3300.0);
}

const circuit::WorstCase& unit_of(const Level& level) { return level.solved.cases.at(*level.unit); }
const circuit::WorstCase& panel_of(const Level& level) { return level.solved.cases.at(*level.panel); }

bool names(const std::vector<chain::Gap>& gaps, const std::string& field) {
  return std::any_of(gaps.begin(), gaps.end(), [&](const chain::Gap& gap) {
    return gap.pointer.size() >= field.size() &&
           gap.pointer.compare(gap.pointer.size() - field.size(), field.size(), field) == 0;
  });
}

TEST(ScannedTerminal, IsADividerInThePulseAndNothingBetween) {
  const Level level = at_rest(scanned());
  ASSERT_TRUE(level.pulse.has_value());
  EXPECT_TRUE(level.pulse->gaps.empty());
  ASSERT_EQ(level.pulse->parts.size(), 2U);
  const auto& on = level.pulse->parts[0].solved.cases.at(*level.panel);
  const auto& off = level.pulse->parts[1].solved.cases.at(*level.panel);
  EXPECT_NEAR(on.nominal, divider(5.05), 0.01);
  EXPECT_NEAR(off.nominal, 0.0, 0.01);
  // T = R C of the pull-up beside the loop, 10 nF: the whole of 10 uF is counted at the screws.
  const double ohm = 1.0 / (1.0 / 4711.0 + 1.0 / 1e6 + 1.0 / 68e3 + 1.0 / 3300.0);
  EXPECT_NEAR(level.pulse->total_s, ohm * 10e-9, 0.02 * ohm * 10e-9);
  EXPECT_NEAR(panel_of(level).low.bound, on.low.bound, 1e-6) << "200 time constants: settled when the panel looks";
  EXPECT_NEAR(unit_of(level).low.bound, 0.0, 0.1) << "the unit may look between the pulses";
  EXPECT_NEAR(unit_of(level).high.bound, divider(5.05), 0.1);
}

TEST(ScannedTerminal, ShowsAMeterTheMeanWhateverTheCapacitance) {
  for (const char* nF : {"1", "10", "1000"}) {
    const std::string patch =
        std::string(R"({"parts": {"terminal_part": {"zone_terminal": {"capacitance_nF": )") + nF + "}}}}";
    const Level level = at_rest(merged(scanned(), patch.c_str()));
    ASSERT_TRUE(level.pulse->panel_meter.has_value());
    EXPECT_NEAR(level.pulse->panel_meter->nominal, divider(5.05) / 4.0, 0.01) << nF;
    EXPECT_LT(level.pulse->panel_meter->high - level.pulse->panel_meter->low, 0.02) << nF;
  }
}

TEST(ScannedTerminal, IsReadTooLowWhereThePulseIsTooShort) {
  // About 1.9 kohm and 1 uF: 1.9 ms against a look after 4 ms. One capacitance by hand: exp(-4/1.9) = 12 % is missing.
  const Level level =
      at_rest(merged(scanned(), R"({"parts": {"terminal_part": {"zone_terminal": {"capacitance_nF": 1000}}}})"));
  const double nominal = level.pulse->parts[0].solved.cases.at(*level.panel).nominal;
  const double by_hand = nominal * (1.0 - std::exp(-4e-3 / level.pulse->total_s));
  EXPECT_LE(panel_of(level).low.bound, by_hand);
  EXPECT_NEAR(panel_of(level).low.attained, by_hand, 0.02) << "some real pair certainly reads too low";
  EXPECT_LT(level.pulse->left_at_look, 0.4);
}

TEST(ScannedTerminal, IsAveragedByALongFilter) {
  const Level level = at_rest(merged(scanned(), R"({"parts": {"unit_part": {"unit": {"input": {"filter_s": 0.5}}}}})"));
  const Reach by_hand = filtered({{0.005, divider(5.05)}, {0.015, 0.0}}, 0.5);
  EXPECT_NEAR(unit_of(level).low.bound, by_hand.low, 0.06);
  EXPECT_NEAR(unit_of(level).high.bound, by_hand.high, 0.06);
  EXPECT_LT(unit_of(level).high.bound - unit_of(level).low.bound, 0.1);
}

/// The unit's looks by brute force: every phase, steps of 1 us; the courses are exact for one capacitance.
TEST(ScannedTerminal, HoldsWhatALookAtAnyPhaseSees) {
  for (double nF : {10.0, 300.0, 3000.0}) {
    const std::string patch =
        R"({"parts": {"terminal_part": {"zone_terminal": {"capacitance_nF": )" + std::to_string(nF) + "}}}}";
    const Level level = at_rest(merged(scanned(), patch.c_str()));
    const double top = level.pulse->parts[0].solved.cases.at(*level.unit).nominal;
    const double bottom = level.pulse->parts[1].solved.cases.at(*level.unit).nominal;
    const double tau = level.pulse->total_s;
    double v = 0.0, low = 1e9, high = -1e9;
    for (int i = 0; i < 100'000; ++i) {
      const double to = i % 20'000 < 5'000 ? top : bottom;
      v += (to - v) * -std::expm1(-1e-6 / tau);
      if (i >= 80'000) {
        low = std::min(low, v);
        high = std::max(high, v);
      }
    }
    EXPECT_LE(unit_of(level).low.bound, low + 1e-6) << nF;
    EXPECT_GE(unit_of(level).high.bound, high - 1e-6) << nF;
    EXPECT_GE(unit_of(level).low.attained, low - 1e-6) << "no more is claimed than some phase shows";
    EXPECT_LE(unit_of(level).high.attained, high + 1e-6);
  }
}

TEST(ScannedTerminal, MayLetGoBetweenItsPulses) {
  const Level level =
      at_rest(merged(scanned(), R"({"parts": {"terminal_part": {"zone_terminal": {"off_V": "none"}}}})"));
  ASSERT_TRUE(level.pulse.has_value());
  EXPECT_GT(level.pulse->parts[1].total_s, level.pulse->parts[0].total_s) << "without the pull-up it falls more slowly";
  EXPECT_NEAR(level.pulse->parts[1].solved.cases.at(*level.panel).nominal, 0.0, 0.01);
  ASSERT_TRUE(level.pulse->panel_meter.has_value());
  EXPECT_LE(level.pulse->panel_meter->low, divider(5.05) / 4.0 + 0.01);
  EXPECT_GE(level.pulse->panel_meter->high, divider(5.05) / 4.0);
}

TEST(BipolarTerminal, StandsInBothPolaritiesAndShowsAMeterTheirMean) {
  const Level level = at_rest(merged(scanned(), R"({"parts": {"terminal_part": {"zone_terminal": {"drive": "bipolar",
    "on_s": 0.01, "off_V": null, "reverse_V": -5.05, "reverse_s": "none", "look_s": 0.008}}}})"));
  ASSERT_EQ(level.pulse->parts.size(), 2U);
  EXPECT_EQ(level.pulse->parts[1].part, DrivePart::reverse);
  EXPECT_NEAR(unit_of(level).low.bound, -divider(5.05), 0.1);
  EXPECT_NEAR(unit_of(level).high.bound, divider(5.05), 0.1);
  EXPECT_NEAR(level.pulse->unit_meter->nominal, 0.0, 0.02) << "half and half: a meter shows nothing";
}

TEST(BipolarTerminal, MayRestBetweenItsPolarities) {
  const Level level = at_rest(merged(scanned(), R"({"parts": {"terminal_part": {"zone_terminal": {"drive": "bipolar",
    "reverse_V": -5.05, "reverse_s": 0.002}}}})"));
  ASSERT_EQ(level.pulse->parts.size(), 3U);
  EXPECT_NEAR(level.pulse->unit_meter->nominal, divider(5.05) * (5.0 - 2.0) / 20.0, 0.02);
}

TEST(AlternatingTerminal, SwingsByItsCrestFactorAndShowsAMeterNothing) {
  const char* sine = R"({"parts": {"terminal_part": {"zone_terminal": {"drive": "alternating", "source_V": null,
    "on_s": null, "off_V": null, "rms_V": 5, "wave": "sine", "period_s": 0.02, "look_s": 0.005}}}})";
  const Level level = at_rest(merged(scanned(), sine));
  ASSERT_TRUE(level.pulse.has_value());
  const double peak = divider(5.0 * std::sqrt(2.0));
  EXPECT_NEAR(unit_of(level).high.bound, peak, 0.1);
  EXPECT_NEAR(unit_of(level).low.bound, -peak, 0.1);
  EXPECT_NEAR(level.pulse->unit_meter->nominal, 0.0, 0.02);
  EXPECT_NEAR(panel_of(level).nominal, peak, 0.05) << "a quarter of a period after it rose through the middle";
  // Mean of a rectified sine: 2/pi of its peak (0.637), the r.m.s. is 1/sqrt 2 of it.
  const Level full = at_rest(
      merged(merged(scanned(), sine), R"({"parts": {"terminal_part": {"zone_terminal": {"wave": "full_wave"}}}})"));
  EXPECT_NEAR(full.pulse->unit_meter->nominal, peak * 2.0 / std::acos(-1.0), 0.02);
}

TEST(AlternatingTerminal, IsSmoothedByAFilterAsByTheBookOfOneFrequency) {
  const Level level =
      at_rest(merged(scanned(), R"({"parts": {"terminal_part": {"zone_terminal": {"drive": "alternating",
    "source_V": null, "on_s": null, "off_V": null, "rms_V": 5, "wave": "sine", "period_s": 0.02, "look_s": 0.005}},
    "unit_part": {"unit": {"input": {"filter_s": 0.1}}}}})"));
  const double peak = divider(5.0 * std::sqrt(2.0));
  const double gain = 1.0 / std::hypot(1.0, 2.0 * std::acos(-1.0) / 0.02 * 0.1);  // first order low-pass
  EXPECT_NEAR(unit_of(level).high.bound, peak * gain, 0.06);
  EXPECT_GE(unit_of(level).high.bound, peak * gain - 0.03);
}

struct Missing {
  const char* patch;
  const char* field;
};

TEST(PulsedTerminal, NamesWhatIsMissing) {
  for (const Missing& missing :
       {Missing{R"({"parts": {"terminal_part": {"zone_terminal": {"on_s": null}}}})", "/on_s"},
        Missing{R"({"parts": {"terminal_part": {"zone_terminal": {"period_s": null}}}})", "/period_s"},
        Missing{R"({"parts": {"terminal_part": {"zone_terminal": {"look_s": null}}}})", "/look_s"},
        Missing{R"({"parts": {"terminal_part": {"zone_terminal": {"capacitance_nF": null}}}})", "/capacitance_nF"},
        Missing{R"({"parts": {"signal_cable": {"cable": {"capacitance_nF_per_km": null}}}})", "/capacitance_nF_per_km"},
        Missing{R"({"parts": {"unit_part": {"unit": {"input": {"capacitance_nF": null}}}}})",
                "/input/capacitance_nF"}}) {
    const Level level = at_rest(merged(scanned(), missing.patch));
    ASSERT_TRUE(level.pulse.has_value()) << missing.field;
    EXPECT_TRUE(names(level.pulse->gaps, missing.field)) << missing.field;
    chain::Evidence evidence;
    evidence.verdict = chain::Verdict::proven;
    with_pulse_gaps(evidence, level);
    EXPECT_EQ(evidence.verdict, chain::Verdict::unanswered) << missing.field;
  }
  const Level level = at_rest(merged(scanned(), R"({"parts": {"terminal_part": {"zone_terminal": {"off_V": null}}}})"));
  EXPECT_TRUE(names(level.solved.gaps, "/off_V"));
  EXPECT_TRUE(level.solved.unknown);
}

json from_file(const char* path) { return json::parse(std::ifstream(std::string(ZONEPROOF_SOURCE_DIR) + "/" + path)); }

/// What the pair with the rulebook's capacitance of a cable, and a cable that tells none, takes to settle.
TEST(PulsedTerminal, TakesTheRulebooksCapacitanceWhereTheCableTellsNone) {
  const json entry =
      from_file("data/rulebooks/common_practice.json")["rulebook"]["entries"]["cable_capacitance_nF_per_km"];
  json silent = merged(scanned(), R"({"parts": {"signal_cable": {"cable": {"capacitance_nF_per_km": null}}}})");
  silent["rulebooks"]["deck_rules"]["entries"]["cable_capacitance_nF_per_km"] = entry;
  const Level level = at_rest(silent);
  EXPECT_TRUE(level.pulse->gaps.empty()) << "an envelope bears a proof";
  // The highest of the envelope counts; the pair's cable of 55 m at the screws, the wire of 12 m at the input.
  const double most = entry["value"]["max"].get<double>();
  const std::string patch =
      R"({"parts": {"signal_cable": {"cable": {"capacitance_nF_per_km": )" + std::to_string(most) + "}}}}";
  EXPECT_DOUBLE_EQ(level.pulse->total_s, at_rest(merged(scanned(), patch.c_str())).pulse->total_s);
  EXPECT_GT(level.pulse->total_s, 1.5 * at_rest(scanned()).pulse->total_s);
}

/// Each pulsed terminal of the shelf can be followed: nothing is unknown, only typical, and at rest it reads itself
/// right.
TEST(PulsedTerminal, OfTheShelfLacksNothing) {
  const json shelf = from_file("data/parts/zone_terminals.json")["parts"];
  for (const char* part :
       {"terminal_scanned_double_4k7", "terminal_bipolar_double_4k7", "terminal_alternating_double_4k7"}) {
    SCOPED_TRACE(part);
    json site = scanned();
    for (const char* steady : {"source_V", "pullup_ohm", "on_s", "off_V"})
      site["parts"]["terminal_part"]["zone_terminal"][steady] = nullptr;
    json& terminal = site["parts"]["terminal_part"]["zone_terminal"];
    for (const auto& [field, value] : shelf.at(part).at("zone_terminal").items()) terminal[field] = value;
    terminal["windows"]["any"] = nullptr;
    const Level level = at_rest(site);
    ASSERT_TRUE(level.pulse.has_value());
    EXPECT_FALSE(level.solved.unknown);
    EXPECT_FALSE(level.pulse->gaps.empty());
    for (const chain::Gap& gap : level.pulse->gaps) EXPECT_EQ(gap.reason, "typical") << gap.pointer;
    EXPECT_TRUE(level.pulse->panel_meter.has_value());
    const json& eol = terminal.at("windows").at("eol");
    if (std::string(part) == "terminal_alternating_double_4k7")
      continue;  // where a square wave stands at the look is not told
    EXPECT_LT(level.pulse->left_at_look, 0.01);
    EXPECT_GT(panel_of(level).low.bound, eol.at("min_V").get<double>());
    EXPECT_LT(panel_of(level).high.bound, eol.at("max_V").get<double>());
  }
}

TEST(PulsedTerminal, ContradictionsAreRefused) {
  const auto refuses = [](const char* terminal) {
    const std::string patch = std::string(R"({"parts": {"terminal_part": {"zone_terminal": )") + terminal + "}}}";
    EXPECT_THROW(base_site_with(merged(scanned(), patch.c_str()).dump()), std::runtime_error) << terminal;
  };
  EXPECT_NO_THROW(base_site_with(scanned().dump()));
  refuses(R"({"on_s": 0.03})");                                             // longer than the period
  refuses(R"({"look_s": 0.006})");                                          // after the pulse
  refuses(R"({"drive": "steady"})");                                        // with the times of pulses
  refuses(R"({"reverse_V": -5})");                                          // of a scanned one
  refuses(R"({"rms_V": 5})");                                               // of a scanned one
  refuses(R"({"drive": "bipolar", "reverse_V": 5, "reverse_s": 0.002})");   // both of one sign
  refuses(R"({"drive": "bipolar", "reverse_V": -5, "reverse_s": 0.018})");  // longer than the period together
}

TEST(QuietTime, IsWhatIsLeftOfThePulseOnceItHasSettled) {
  const Level level = at_rest(scanned());
  Band band;
  band.min = Side{*level.unit, 2.0};
  const auto quiet = quiet_time(level, band, 0.0);
  ASSERT_TRUE(quiet.has_value());
  EXPECT_EQ(quiet->standing->part, DrivePart::on);
  EXPECT_GT(quiet->seconds, 0.0048);
  EXPECT_LT(quiet->seconds, 0.005);
  EXPECT_NEAR(quiet->seconds + quiet->away_s, 0.02, 1e-12);
  band.min->limit = 4.0;
  EXPECT_FALSE(quiet_time(level, band, 0.0).has_value()) << "the pulse never gets there";
}

}  // namespace
}  // namespace zoneproof::electric
