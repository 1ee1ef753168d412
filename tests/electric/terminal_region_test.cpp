// Meter readings at an unknown terminal: the region holds what may be so, all of it, and nothing else. Against closed
// forms, against terminals measured in ngspice, and against a dense scan of the definition
// (docs/methods/unknown-terminals.md).
#include "electric/terminal_region.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "electric/next_reading.hpp"
#include "electric/random_terminal.hpp"

namespace zoneproof::electric {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double rounding = 1e-9;  ///< relative; a thousand times the region's own slack

MeterReading voltage(double shown, double share, double fixed, Extent load_S = {}) {
  MeterReading reading;
  reading.shown = Extent::exactly(shown);
  reading.error_share = share;
  reading.error_fixed = fixed;
  reading.load_S = load_S;
  return reading;
}
MeterReading current(double shown, double share, double fixed, Extent burden_ohm = {}) {
  MeterReading reading = voltage(shown, share, fixed);
  reading.kind = MeterKind::current;
  reading.burden_ohm = burden_ohm;
  return reading;
}
Extent over(double ohm) { return Extent::exactly(1.0 / ohm); }

/// Whether a point lies in the polygon that the corners and directions span: to the left of every edge, allowing
/// `slack` of the size of the region's numbers. An independent reading of the corners, not the region's own half
/// planes.
bool inside(const TerminalRegion& region, const TerminalPoint& point, double slack) {
  const std::vector<TerminalPoint>& corners = region.vertices();
  if (!region.bounded()) return false;  // asked of bounded ones only
  const double ohms = std::max(region.ohm().high, 1e-3),
               volts = std::max(std::fabs(region.volts().high), std::fabs(region.volts().low));
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const TerminalPoint &a = corners[i], &b = corners[(i + 1) % corners.size()];
    const double ax = (b.ohm - a.ohm) / ohms, ay = (b.volts - a.volts) / volts;
    const double px = (point.ohm - a.ohm) / ohms, py = (point.volts - a.volts) / volts;
    const double length = std::hypot(ax, ay);
    if (length > 0.0 && (ax * py - ay * px) / length < -slack) return false;
  }
  return true;
}

// ---- Closed forms --------------------------------------------------------------------------------------------------

TEST(TerminalRegion, OfAMeterWithoutErrorIsTheOneTerminal) {
  // 12 V behind 4.7 kohm: 6 V over 4.7 kohm.
  const TerminalModel model = terminal_model({voltage(12.0, 0, 0), voltage(6.0, 0, 0, over(4700))}, true);
  ASSERT_TRUE(model.bounded());
  EXPECT_NEAR(model.mains.ohm().low, 4700.0, 4700 * rounding);
  EXPECT_NEAR(model.mains.ohm().high, 4700.0, 4700 * rounding);
  EXPECT_NEAR(model.mains.volts().low, 12.0, 12 * rounding);
  EXPECT_NEAR(model.mains.volts().high, 12.0, 12 * rounding);
}

TEST(TerminalRegion, TakesTheMetersOwnLoadOff) {
  // 12 V behind 1 Mohm read by 10 Mohm shows 120/11 V; the current through 1 kohm of burden is 12 V / 1.001 Mohm.
  const TerminalModel model =
      terminal_model({voltage(120.0 / 11.0, 0, 0, over(10e6)), current(12.0 / 1.001e6, 0, 0, {1000, 1000})}, true);
  ASSERT_TRUE(model.bounded());
  EXPECT_NEAR(model.mains.ohm().low, 1e6, 1e6 * rounding);
  EXPECT_NEAR(model.mains.volts().high, 12.0, 12 * rounding);
}

