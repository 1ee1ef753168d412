#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "published/shelf_data.hpp"

// Batteries, supplies and the temperature factors of the rulebooks against published figures.
namespace zoneproof::published {
namespace {

const std::string batteries = "parts/batteries.json";
const std::string supplies = "parts/supplies.json";

struct Point {
  double celsius, factor;
};

std::vector<Point> factors(const std::string& book) {
  const std::string table = "/rulebook/entries/battery_temperature_factor/points";
  std::vector<Point> points;
  for (const std::string& index : keys(book, table)) {
    const std::string place = table + "/" + index;
    points.push_back({figure(book, place + "/at").nominal, figure(book, place + "/value").nominal});
  }
  return points;
}

/// Published fit of the IEEE 485 table (a university's cell sizing sheet): x is a hundredth of the temperature in degC.
double fit(double celsius) {
  const double x = celsius / 100.0;
  return ((-2.8117 * x + 4.1916) * x - 2.4941) * x + 1.405;
}

TEST(BatteryTemperature, TableAgreesWithThePublishedFitWithin14Thousandths) {
  for (const std::string& book : shelf_files("rulebooks")) {
    const std::vector<Point> points = factors(book);
    ASSERT_EQ(points.size(), 22u) << book;
    for (const Point& point : points)
      EXPECT_NEAR(point.factor, fit(point.celsius), 0.014) << book << " " << point.celsius;
  }
}

TEST(BatteryTemperature, TableSpansWhatIeee485SpansAndIsOneAt25Degrees) {
  for (const std::string& book : shelf_files("rulebooks")) {
    const std::vector<Point> points = factors(book);
    EXPECT_DOUBLE_EQ(points.front().celsius, -3.9);
    EXPECT_DOUBLE_EQ(points.back().celsius, 51.7);
    double at_25 = 0.0;
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (points[i].celsius == 25.0) at_25 = points[i].factor;
      if (i == 0) continue;
      EXPECT_LT(points[i - 1].celsius, points[i].celsius) << book;
      EXPECT_GT(points[i - 1].factor, points[i].factor) << book;
    }
    EXPECT_DOUBLE_EQ(at_25, 1.0);
  }
}

TEST(BatteryTemperature, TableFromMemoryDoesNotCallItselfVerified) {
  for (const std::string& book : shelf_files("rulebooks"))
    EXPECT_FALSE(flag(book, "/rulebook/entries/battery_temperature_factor/verified")) << book;
}

TEST(Batteries, AgeingFactorIsReplacementAt80Percent) {
  // IEEE 485 as cited in a trade journal: 25 percent more, since a battery is replaced at 80 percent of its capacity.
  for (const std::string& book : shelf_files("rulebooks"))
    EXPECT_DOUBLE_EQ(1.0 / figure(book, "/rulebook/entries/battery_ageing_factor/value").nominal, 0.80) << book;
}

TEST(Batteries, AreRatedAt20HoursAndStayInThePublishedRangeOfExponents) {
  // Small sealed batteries are rated at 20 h to 1.75 V a cell; exponents of published examples: 1.15, 1.2.
  for (const std::string& id : keys(batteries, "/parts")) {
    const std::string part = "/parts/" + id + "/battery";
    EXPECT_DOUBLE_EQ(figure(batteries, part + "/rated_h").nominal, 20.0) << id;
    const Figure exponent = figure(batteries, part + "/peukert_exponent");
    EXPECT_GE(exponent.low, 1.1) << id;
    EXPECT_LE(exponent.high, 1.25) << id;
    EXPECT_LT(figure(batteries, part + "/empty_V").high, figure(batteries, part + "/full_V").low) << id;
  }
}

TEST(Batteries, TemperaturesAreThoseOfThePublishedFactors) {
  for (const std::string& id : keys(batteries, "/parts")) {
    EXPECT_DOUBLE_EQ(figure(batteries, "/parts/" + id + "/battery/temperature_min_degC").nominal, -3.9) << id;
    EXPECT_DOUBLE_EQ(figure(batteries, "/parts/" + id + "/battery/temperature_max_degC").nominal, 51.7) << id;
  }
}

TEST(Supplies, FloatAndDisconnectAreThoseOfSixCells) {
  // General battery page: float 2.2 to 2.3 V a cell, discharged 1.75 to 1.80 V a cell; six cells.
  for (const std::string& id : keys(supplies, "/parts")) {
    const std::string part = "/parts/" + id + "/supply";
    const double on_mains = figure(supplies, part + "/mains_V").nominal;
    EXPECT_GE(on_mains, 6 * 2.2) << id;
    EXPECT_LE(on_mains, 6 * 2.3) << id;
    if (!is_figure(supplies, part + "/cutoff_V")) continue;  // "none": it has no disconnect
    const double cutoff = figure(supplies, part + "/cutoff_V").nominal;
    EXPECT_GE(cutoff, 6 * 1.75) << id;
    // A supply that says so disconnects before: what is left in the battery keeps long runs within their range.
    const bool early = id.find("early_cutoff") != std::string::npos;
    EXPECT_LE(cutoff, 6 * (early ? 2.0 : 1.80)) << id;
    if (early) {
      EXPECT_GT(cutoff, 6 * 1.80) << id;
    }
  }
}

}  // namespace
}  // namespace zoneproof::published
