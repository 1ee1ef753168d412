// A terminal known by its readings alone, in the proof: no pair that the readings allow goes beyond the levels found,
// the levels are not wider than the pairs make them, and readings that say too little, or contradict each other, prove
// nothing and name what to do.
#include "electric/terminal_readings.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <random>

#include "electric/answers.hpp"
#include "electric/levels.hpp"
#include "electric/loop_check.hpp"
#include "electric/random_site.hpp"
#include "electric/site_circuit.hpp"

namespace zoneproof::electric {
namespace {

using nlohmann::json;

constexpr double same_reading_V = 2e-6;  ///< twice the tolerance within which a worst case is exact
const char* const readings_at = "/parts/terminal_part/zone_terminal/readings";

json meter() {
  return {{"input_ohm", {{"min", 9.9e6}, {"max", 10.1e6}}},
          {"burden_ohm", {{"min", 90}, {"max", 110}}},
          {"error_pct", 0.5},
          {"error_digits", 2},
          {"digit_V", 0.001},
          {"digit_A", 1e-6}};
}

json reading(const char* kind, const char* key, double shown) {
  return {{"kind", kind}, {"supply", "mains"}, {key, shown}, {"meter", meter()}};
}

/// What an ideal meter would show at a terminal whose measuring input draws `input_S`.
json readings_of(double volts, double ohm, double input_S) {
  const double resistor = 3300.0;
  json loaded = reading("loaded", "shown_V", volts / (1 + ohm * (1e-7 + 1 / resistor + input_S)));
  loaded["resistor_ohm"] = {{"value", resistor}, {"tolerance_pct", 1}, {"tempco_ppm_K", 0}};
  return {{"open", reading("open", "shown_V", volts / (1 + ohm * (1e-7 + input_S)))},
          {"loaded", loaded},
          {"shorted", reading("shorted", "shown_A", volts / (100 + ohm * (1 + 100 * input_S)))}};
}

json& spec_of(json& site) { return site["parts"]["terminal_part"]["zone_terminal"]; }

/// A random site whose terminal has no papers, only readings.
json measured_site(unsigned seed) {
  json site = random_site(seed);
  json& spec = spec_of(site);
  spec["readings"] = readings_of(5.0, spec["pullup_ohm"]["value"].get<double>(), 1 / (1e6 + 1200));
  spec.erase("source_V");
  spec.erase("pullup_ohm");
  return site;
}

/// Clamps that conduct in some corners and a regulator that draws constant power.
void make_nonlinear(json& site) {
  json& unit = site["parts"]["unit_part"]["unit"];
  unit["current_A"] = "none";
  unit["power_W"] = {{"value", 4.2}, {"tolerance_pct", 10}};
  unit["lockout_V"] = 8;
  unit["startup_A"] = 0.6;
  unit["input"].update(json{{"clamp_forward_V", {{"min", 0.2}, {"max", 0.7}}},
                            {"clamp_on_ohm", 1000},
                            {"pullup_ohm", 150e3},
                            {"inner_rail_V", 3.3},
                            {"inner_rail_load_ohm", 5000}});
}

ZoneSituation situation(const ZoneState& state, UnitCondition unit) {
  return {"z1", state, SupplyCondition::mains, "t1", unit};
}

TerminalRegion region_of(const site::Site& site) {
  const auto taken = taken_readings(site, *site.parts.at("terminal_part").zone_terminal, "panel");
  return terminal_model(taken->readings, taken->same_source, taken->known).mains;
}

/// The same site with papers that state this pair.
Level level_of_pair(json site, const TerminalPoint& pair, const ZoneSituation& asked) {
  json& spec = spec_of(site);
  spec.erase("readings");
  spec["source_V"] = {{"value", pair.volts}, {"origin", "measured"}};
  spec["pullup_ohm"] = {{"value", pair.ohm}, {"origin", "measured"}};
  return solve_level(read(site), asked);
}

TerminalPoint mixture(const std::vector<TerminalPoint>& corners, std::mt19937& random) {
  std::exponential_distribution<double> weight(1.0);
  TerminalPoint point;
  double total = 0.0;
  for (const TerminalPoint& corner : corners) {
    const double w = weight(random);
    point.ohm += w * corner.ohm;
    point.volts += w * corner.volts;
    total += w;
  }
  return {point.ohm / total, point.volts / total};
}

/// Every pair inside and every corner: within the bounds. Returns how many of the four bounds are claimed as exact, and
/// holds those against the corners.
int expect_enclosed(const json& text, const ZoneSituation& asked, std::mt19937& random) {
  const site::Site site = read(text);
  const Level level = solve_level(site, asked);
  EXPECT_TRUE(level.solved.gaps.empty()) << level.solved.gaps.front().pointer << level.solved.gaps.front().reason;
  std::vector<TerminalPoint> pairs = region_of(site).vertices();
  EXPECT_GE(pairs.size(), 3u);
  const std::size_t corners = pairs.size();
  for (int i = 0; i < 6; ++i) pairs.push_back(mixture(region_of(site).vertices(), random));
  int exact = 0;
  for (std::size_t q = 0; q < level.quantities.size(); ++q) {
    const circuit::WorstCase& worst = level.solved.cases[q];
    double low = circuit::infinite, high = -circuit::infinite;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      const circuit::WorstCase pair = level_of_pair(text, pairs[i], asked).solved.cases.at(q);
      EXPECT_GE(pair.low.bound, worst.low.bound - same_reading_V) << asked.name() << " quantity " << q << " pair " << i;
      EXPECT_LE(pair.high.bound, worst.high.bound + same_reading_V)
          << asked.name() << " quantity " << q << " pair " << i;
      if (i >= corners) continue;
      low = std::min(low, pair.low.attained);
      high = std::max(high, pair.high.attained);
    }
    EXPECT_TRUE(!worst.low.exact || std::fabs(low - worst.low.bound) < same_reading_V)
        << asked.name() << " quantity " << q;
    EXPECT_TRUE(!worst.high.exact || std::fabs(high - worst.high.bound) < same_reading_V)
        << asked.name() << " quantity " << q;
    exact += (worst.low.exact ? 1 : 0) + (worst.high.exact ? 1 : 0);
  }
  return exact;
}

TEST(TerminalReadings, NoPairOfTheRegionGoesBeyondTheLevels) {
  std::mt19937 random(1);
  int exact = 0, all = 0;
  for (unsigned seed = 0; seed < 12; ++seed) {
    for (const ZoneState& state : {ZoneState{Happening::rest, ""}, ZoneState{Happening::alarm, "a"}}) {
      exact += expect_enclosed(measured_site(seed), situation(state, UnitCondition::powered), random);
      all += 4;
    }
  }
  EXPECT_GT(exact, all * 9 / 10) << "of " << all;
}

TEST(TerminalReadings, NorWithClampsAndARegulatorBesideIt) {
  std::mt19937 random(2);
  int exact = 0, all = 0;
  for (unsigned seed = 0; seed < 12; ++seed) {
    json site = measured_site(seed);
    make_nonlinear(site);
    for (UnitCondition unit : {UnitCondition::powered, UnitCondition::unpowered, UnitCondition::booting}) {
      const ZoneState state = seed % 2 == 0 ? ZoneState{Happening::rest, ""} : ZoneState{Happening::alarm, "a"};
      exact += expect_enclosed(site, situation(state, unit), random);
      all += 4;
    }
  }
  EXPECT_GT(exact, all / 2) << "of " << all;
}

TEST(TerminalReadings, ThePolygonIsSharperThanItsHull) {
  // Over the very resistor that was read the level is known as well as the meter reads; a hull would not know it.
  json site = measured_site(2);
  json& zone = site["zones"]["z1"]["loop"];
  zone["eol_ohm"] = {{"value", 3300}, {"tolerance_pct", 0}, {"origin", "measured"}};
  const ZoneSituation rest = situation({}, UnitCondition::detached);
  const site::Site as_read = read(site);
  const Level joint = solve_level(as_read, rest);
  const TerminalRegion region = region_of(as_read);
  const circuit::WorstCase& worst = joint.solved.cases.at(*joint.panel);
  double low = circuit::infinite, high = -circuit::infinite;
  for (double ohm : {region.ohm().low, region.ohm().high}) {
    for (double volts : {region.volts().low, region.volts().high}) {
      const Level box = level_of_pair(site, {ohm, volts}, rest);
      low = std::min(low, box.solved.cases.at(*box.panel).low.bound);
      high = std::max(high, box.solved.cases.at(*box.panel).high.bound);
    }
  }
  EXPECT_GT(worst.low.bound, low + 1e-4);
  EXPECT_LT(worst.high.bound, high - 1e-4);
  EXPECT_TRUE(joint.solved.low_exact.at(*joint.panel));
}

TEST(TerminalReadings, AreNamedInTheCornerAsMeasured) {
  const Level level = solve_level(read(measured_site(2)), situation({}, UnitCondition::powered));
  EXPECT_LE(level.solved.weakest, site::Origin::envelope);
  const auto corner =
      telling_corner(level.circuit.wiring, level.quantities.at(*level.panel), level.solved.cases.at(*level.panel).high);
  const auto named = [&](const char* unit) {
    return std::count_if(corner.begin(), corner.end(), [&](const chain::CornerValue& value) {
      return value.pointer == readings_at && value.unit == unit;
    });
  };
  EXPECT_EQ(named("V"), 1);
  EXPECT_EQ(named("ohm"), 1);
  // The pair in the corner is one of the region's, not two ends of its hull.
  TerminalPoint pair;
  for (const chain::CornerValue& value : corner) {
    if (value.pointer == readings_at) (value.unit == "V" ? pair.volts : pair.ohm) = value.value;
  }
  const std::vector<TerminalPoint> corners = region_of(read(measured_site(2))).vertices();
  EXPECT_TRUE(std::any_of(corners.begin(), corners.end(), [&](const TerminalPoint& one) {
    return std::fabs(one.ohm - pair.ohm) < 1e-6 * one.ohm && std::fabs(one.volts - pair.volts) < 1e-6;
  }));
}

// ---- Too little, or too much
// -----------------------------------------------------------------------------------------

std::vector<chain::Gap> gaps_of(const json& site) {
  const Level level = solve_level(read(site), situation({}, UnitCondition::powered));
  EXPECT_TRUE(level.solved.unknown);
  return level.solved.gaps;
}

void expect_only_gap(const json& site, const std::string& pointer, const char* reason) {
  const std::vector<chain::Gap> gaps = gaps_of(site);
  ASSERT_EQ(gaps.size(), 1u) << pointer;
  EXPECT_EQ(gaps.front().pointer, pointer);
  EXPECT_EQ(gaps.front().reason, reason);
}

TEST(TerminalReadings, ThatSayTooLittleNameTheOneToTakeNext) {
  json site = measured_site(2);
  const json all = spec_of(site)["readings"];
  spec_of(site)["readings"] = {{"open", all["open"]}};
  expect_only_gap(site, readings_at, "reading_loaded");
  spec_of(site)["readings"] = {{"shorted", all["shorted"]}};
  expect_only_gap(site, readings_at, "reading_open");
  json dead = readings_of(0.0, 3000, 0);
  spec_of(site)["readings"] = {{"open", dead["open"]}, {"loaded", dead["loaded"]}};
  expect_only_gap(site, readings_at, "reading_shorted");
}

TEST(TerminalReadings, ThatContradictEachOtherNameTheOneThatIsWrong) {
  json site = measured_site(2);
  json& readings = spec_of(site)["readings"];
  readings["again"] = readings["loaded"];
  readings["again"]["resistor_ohm"]["value"] = 1000;  // the voltage of 3.3 kohm over 1 kohm
  expect_only_gap(site, std::string(readings_at) + "/again", "reading_disagrees");
  readings.erase("open");
  readings.erase("shorted");  // two are left: nobody can say which
  readings["again"]["shown_V"] = 4.9;
  expect_only_gap(site, readings_at, "readings_disagree");
}

TEST(TerminalReadings, ProveNothingWithoutWhatTheMetersSheetSays) {
  for (const char* missing :
       {"open/meter/input_ohm", "open/meter/error_pct", "open/meter/error_digits", "open/meter/digit_V",
        "shorted/meter/burden_ohm", "shorted/meter/digit_A", "open/shown_V", "loaded/resistor_ohm", "open/kind"}) {
    json site = measured_site(2);
    const std::string pointer = std::string(readings_at) + "/" + missing;
    site[json::json_pointer(pointer)] = nullptr;
    expect_only_gap(site, pointer, "unknown");
  }
}

TEST(TerminalReadings, AskForTheToleranceOfAResistorThatIsOnlyPrintedOnIt) {
  json site = measured_site(2);
  spec_of(site)["readings"]["loaded"]["resistor_ohm"] = 3300;
  for (const auto& [rule, unit] : {std::pair("resistor_tolerance_pct", "pct"), {"resistor_tempco_ppm_K", "ppm_K"}}) {
    site["rulebooks"]["deck_rules"]["entries"][rule] = {
        {"value", 5}, {"unit", unit}, {"meaning", "Chosen."}, {"source", "chosen for the test"}, {"verified", true}};
  }
  const Level level = solve_level(read(site), situation({}, UnitCondition::powered));
  ASSERT_EQ(level.solved.gaps.size(), 1u);
  EXPECT_EQ(level.solved.gaps.front().pointer, std::string(readings_at) + "/loaded/resistor_ohm/tolerance_pct");
  EXPECT_EQ(level.solved.gaps.front().reason, "assumed");
}

// ---- What the papers say beside ------------------------------------------------------------------------------------

TEST(TerminalReadings, StandInForTypicalFiguresAndAreCutByFirmOnes) {
  json site = measured_site(2);
  const Extent ohm = region_of(read(site)).ohm();
  spec_of(site)["source_V"] = {{"value", 12}, {"origin", "typical"}};
  EXPECT_DOUBLE_EQ(region_of(read(site)).ohm().high, ohm.high) << "a typical figure gives way";
  spec_of(site)["source_V"] = {{"min", 4.999}, {"max", 5.001}, {"origin", "data_sheet"}};
  const TerminalRegion cut = region_of(read(site));
  EXPECT_LT(cut.ohm().width(), 0.99 * ohm.width());
  EXPECT_NEAR(cut.volts().high, 5.001, 1e-9);
}

const char* const spec_at = "/parts/terminal_part/zone_terminal";

TEST(TerminalReadings, NameTheValueOfTheSheetThatTheyContradict) {
  json site = measured_site(2);
  spec_of(site)["pullup_ohm"] = {{"value", 900}, {"tolerance_pct", 1}, {"origin", "data_sheet"}};
  expect_only_gap(site, std::string(spec_at) + "/pullup_ohm", "sheet_disagrees");
  // A source of more voltage would fit if the input drew more than its sheet says: either may be wrong.
  spec_of(site).erase("pullup_ohm");
  spec_of(site)["source_V"] = {{"min", 5.2}, {"max", 5.3}, {"origin", "data_sheet"}};
  std::vector<std::string> named;
  for (const chain::Gap& gap : gaps_of(site)) {
    EXPECT_EQ(gap.reason, "sheet_disagrees");
    named.push_back(gap.pointer);
  }
  EXPECT_EQ(named, (std::vector<std::string>{std::string(spec_at) + "/source_V", std::string(spec_at) + "/input_ohm"}));
  // One reading and the sheet: nobody can tell which is wrong, so both are named.
  spec_of(site)["readings"] = {{"open", spec_of(site)["readings"]["open"]}};
  spec_of(site)["source_V"] = {{"min", 3.2}, {"max", 3.3}, {"origin", "data_sheet"}};
  const std::vector<chain::Gap> both = gaps_of(site);
  ASSERT_EQ(both.size(), 2u);
  EXPECT_EQ(both.front().reason, "readings_disagree");
  EXPECT_EQ(both.back().pointer, std::string(spec_at) + "/source_V");
}

TEST(TerminalReadings, AreCutByASheetThatKnowsTheSourceWhereNobodyKnowsTheInput) {
  // 5 V behind 3 kohm, 50 kohm across: at the screws 4.717 V behind 2.830 kohm. The sheet's pull-up is no less than
  // that, its source too, and 5 V / 3 kohm is the current into a short with any input.
  json site = measured_site(2);
  json& spec = spec_of(site);
  spec.erase("series_ohm");
  spec.erase("input_ohm");
  spec["readings"] = readings_of(5.0, 3000, 1 / 50e3);
  const Extent alone = region_of(read(site)).ohm();
  const TerminalPoint at_screws = {3000 * 50e3 / 53e3, 5.0 * 50e3 / 53e3};
  spec["pullup_ohm"] = {{"value", 3000}, {"tolerance_pct", 0.1}, {"origin", "data_sheet"}};
  spec["source_V"] = {{"value", 5.0}, {"tolerance_pct", 0.1}, {"origin", "data_sheet"}};
  const TerminalRegion cut = region_of(read(site));
  EXPECT_LT(cut.ohm().width(), 0.9 * alone.width());
  EXPECT_LE(cut.ohm().low, at_screws.ohm);
  EXPECT_GE(cut.ohm().high, at_screws.ohm);
  const ZoneSituation rest = situation({}, UnitCondition::powered);
  const Level held = solve_level(read(site), rest);
  ASSERT_TRUE(held.solved.gaps.empty()) << held.solved.gaps.front().pointer;
  // The true terminal with papers, its input known: its level is within.
  spec.erase("readings");
  spec["pullup_ohm"] = 3000;
  spec["source_V"] = 5.0;
  spec["series_ohm"] = "none";
  spec["input_ohm"] = 50e3;
  const Level truth = solve_level(read(site), rest);
  const circuit::WorstCase &a = truth.solved.cases.at(*truth.panel), &b = held.solved.cases.at(*held.panel);
  EXPECT_GE(a.low.bound, b.low.bound - same_reading_V);
  EXPECT_LE(a.high.bound, b.high.bound + same_reading_V);
}

TEST(TerminalReadings, HoldThePanelsInputWhereNobodyKnowsIt) {
  // The same readings, once with the input known and once as part of what was read: the same level at the screws.
  const double input_S = 1 / 50e3;
  json site = measured_site(2);
  json& spec = spec_of(site);
  spec["series_ohm"] = "none";
  spec["input_ohm"] = 50e3;
  spec["readings"] = readings_of(5.0, 3000, input_S);
  const ZoneSituation rest = situation({}, UnitCondition::powered);
  const Level known = solve_level(read(site), rest);
  spec.erase("input_ohm");
  const Level held = solve_level(read(site), rest);
  ASSERT_TRUE(known.solved.gaps.empty() && held.solved.gaps.empty());
  const circuit::WorstCase &a = known.solved.cases.at(*known.panel), &b = held.solved.cases.at(*held.panel);
  EXPECT_NEAR(a.low.bound, b.low.bound, 1e-5);
  EXPECT_NEAR(a.high.bound, b.high.bound, 1e-5);
  // A window in percent is a share of the true source, which such readings do not tell.
  spec["windows"] = {{"low", {{"means", "secure"}, {"min_pct", 20}, {"max_pct", 60}}}};
  const Level share = solve_level(read(site), rest);
  ASSERT_FALSE(share.solved.gaps.empty());
  EXPECT_EQ(share.solved.gaps.front().pointer, "/parts/terminal_part/zone_terminal/input_ohm");
}

TEST(TerminalReadings, TellOnlyThePullUpOfASourceThatFollowsTheRail) {
  json site = measured_site(2);
  json& spec = spec_of(site);
  spec["source"] = "raw_rail";
  spec["source_pct"] = 100;
  const double input_S = 1 / (1e6 + 1200);
  spec["readings"] = readings_of(13.6, 3000, input_S);
  spec["readings"]["shorted"] = readings_of(11.0, 3000, input_S)["shorted"];
  spec["readings"]["on_battery"] = readings_of(11.0, 3000, input_S)["open"];
  spec["readings"]["shorted"]["supply"] = spec["readings"]["on_battery"]["supply"] = "battery";
  const site::Site as_read = read(site);
  const auto source = measured_source(as_read, *as_read.parts.at("terminal_part").zone_terminal, "panel");
  ASSERT_TRUE(source);
  EXPECT_FALSE(source->volts) << "V follows the rail of each condition";
  EXPECT_TRUE(source->corners.empty());
  EXPECT_LT(source->ohm.range.low, 3000);
  EXPECT_GT(source->ohm.range.high, 3000);
  EXPECT_LT(source->ohm.range.high, 3200);
  spec["readings"]["open"]["supply"] = nullptr;
  expect_only_gap(site, std::string(readings_at) + "/open/supply", "unknown");
}

TEST(TerminalReadings, ReadDownwardBelowAPositiveCommon) {
  // The same circuit upside down: the level below the positive is that above the negative.
  json site = measured_site(2);
  const ZoneSituation rest = situation({}, UnitCondition::detached);
  const Level up = solve_level(read(site), rest);
  spec_of(site)["refers_to"] = "positive";
  const Level down = solve_level(read(site), rest);
  ASSERT_TRUE(down.solved.gaps.empty());
  EXPECT_NEAR(up.solved.cases.at(*up.panel).low.bound, down.solved.cases.at(*down.panel).low.bound, same_reading_V);
  EXPECT_NEAR(up.solved.cases.at(*up.panel).high.bound, down.solved.cases.at(*down.panel).high.bound, same_reading_V);
}

TEST(TerminalReadings, WindowsInPercentAreBoundedByTheHull) {
  json site = measured_site(2);
  spec_of(site)["windows"] = {{"low", {{"means", "secure"}, {"min_pct", 20}, {"max_pct", 60}}}};
  std::mt19937 random(4);
  expect_enclosed(site, situation({}, UnitCondition::powered), random);
}

TEST(TerminalReadings, DriftWithTheTemperatureOfTheirPlace) {
  json site = measured_site(2);
  const ZoneSituation rest = situation({}, UnitCondition::detached);
  const auto ohm_of = [&] {
    const site::Site as_read = read(site);
    return measured_source(as_read, *as_read.parts.at("terminal_part").zone_terminal, "panel")->ohm.range;
  };
  const circuit::Range before = ohm_of();
  site["areas"]["hall"] = {{"temperature_min_degC", 0}, {"temperature_max_degC", 40}};
  const circuit::Range unknown = ohm_of();
  EXPECT_EQ(unknown.high, circuit::infinite) << "the rulebook does not say how much";
  site["rulebooks"]["deck_rules"]["entries"]["resistor_tempco_ppm_K"] = {
      {"value", 100}, {"unit", "ppm_K"}, {"meaning", "Chosen."}, {"source", "chosen for the test"}, {"verified", true}};
  const circuit::Range after = ohm_of();
  EXPECT_NEAR(after.high, before.high * (1 + 100e-6 * 40), 1e-9 * before.high);
  EXPECT_NEAR(after.low, before.low * (1 - 100e-6 * 40), 1e-9 * before.low);
}

TEST(TerminalReadings, SeveralTerminalsOfOneKindAreSafeAsTheirHull) {
  // Two zones in earnest in one network: no corner of one polygon for both, so nothing exact is claimed that is not
  // one.
  json site = measured_site(2);
  site["zones"]["z2"] = site["zones"]["z1"];
  site["zones"]["z2"]["number"] = 2;
  site["zones"]["z2"]["input"] = 2;
  site["zones"]["z2"]["loop"]["cable"] = "loop_cable_2";
  SiteSituation whole = whole_site(read(site), SupplyCondition::mains, {}, false);
  const SiteCircuit circuit = build_site_circuit(read(site), whole);
  ASSERT_EQ(circuit.wiring.joints().size(), 2u);
  const Solved solved = solve_wiring(circuit.wiring, {panel_reading(circuit.terminals.at("z1"))});
  const Level alone = solve_level(read(site), situation({}, UnitCondition::powered));
  EXPECT_LE(solved.cases.front().low.bound, alone.solved.cases.at(*alone.panel).low.bound + same_reading_V);
  EXPECT_GE(solved.cases.front().high.bound, alone.solved.cases.at(*alone.panel).high.bound - same_reading_V);
}

}  // namespace
}  // namespace zoneproof::electric