TEST(TerminalRegion, WithErrorsHasTheCornersThatPaperGives) {
  // An ideal voltmeter shows 10 V +- 0.1 V, an ideal ammeter 1 mA +- 0.01 mA: V in [9.9, 10.1], R in [V / 1.01 mA, V /
  // 0.99 mA], a quadrilateral.
  const TerminalRegion region = terminal_model({voltage(10, 0.01, 0), current(1e-3, 0, 1e-5)}, true).mains;
  ASSERT_EQ(region.vertices().size(), 4u);
  for (const TerminalPoint& wanted :
       {TerminalPoint{9.9 / 1.01e-3, 9.9}, {9.9 / 0.99e-3, 9.9}, {10.1 / 1.01e-3, 10.1}, {10.1 / 0.99e-3, 10.1}}) {
    EXPECT_TRUE(std::any_of(region.vertices().begin(), region.vertices().end(), [&](const TerminalPoint& corner) {
      return std::fabs(corner.ohm - wanted.ohm) < 1e-4 && std::fabs(corner.volts - wanted.volts) < 1e-8;
    })) << wanted.ohm;
  }
  // Over 10 kohm: V / (1 + R / 10k) is lowest where V is low and R high.
  const Extent level = region.voltage_over(over(10e3));
  EXPECT_NEAR(level.low, 9.9 / (1.0 + 9.9 / 0.99e-3 / 10e3), 1e-8);
  EXPECT_NEAR(level.high, 10.1 / (1.0 + 10.1 / 1.01e-3 / 10e3), 1e-8);
}

TEST(TerminalRegion, OfOneVoltageHasNoEndAndStillBoundsWhatALoadDoes) {
  const TerminalRegion region = terminal_model({voltage(5.0, 0.01, 0, over(10e6))}, true).mains;
  EXPECT_FALSE(region.empty());
  EXPECT_FALSE(region.bounded());
  EXPECT_EQ(region.ohm().high, infinite);
  EXPECT_EQ(region.volts().high, infinite);
  // R = 0 gives 5.05 V over anything; R without end gives 4.95 V / 10 Mohm x 1 kohm.
  const Extent level = region.voltage_over(over(1000));
  EXPECT_NEAR(level.high, 5.05, 1e-9);
  EXPECT_NEAR(level.low, 4.95e-4, 1e-9);
}

TEST(TerminalRegion, OfNothingIsEverythingThatHasNoNegativeResistance) {
  const TerminalRegion region;
  EXPECT_FALSE(region.empty());
  EXPECT_FALSE(region.bounded());
  EXPECT_EQ(region.ohm().low, 0.0);
  EXPECT_EQ(region.volts().low, -infinite);
  EXPECT_EQ(region.volts().high, infinite);
}

TEST(TerminalRegion, OfADeadTerminalLeavesItsResistanceOpen) {
  const TerminalModel model =
      terminal_model({voltage(0, 0.01, 0.002, over(10e6)), current(0, 0.01, 1e-6, {10, 10})}, true);
  EXPECT_FALSE(model.empty());
  EXPECT_FALSE(model.bounded());
}

TEST(TerminalRegion, OfANegativeTerminalIsTheMirrorImage) {
  const std::vector<MeterReading> above = {voltage(5, 0.01, 0.01, over(10e6)),
                                           voltage(2.5, 0.01, 0.01, {1e-4, 1.1e-4})};
  std::vector<MeterReading> below = above;
  for (MeterReading& reading : below) reading.shown = {-reading.shown.high, -reading.shown.low};
  const TerminalRegion up = terminal_model(above, true).mains, down = terminal_model(below, true).mains;
  ASSERT_TRUE(up.bounded() && down.bounded());
  EXPECT_NEAR(up.ohm().low, down.ohm().low, rounding);
  EXPECT_NEAR(up.ohm().high, down.ohm().high, 1e4 * rounding);
  EXPECT_NEAR(up.volts().low, -down.volts().high, rounding);
  EXPECT_NEAR(up.volts().high, -down.volts().low, rounding);
}

TEST(TerminalRegion, AReadingAroundZeroSaysLittleButNothingWrong) {
  // 3 mV +- 5 mV over 1 kohm, 5 V open: the pull-up is at least 5 V / 8 mV - 1 = 624 times the load.
  const TerminalRegion region = terminal_model({voltage(5, 0, 0), voltage(0.003, 0, 0.005, over(1000))}, true).mains;
  EXPECT_FALSE(region.bounded());
  EXPECT_NEAR(region.ohm().low, 624e3, 1e-3);
}

