// Published and textbook values through the whole electric layer: a site file in, the engine's levels out.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "electric/hand_deck.hpp"
#include "electric/levels.hpp"
#include "electric/supply_check.hpp"

namespace zoneproof::electric {
namespace {

std::string number(double value) {
  char text[40];
  std::snprintf(text, sizeof text, "%.17g", value);
  return text;
}

/// A terminal of `source_V` behind `pullup`, nothing in its measuring input, on a loop of one resistor.
std::string terminal(double source_V, double pullup) {
  return R"("terminal_part": {"zone_terminal": {"series_ohm": "none", "input_ohm": "none", "source_V": )" +
         number(source_V) + R"(, "pullup_ohm": )" + number(pullup) + "}}";
}

Level level_of(const site::Site& site, Happening happening, const std::string& contact, UnitCondition unit) {
  ZoneSituation situation;
  situation.zone = "z1";
  situation.trigger = "t1";
  situation.state = {happening, contact};
  situation.unit = unit;
  return solve_level(site, situation);
}

double panel_V(const site::Site& site, Happening happening = Happening::rest, const std::string& contact = "") {
  const Level level = level_of(site, happening, contact, UnitCondition::detached);
  return level.solved.cases.at(*level.panel).nominal;
}

// --- zone loops -----------------------------------------------------------------------------------------------------

/// What a pair of `ohm` reads behind 680 ohm from 5 V.
double with_680(double ohm) {
  return panel_V(base_site_with(R"({"parts": {)" + terminal(5.0, 680.0) + R"(},
    "zones": {"z1": {"loop": {"arrangement": "single_eol_closed", "cable": "none", "eol_ohm": )" +
                                number(ohm) + R"(, "contacts": {}}}}})"));
}

TEST(ZoneLoop, ThresholdsOfTheSia_Cp01_WorkingPaperFollowFrom680OhmAnd5Volt) {
  // SIA CP-01 draft working paper: short <= 0.75 V, 0-120 ohm; normal 1.1-4.1 V, 190-3000 ohm;
  // open 4.6-5.0 V, from 7800 ohm. It gives no circuit; 680 ohm reproduces all of it to the digits printed.
  EXPECT_NEAR(with_680(120.0), 0.750, 5e-4);
  EXPECT_NEAR(with_680(190.0), 1.092, 5e-4);
  EXPECT_NEAR(with_680(3000.0), 4.076, 5e-4);
  EXPECT_NEAR(with_680(7800.0), 4.599, 5e-4);
}

TEST(ZoneLoop, DoubleEolOfEqualResistorsReadsHalfTwoThirdsAndAll) {
  // Regression by independent arithmetic: 5 V, pull-up, EOL and alarm resistor 4k7 each.
  const site::Site site = base_site_with(R"({"parts": {)" + terminal(5.0, 4700.0) + R"(,
      "detector_part": {"detector": {"contacts": {"closed": {"closed_ohm": 0, "open_ohm": "none"}}}}},
    "zones": {"z1": {"loop": {"arrangement": "double_eol", "cable": "none", "eol_ohm": 4700, "alarm_ohm": 4700,
      "contacts": {"a": {"detector": "da", "contact": "closed", "role": "alarm", "shunt_ohm": "none"}}}}}})");
  EXPECT_NEAR(panel_V(site, Happening::shorted), 0.0, 1e-9);
  EXPECT_NEAR(panel_V(site), 2.5, 1e-9);
  EXPECT_NEAR(panel_V(site, Happening::alarm, "a"), 10.0 / 3.0, 1e-9);
  EXPECT_NEAR(panel_V(site, Happening::tamper_open), 5.0, 1e-9);
}

/// A divider loaded by a unit's input: what both read. No shift of negatives: the unit takes no current.
double loaded_V(double source_V, double top, double bottom, double load) {
  const site::Site site = base_site_with(R"({"parts": {)" + terminal(source_V, top) + R"(,
      "unit_part": {"unit": {"current_A": 0, "input": {"impedance_ohm": )" +
                                         number(load) + R"(}}}},
    "triggers": {"t1": {"cable": "none"}}, "units": {"u1": {"feed": {"cable": "none"}}},
    "zones": {"z1": {"loop": {"arrangement": "single_eol_closed", "cable": "none", "eol_ohm": )" +
                                         number(bottom) + R"(, "contacts": {}}}}})");
  const Level level = level_of(site, Happening::rest, "", UnitCondition::powered);
  return level.solved.cases.at(*level.unit).nominal;
}

TEST(ZoneLoop, AUnitsInputLoadsTheDividerAsTheTextbooksSay) {
  EXPECT_NEAR(loaded_V(10.0, 100e3, 100e3, 1e6), 4.76, 5e-3);  // electronica.guru 38105
  EXPECT_NEAR(loaded_V(6.0, 1e3, 2e3, 1e6), 3.997, 5e-4);      // authorea 127673, all three
  EXPECT_NEAR(loaded_V(6.0, 1e3, 2e3, 10e3), 3.749, 1.1e-3);   // 3.7500 exactly; printed one short in the last digit
  EXPECT_NEAR(loaded_V(6.0, 1e3, 2e3, 667.0), 2.0, 1e-3);
  EXPECT_NEAR(loaded_V(50.0, 5.5e3, 5e3, 10e3), 18.868, 5e-4);  // bartleby, by independent arithmetic
}

// --- feeds ----------------------------------------------------------------------------------------------------------

/// A load on one cable from a stiff supply: what it sees. `one_way_ohm` is each of the two conductors.
site::Site one_feed(double supply_V, double ohm_per_km, double length_m, const std::string& load_patch) {
  return base_site_with(R"({"zones": null, "triggers": null, "units": null,
    "parts": {"power_cable": {"cable": {"resistance_ohm_per_km": )" +
                        number(ohm_per_km) + R"(}},
      "supply_part": {"supply": {"mains_V": )" +
                        number(supply_V) + R"(, "outputs": {"aux": {"series_ohm": "none"}}}},)" + load_patch + R"(},
    "cables": {"feed_cable": {"length_m": )" +
                        number(length_m) + R"(, "joints": 0}}})");
}

double drop_V(double supply_V, double ohm_per_km, double length_m, double ampere) {
  site::Site site = one_feed(supply_V, ohm_per_km, length_m,
                             R"("sounder": {"kind": "load", "load": {"supply_min_V": 1,
    "supply_max_V": 60, "alarm_current_A": 0, "current_A": )" +
                                 number(ampere) + "}}");
  site::Load load;
  load.part.id = "sounder";
  load.area.id = "hall";
  load.feed.from.id = "psu";
  load.feed.output = "aux";
  load.feed.cable.id = "feed_cable";
  site.loads["sounder_1"] = load;
  const SupplyPoint point = solve_supply(site, SupplyCondition::mains);
  for (std::size_t i = 0; i < point.consumers.size(); ++i) {
    if (point.consumers[i].id == "sounder_1") return supply_V - point.solved.cases.at(i).nominal;
  }
  throw std::runtime_error("no such load");
}

constexpr double m_per_ft = 0.3048;
constexpr double per_km_of_kft = 1000.0 / (1000.0 * m_per_ft);  // ohm/kft to ohm/km

TEST(Feed, DropsWhatThePublishedExamplesSay) {
  // Published training text on voltage drop: 16 AWG stranded 4.99 ohm/kft, 100 ft one way, 4 A, 24 V: 4.0 V.
  EXPECT_NEAR(drop_V(24.0, 4.99 * per_km_of_kft, 100.0 * m_per_ft, 4.0), 3.992, 1e-6);
  // Published text for licence candidates: K 12.9, 100 ft, 20 A: 12 AWG (6530 cmil) 7.9 V; 8 AWG (16510 cmil) 3.1 V.
  // (Printed for 120 V; the drop does not depend on it, and no site of ours has more than 60 V.)
  EXPECT_NEAR(drop_V(48.0, 12.9 / 6530.0 * 1000.0 * per_km_of_kft, 100.0 * m_per_ft, 20.0), 7.902, 5e-4);
  EXPECT_NEAR(drop_V(48.0, 12.9 / 16510.0 * 1000.0 * per_km_of_kft, 100.0 * m_per_ft, 20.0), 3.125, 5e-4);
  // doityourselfsolarenergyprojects: 1.3 mm2, 0.01785 ohm mm2/m, 20 m one way, 1 A, 12 V: 0.549 V.
  EXPECT_NEAR(drop_V(12.0, 0.01785 / 1.3 * 1000.0, 20.0, 1.0), 0.5492, 5e-5);
  // Published table of a supply's long cable: 1.8 ohm there and back, 5.0 V: 0.36 V at 0.2 A, 0.90 V at 0.5 A ...
  EXPECT_NEAR(drop_V(5.0, 0.9 / 20.0 * 1000.0, 20.0, 0.2), 0.36, 1e-9);
  EXPECT_NEAR(5.0 - drop_V(5.0, 0.9 / 20.0 * 1000.0, 20.0, 0.5), 4.10, 1e-9);
}

TEST(Feed, DoesNotRepeatTheErrorsOfExamplesInCirculation) {
  // ... and the 4.63 V that the same page prints is 4.64 V.
  const double left = 5.0 - drop_V(5.0, 0.9 / 20.0 * 1000.0, 20.0, 0.2);
  EXPECT_NEAR(left, 4.64, 1e-9);
  EXPECT_GT(std::fabs(left - 4.63), 5e-3);
  // "2.91 V": 1500 ft of 18 AWG, 6.51 ohm/kft, 0.3 A, counted one way. Both conductors drop, 5.86 V.
  const double both = drop_V(24.0, 6.51 * per_km_of_kft, 1500.0 * m_per_ft, 0.3);
  EXPECT_NEAR(both, 5.859, 1e-6);
  EXPECT_GT(std::fabs(both - 2.91), 1.0);
}

TEST(Feed, OhmsPerKilometreAreNotDividedByTheAreaAgain) {
  const double plain = drop_V(12.0, 13.3, 50.0, 0.5);
  site::Site site = one_feed(12.0, 13.3, 50.0, R"("sounder": null)");
  EXPECT_NEAR(plain, 2.0 * 13.3 * 0.05 * 0.5, 1e-9);
  site.parts.at("power_cable").cable->conductor_mm2 = site::Value::exactly(1.5, site::Origin::measured);
  EXPECT_NEAR(conductor_ohm(site, "feed_cable").range.nominal, 13.3 * 0.05, 1e-12);
}

// --- constant power -------------------------------------------------------------------------------------------------

/// A unit of constant power at the end of `ohm` (both conductors together).
SupplyPoint unit_at(double supply_V, double ohm, double watt) {
  site::Site site = one_feed(supply_V, ohm / 2.0 * 1000.0 / 100.0, 100.0,
                             R"("unit_part": {"unit": {"supply_min_V": 1, "supply_max_V": 60, "current_A": "none",
                               "lockout_V": 1, "power_W": )" +
                                 number(watt) + "}}");
  site::Unit unit;
  unit.part.id = "unit_part";
  unit.area.id = "hall";
  unit.feed.from.id = "psu";
  unit.feed.output = "aux";
  unit.feed.cable.id = "feed_cable";
  unit.arming.output.id = "none";
  site.units["u1"] = unit;
  return solve_supply(site, SupplyCondition::mains);
}

double unit_V(double supply_V, double ohm, double watt) {
  const SupplyPoint point = unit_at(supply_V, ohm, watt);
  EXPECT_FALSE(point.solved.troubled());
  for (std::size_t i = 0; i < point.consumers.size(); ++i) {
    if (point.consumers[i].id == "u1") return point.solved.cases.at(i).nominal;
  }
  throw std::runtime_error("no unit");
}

TEST(ConstantPower, RunsAtTheUpperRoot) {
  // V = (Vs + sqrt(Vs^2 - 4 P R)) / 2; regression by independent arithmetic.
  EXPECT_NEAR(unit_V(12.0, 2.0, 6.0), 10.8990, 5e-5);
  EXPECT_NEAR(unit_V(12.0, 2.0, 12.0), 9.4641, 5e-5);
}

TEST(ConstantPower, BeyondWhatTheCableCanCarryTheSupplyCollapses) {
  // The limit is Vs^2 / 4R: 18 W over 2 ohm, 12 W over 3 ohm, both at 6.0 V. Just inside it runs, just outside not.
  EXPECT_NEAR(unit_V(12.0, 2.0, 17.99), 6.0, 0.15);
  EXPECT_NEAR(unit_V(12.0, 3.0, 11.99), 6.0, 0.2);
  for (const auto& [ohm, watt] : {std::pair(2.0, 18.01), std::pair(2.0, 19.0), std::pair(3.0, 12.01)}) {
    const SupplyPoint point = unit_at(12.0, ohm, watt);
    ASSERT_TRUE(point.solved.troubled()) << ohm << " ohm, " << watt << " W";
    for (std::size_t i = 0; i < point.consumers.size(); ++i) {
      if (point.consumers[i].id != "u1") continue;  // what hangs on the source beside it keeps its voltage
      EXPECT_EQ(point.solved.cases.at(i).trouble, circuit::Trouble::collapsed);
    }
  }
}

TEST(ConstantPower, ReproducesTheLimitsOfPowerOverEthernet) {
  // IEEE 802.3 clauses 33 and 145 (limits as printed in studylib 18277218): the powered device's lowest voltage is the
  // upper root at the least source voltage, over the longest channel, at the device's own power.
  EXPECT_NEAR(unit_V(44.0, 20.0, 12.95), 37.0, 0.05);
  EXPECT_NEAR(unit_V(50.0, 12.5, 25.5), 42.5, 0.05);
  EXPECT_NEAR(unit_V(50.0, 6.25, 51.0), 42.5, 0.05);
  EXPECT_NEAR(unit_V(52.0, 6.25, 71.3), 41.1, 0.1);
  // Classes 5 and 7, by independent arithmetic.
  EXPECT_NEAR(unit_V(50.0, 6.25, 40.0), 44.36, 0.01);
  EXPECT_NEAR(unit_V(52.0, 6.25, 62.0), 42.99, 0.01);
}

}  // namespace
}  // namespace zoneproof::electric
