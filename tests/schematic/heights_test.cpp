#include "schematic/heights.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>

namespace zoneproof::schematic {

namespace {

double cost(const std::vector<double>& values, const std::vector<std::vector<Wish>>& wishes) {
  double sum = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i)
    for (const Wish& wish : wishes[i]) sum += wish.weight * std::abs(values[i] - wish.at);
  return sum;
}

/// The least cost with all values whole numbers from 0 to 12, by trying all (wishes are whole, so nothing is lost).
double least(const std::vector<std::vector<Wish>>& wishes, const std::vector<double>& apart, std::size_t at,
             double from) {
  if (at == wishes.size()) return 0.0;
  double best = std::numeric_limits<double>::infinity();
  for (double value = from; value <= 30.0; value += 1.0) {
    double own = 0.0;
    for (const Wish& wish : wishes[at]) own += wish.weight * std::abs(value - wish.at);
    if (own >= best) continue;
    best = std::min(best, own + least(wishes, apart, at + 1, value + (at + 1 < wishes.size() ? apart[at] : 0.0)));
  }
  return best;
}

}  // namespace

TEST(Heights, PooledValuesAreAsNearToTheirWishesAsAnyCanBe) {
  std::mt19937 random(3);
  for (int i = 0; i < 100; ++i) {
    std::vector<std::vector<Wish>> wishes(4);
    std::vector<double> apart;
    for (auto& own : wishes)
      for (auto n = 1 + random() % 3; n > 0; --n)
        own.push_back({10.0 + static_cast<double>(random() % 8), 1.0 + static_cast<double>(random() % 3)});
    for (int n = 0; n < 3; ++n) apart.push_back(static_cast<double>(random() % 3));
    const std::vector<double> values = pooled(wishes, apart);
    for (std::size_t n = 0; n + 1 < values.size(); ++n) EXPECT_GE(values[n + 1], values[n] + apart[n] - 1e-9);
    EXPECT_NEAR(cost(values, wishes), least(wishes, apart, 0, 0.0), 1e-9);
  }
}

TEST(Heights, AValueWithoutAWishIsAFault) { EXPECT_THROW(pooled({{}}, {}), std::logic_error); }

TEST(Heights, AWireBetweenTwoDevicesRunsStraight) {
  Diagram diagram;
  for (int column = 0; column < 2; ++column)
    for (int i = 0; i < 3; ++i) {
      Device device;
      device.column = column;
      device.height_mm = kGrid_mm * (column == 0 ? 2 + i : 6);
      device.ports = {{"p", column == 0 ? Side::right : Side::left, kGrid_mm}};
      diagram.devices.push_back(device);
    }
  for (std::size_t i = 0; i < 3; ++i) diagram.nets.push_back({"n", {}, {{i, 0}, {i + 3, 0}}});
  const Layers layers = layers_of(diagram);
  const std::vector<double> tops = heights(diagram, layers, kGrid_mm);
  for (std::size_t i = 0; i < 3; ++i) EXPECT_DOUBLE_EQ(tops[i], tops[i + 3]);
  for (const double top : tops) EXPECT_NEAR(top / kGrid_mm, std::round(top / kGrid_mm), 1e-9);
}

}  // namespace zoneproof::schematic