TEST(TerminalRegion, OfTwoSuppliesHasOneResistanceAndTwoVoltages) {
  std::vector<MeterReading> readings = {voltage(13.8, 0.005, 0), voltage(11.0, 0.005, 0),
                                        voltage(5.5, 0.005, 0, over(5600))};
  readings[1].supply = readings[2].supply = ReadingSupply::battery;
  const TerminalModel model = terminal_model(readings, false);
  ASSERT_TRUE(model.bounded()) << "the resistance found on battery is that on mains";
  EXPECT_NEAR(model.mains.volts().low, 13.8 * 0.995, 1e-9);
  EXPECT_NEAR(model.battery.volts().high, 11.0 * 1.005, 1e-9);
  EXPECT_NEAR(model.mains.ohm().low, model.battery.ohm().low, 1e-4);
  EXPECT_NEAR(model.mains.ohm().high, model.battery.ohm().high, 1e-4);
  EXPECT_TRUE(terminal_model(readings, true).empty()) << "a regulated source has one voltage";
}

TEST(TerminalRegion, TakesWhatADataSheetSaysIntoAccount) {
  KnownSource known;
  known.volts = {4.9, 5.1};
  const TerminalModel model = terminal_model({voltage(2.5, 0, 0, over(1000))}, true, known);
  ASSERT_TRUE(model.bounded()) << "with the open voltage known one reading is enough";
  EXPECT_NEAR(model.mains.ohm().low, 1000 * (4.9 / 2.5 - 1), 1e-6);
  EXPECT_NEAR(model.mains.ohm().high, 1000 * (5.1 / 2.5 - 1), 1e-6);
}

TEST(TerminalRegion, BehindAnUnknownInputASheetBoundsFromOneSideAndTellsTheCurrentIntoAShort) {
  // 4.9 to 5.1 V behind 4.7 to 5.1 kohm with any input across: no more than 5.1 kohm and 5.1 V, and a current into a
  // short of 4.9 V / 5.1 kohm to 5.1 V / 4.7 kohm, whatever the input. Open it shows 4 V: R = 4 V / I.
  KnownSource known;
  known.volts = {4.9, 5.1};
  known.ohm = {4700, 5100};
  known.behind_input = true;
  const TerminalModel model = terminal_model({voltage(4.0, 0, 0)}, true, known);
  ASSERT_TRUE(model.bounded());
  EXPECT_NEAR(model.mains.ohm().low, 4.0 * 4700 / 5.1, 1e-5);
  EXPECT_NEAR(model.mains.ohm().high, 4.0 * 5100 / 4.9, 1e-5);
  EXPECT_TRUE(terminal_model({voltage(5.2, 0, 0)}, true, known).empty()) << "more than the source has";
  known.behind_input = false;
  EXPECT_TRUE(terminal_model({voltage(4.0, 0, 0)}, true, known).empty()) << "without an input it would be 4.9 V";
}

/// A range that holds `value`.
Extent around(double value, std::mt19937& random) {
  std::uniform_real_distribution<double> share(0.0, 0.3);
  const double a = value * (1.0 - share(random)), b = value * (1.0 + share(random));
  return {std::min(a, b), std::max(a, b)};
}

/// By the definition alone: the pair comes from some source of the sheet with some input across, V' = t V, R' = t R.
/// The most input that the sheet allows is tried: the pair scaled up until it meets the sheet's far sides.
bool some_input_makes(const TerminalPoint& pair, const KnownSource& sheet, double slack) {
  const double far = pair.volts < 0.0 ? sheet.volts.low : sheet.volts.high;
  const double up = std::min(sheet.ohm.high / pair.ohm, far / pair.volts);
  const auto within = [slack](double value, const Extent& extent) {
    const double room = slack * std::max(std::fabs(extent.low), std::fabs(extent.high));
    return value >= extent.low - room && value <= extent.high + room;
  };
  return up >= 1.0 - slack && within(up * pair.ohm, sheet.ohm) && within(up * pair.volts, sheet.volts);
}

TEST(TerminalRegion, BehindAnUnknownInputIsAllThatSomeInputMakesAndNothingElse) {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> kohm(0.5, 50.0), volt(3.0, 14.0), input_kohm(1.0, 500.0);
  int corners = 0;
  for (int i = 0; i < 2000; ++i) {
    const double ohm = 1e3 * kohm(random), volts = (i % 2 == 0 ? 1.0 : -1.0) * volt(random);
    KnownSource sheet;
    sheet.ohm = around(ohm, random);
    sheet.volts = around(volts, random);
    sheet.behind_input = true;
    const double input = 1e3 * input_kohm(random), share = input / (ohm + input);
    const TerminalPoint truth = {share * ohm, share * volts};
    const MeterReading open = voltage(truth.volts, 0.2, 0);
    const TerminalRegion region = terminal_model({open}, true, sheet).mains;
    ASSERT_TRUE(region.bounded() && inside(region, truth, rounding)) << i;
    for (const TerminalPoint& corner : region.vertices()) {
      ++corners;
      EXPECT_TRUE(some_input_makes(corner, sheet, 1e-7)) << i << ": " << corner.ohm << " ohm, " << corner.volts << " V";
    }
  }
  EXPECT_GT(corners, 2000 * 3);
}

// ---- Readings that contradict each other ---------------------------------------------------------------------------

/// 12 V behind 4.7 kohm, read three times by a good meter.
std::vector<MeterReading> three_that_agree() {
  return {voltage(12, 0.005, 0), voltage(6, 0.005, 0, over(4700)), current(12.0 / 4700, 0.005, 0)};
}

TEST(AgainstTheOthers, NamesTheOneReadingThatIsWrong) {
  std::vector<MeterReading> readings = three_that_agree();
  readings.push_back(voltage(4.0, 0.005, 0, over(2350)));
  EXPECT_FALSE(terminal_model(readings, true).empty());
  EXPECT_TRUE(against_the_others(readings, true).empty());
  for (std::size_t wrong = 0; wrong < readings.size(); ++wrong) {
    std::vector<MeterReading> spoilt = readings;
    spoilt[wrong].shown = Extent::exactly(spoilt[wrong].shown.low * 1.2);
    ASSERT_TRUE(terminal_model(spoilt, true).empty()) << wrong;
    EXPECT_EQ(against_the_others(spoilt, true), std::vector<std::size_t>{wrong});
  }
}

TEST(AgainstTheOthers, OfTwoReadingsBothAreSuspect) {
  // More voltage over a resistor than on the open screws.
  const std::vector<MeterReading> readings = {voltage(5, 0.005, 0), voltage(6, 0.005, 0, over(1000))};
  EXPECT_TRUE(terminal_model(readings, true).empty());
  EXPECT_EQ(against_the_others(readings, true), (std::vector<std::size_t>{0, 1}));
}

TEST(AgainstTheOthers, NamesNoneWhereMoreThanOneIsWrong) {
  std::vector<MeterReading> readings = three_that_agree();
  readings.push_back(voltage(1, 0.005, 0, over(4700)));
  readings.push_back(current(1, 0.005, 0));
  EXPECT_TRUE(terminal_model(readings, true).empty());
  EXPECT_TRUE(against_the_others(readings, true).empty());
}

TEST(AgainstTheOthers, ACurrentSourceIsNoSourceBehindAResistance) {
  // 1 mA with a ceiling of 12 V: the voltage over 1, 4.7 and 10 kohm is proportional, that of the open screws is not.
  const std::vector<MeterReading> readings = {voltage(12, 0.005, 0), voltage(1, 0.005, 0, over(1000)),
                                              voltage(4.7, 0.005, 0, over(4700)), voltage(10, 0.005, 0, over(10000))};
  EXPECT_TRUE(terminal_model(readings, true).empty());
}

// ---- The true pair is inside ---------------------------------------------------------------------------------------

void take_readings(TrueTerminal& terminal, std::mt19937& random) {
  for (std::size_t i = 0; i < terminal.readings.size(); ++i) {
    show(terminal.readings[i], true_value(terminal, i), random);
  }
}

bool holds_the_truth(const TrueTerminal& terminal) {
  TerminalModel model = terminal_model(terminal.readings, true);
  if (model.empty()) return false;
  if (model.bounded()) return inside(model.mains, {terminal.ohm, terminal.volts}, rounding);
  model.mains.cut_ohm(Extent::exactly(terminal.ohm));
  model.mains.cut_volts(Extent::exactly(terminal.volts));
  return !model.mains.empty();
}

TEST(TerminalRegion, HoldsTheTruePairOfAHundredThousandTerminals) {
  std::mt19937 random(3);
  int bounded = 0;
  for (int i = 0; i < 100000; ++i) {
    TrueTerminal terminal = random_terminal(random);
    take_readings(terminal, random);
    ASSERT_TRUE(holds_the_truth(terminal)) << i << ": " << terminal.ohm << " ohm, " << terminal.volts << " V";
    if (terminal_model(terminal.readings, true).bounded()) ++bounded;
  }
  EXPECT_GT(bounded, 90000) << "most of them say something";
}

RC_GTEST_PROP(TerminalRegion, HoldsTheTruePairWhateverIsRead, (unsigned seed)) {
  std::mt19937 random(seed);
  TrueTerminal terminal = random_terminal(random);
  take_readings(terminal, random);
  RC_ASSERT(holds_the_truth(terminal));
}

RC_GTEST_PROP(TerminalRegion, OneReadingMoreNeverWidensIt, (unsigned seed)) {
  std::mt19937 random(seed);
  TrueTerminal terminal = random_terminal(random);
  take_readings(terminal, random);
  std::vector<MeterReading> fewer = terminal.readings;
  fewer.pop_back();
  const TerminalModel all = terminal_model(terminal.readings, true), less = terminal_model(fewer, true);
  for (double ohm : {500.0, 5e3, 50e3}) {
    const Extent a = all.mains.voltage_over(over(ohm)), b = less.mains.voltage_over(over(ohm));
    RC_ASSERT(a.low >= b.low - rounding && a.high <= b.high + rounding);
  }
}

RC_GTEST_PROP(TerminalRegion, DoesNotDependOnTheOrderOfTheReadings, (unsigned seed)) {
  std::mt19937 random(seed);
  TrueTerminal terminal = random_terminal(random);
  take_readings(terminal, random);
  const TerminalModel one = terminal_model(terminal.readings, true);
  std::shuffle(terminal.readings.begin(), terminal.readings.end(), random);
  const TerminalModel other = terminal_model(terminal.readings, true);
  RC_ASSERT(one.bounded() == other.bounded());
  for (double ohm : {500.0, 5e3, 50e3}) {
    const Extent a = one.mains.voltage_over(over(ohm)), b = other.mains.voltage_over(over(ohm));
    RC_ASSERT(std::fabs(a.low - b.low) < rounding && std::fabs(a.high - b.high) < rounding);
  }
}

// ---- Nothing else is inside ----------------------------------------------------------------------------------------

/// By the definition alone: can a terminal of these values give that reading with errors within the meter's sheet? The
/// divider is computed forward at both ends of the load; between them it takes every value.
bool can_read(const MeterReading& reading, double ohm, double volts) {
  const auto there = [&](double load_S, double burden_ohm) {
    if (reading.kind == MeterKind::voltage) return volts / (1.0 + ohm * load_S);
    return volts / (burden_ohm + ohm);
  };
  const double a = there(reading.load_S.low, reading.burden_ohm.low);
  const double b = there(reading.load_S.high, reading.burden_ohm.high);
  const double shown = reading.shown.low, error = reading.error_share * std::fabs(shown) + reading.error_fixed;
  return std::min(a, b) <= shown + error && std::max(a, b) >= shown - error;
}

TEST(TerminalRegion, IsTheSetOfAllPairsThatCanGiveTheReadings) {
  std::mt19937 random(5);
  constexpr int steps = 200;
  int looked_at = 0, within = 0;
  for (int i = 0; i < 60; ++i) {
    TrueTerminal terminal = random_terminal(random);
    take_readings(terminal, random);
    const TerminalRegion region = terminal_model(terminal.readings, true).mains;
    if (!region.bounded()) continue;
    const Extent r = region.ohm(), v = region.volts();
    for (int x = -10; x <= steps + 10; ++x) {
      for (int y = -10; y <= steps + 10; ++y) {
        const TerminalPoint point = {r.low + r.width() * x / steps, v.low + v.width() * y / steps};
        if (point.ohm < 0.0) continue;
        const bool possible = std::all_of(terminal.readings.begin(), terminal.readings.end(), [&](const auto& reading) {
          return can_read(reading, point.ohm, point.volts);
        });
        ++looked_at;
        within += possible ? 1 : 0;
        // On the border itself either answer is right.
        ASSERT_EQ(inside(region, point, possible ? rounding : -rounding), possible) << point.ohm << " " << point.volts;
      }
    }
  }
  EXPECT_GT(looked_at, 1'000'000);
  EXPECT_GT(within, 50'000) << "the scan meets the regions";
}

// ---- A thousand terminals measured in ngspice -----------------------------------------------------------------------

/// What no method can do better than: the pairs that one meter, with one input resistance, one burden and one value of
/// each resistor for all its readings, can have given the readings of. Scanned over R and the meter's input resistance;
/// for both the span of V follows from each reading by the divider.
struct InformationBound {
  Extent ohm = {infinite, -infinite}, volts = {infinite, -infinite}, level = {infinite, -infinite};
};

InformationBound information_bound(const TrueTerminal& terminal, const Extent& scan_ohm, double load_S) {
  constexpr int steps = 400, meters = 5;
  const auto take = [](Extent& extent, double value) {
    extent.low = std::min(extent.low, value);
    extent.high = std::max(extent.high, value);
  };
  InformationBound bound;
  const Extent meter = terminal.readings.front().load_S;
  for (int k = 0; k < meters; ++k) {
    const double g = meter.low + meter.width() * k / (meters - 1);
    for (int i = 0; i <= steps; ++i) {
      const double ohm = scan_ohm.low + scan_ohm.width() * i / steps;
      Extent v = {-infinite, infinite};
      for (const MeterReading& reading : terminal.readings) {
        const double error = reading.error_share * std::fabs(reading.shown.low) + reading.error_fixed;
        const bool amps = reading.kind == MeterKind::current;
        // Of its load, the meter's own part is g; the rest is the resistor.
        const double beside[2] = {reading.load_S.low - meter.low, reading.load_S.high - meter.high};
        Extent span = {infinite, -infinite};
        for (int end = 0; end < 2; ++end) {
          const double factor = amps ? ohm + (end == 0 ? reading.burden_ohm.low : reading.burden_ohm.high)
                                     : 1.0 + ohm * (g + beside[end]);
          take(span, (reading.shown.low - error) * factor);
          take(span, (reading.shown.low + error) * factor);
        }
        v = {std::max(v.low, span.low), std::min(v.high, span.high)};
      }
      if (v.low > v.high) continue;
      take(bound.ohm, ohm);
      for (double end : {v.low, v.high}) {
        take(bound.volts, end);
        take(bound.level, end / (1.0 + ohm * load_S));
      }
    }
  }
  return bound;
}

/// 1,000 terminals, their readings from ngspice, the meter's errors put on them.
std::vector<TrueTerminal> measured_terminals() {
  std::mt19937 random(11);
  std::vector<TrueTerminal> terminals;
  for (int i = 0; i < 1000; ++i) terminals.push_back(random_terminal(random));
  const auto measured = measured_by_ngspice(terminals, std::string(ZONEPROOF_BINARY_DIR) + "/decks/unknown_terminals");
  for (std::size_t t = 0; t < terminals.size(); ++t) {
    for (std::size_t i = 0; i < measured[t].size(); ++i) show(terminals[t].readings[i], measured[t][i], random);
  }
  return terminals;
}

TEST(TerminalRegion, OfAThousandTerminalsInNgspiceHoldsTheTruthAndIsHardlyWiderThanItHasToBe) {
  int bounded = 0;
  double widest = 0.0;
  for (const TrueTerminal& terminal : measured_terminals()) {
    ASSERT_TRUE(holds_the_truth(terminal)) << terminal.ohm << " ohm, " << terminal.volts << " V";
    const TerminalRegion region = terminal_model(terminal.readings, true).mains;
    if (!region.bounded()) continue;
    ++bounded;
    const double load = 1.0 / 4700.0;
    const InformationBound bound = information_bound(terminal, region.ohm(), load);
    const double cell = region.ohm().width() / 400;  // what the scan's steps may miss at either end
    for (const double ratio :
         {region.ohm().width() / (bound.ohm.width() + 2 * cell), region.volts().width() / bound.volts.width(),
          region.voltage_over(Extent::exactly(load)).width() / bound.level.width()}) {
      ASSERT_LE(ratio, 2.0) << terminal.ohm << " ohm, " << terminal.volts << " V";
      widest = std::max(widest, ratio);
    }
  }
  EXPECT_GT(bounded, 900);
  EXPECT_GT(widest, 0.99) << "and it is not narrower: the bound is the truth of the matter";
  RecordProperty("widest_of_bound", std::to_string(widest));
}

TEST(TerminalRegion, NgspiceAndTheDividerAgree) {
  std::mt19937 random(11);
  std::vector<TrueTerminal> terminals;
  for (int i = 0; i < 50; ++i) terminals.push_back(random_terminal(random));
  const auto measured = measured_by_ngspice(terminals, std::string(ZONEPROOF_BINARY_DIR) + "/decks/few_terminals");
  for (std::size_t t = 0; t < terminals.size(); ++t) {
    for (std::size_t i = 0; i < measured[t].size(); ++i) {
      const double expected = true_value(terminals[t], i);
      EXPECT_NEAR(measured[t][i], expected, 1e-9 * std::fabs(expected));
    }
  }
}

// ---- Which reading next --------------------------------------------------------------------------------------------

std::vector<MeterReading> offers() {
  MeterReading low = voltage(0, 0.005, 0.002, over(220)), like = voltage(0, 0.005, 0.002, over(4700));
  MeterReading open = voltage(0, 0.005, 0.002, over(10e6)), shorted = current(0, 0.01, 3e-6, {90, 110});
  return {open, low, like, shorted};
}

TEST(NextReading, IsOverTheResistorThatTheQuestionIsAbout) {
  // Open voltage known, question: the level over 4.7 kohm. Reading that very level answers it, whatever it shows.
  const auto next = next_reading({voltage(12, 0.005, 0.002, over(10e6))}, true, {}, offers(), {{over(4700)}});
  ASSERT_TRUE(next);
  EXPECT_EQ(next->which, 2u);
  EXPECT_GT(next->present_width, 12.0);
  // The widest that it can leave: 0.5 % of 12 V and 2 mV, either way.
  EXPECT_LE(next->worst_width, 2 * (0.005 * 12.1 + 0.002));
}

/// What a candidate leaves open at worst, by trying far more values than the function does.
double worst_by_trying(const MeterReading& first, const MeterReading& candidate, const TerminalQuestion& question) {
  const Extent possible = possible_values(candidate, terminal_model({first}, true));
  constexpr int points = 1000;
  double worst = 0.0;
  for (int i = 0; i <= points; ++i) {
    MeterReading shown = candidate;
    shown.shown = Extent::exactly(possible.low + possible.width() * i / points);
    const TerminalModel model = terminal_model({first, shown}, true);
    if (!model.empty()) worst = std::max(worst, openness(model, question));
  }
  return worst;
}

TEST(NextReading, IsTheBestInTheWorstCaseAndKeepsItsPromise) {
  std::mt19937 random(17);
  int answered = 0;
  for (int i = 0; i < 40; ++i) {
    TrueTerminal terminal = random_terminal(random);
    take_readings(terminal, random);
    const TerminalQuestion question = {{over(1000), over(10e3)}};
    const MeterReading first = terminal.readings.front();
    const std::vector<MeterReading> rest(terminal.readings.begin() + 1, terminal.readings.end());
    const auto next = next_reading({first}, true, {}, rest, question);
    if (!next) continue;
    ++answered;
    // Whatever the chosen one then shows on the true terminal, no more stays open than was promised ...
    const TerminalModel after = terminal_model({first, rest[next->which]}, true);
    EXPECT_LE(openness(after, question), 1.02 * next->worst_width);
    // ... and no other one promises less.
    EXPECT_NEAR(next->worst_width, worst_by_trying(first, rest[next->which], question), 0.02 * next->worst_width);
    for (const MeterReading& other : rest) {
      EXPECT_GE(1.02 * worst_by_trying(first, other, question), next->worst_width);
    }
  }
  EXPECT_GT(answered, 30);
}

TEST(NextReading, IsNoneWhereNothingNarrowsTheAnswer) {
  const std::vector<MeterReading> taken = {voltage(12, 0, 0), voltage(6, 0, 0, over(4700))};
  EXPECT_FALSE(next_reading(taken, true, {}, offers(), {{over(4700)}}));
  EXPECT_FALSE(next_reading(taken, true, {}, {}, {{over(4700)}}));
}

TEST(NextReading, WithoutAnyReadingIsTheOpenVoltageOrBetter) {
  // Nothing is known: no candidate bounds the open screws but the open voltage.
  EXPECT_EQ(lacking(false, false), ReadingWay::open);
  EXPECT_EQ(lacking(true, false), ReadingWay::loaded);
  EXPECT_EQ(lacking(true, true), ReadingWay::shorted);
}

}  // namespace
}  // namespace zoneproof::electric
