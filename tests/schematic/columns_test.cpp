#include "schematic/columns.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>

namespace zoneproof::schematic {

namespace {

Device dot(int column, int ports_left, int ports_right) {
  Device device;
  device.column = column;
  for (int i = 0; i < ports_left; ++i)
    device.ports.push_back({"l" + std::to_string(i), Side::left, kGrid_mm * (i + 1)});
  for (int i = 0; i < ports_right; ++i)
    device.ports.push_back({"r" + std::to_string(i), Side::right, kGrid_mm * (i + 1)});
  device.height_mm = kGrid_mm * (std::max(ports_left, ports_right) + 1);
  return device;
}

/// Two columns of devices with one port each and wires between them as drawn: "0-2 1-0 2-1".
Diagram wires(int count, const std::vector<std::pair<int, int>>& joins) {
  Diagram diagram;
  std::vector<int> left(static_cast<std::size_t>(count), 0), right(static_cast<std::size_t>(count), 0);
  for (const auto& [a, b] : joins) {
    ++left[static_cast<std::size_t>(a)];
    ++right[static_cast<std::size_t>(b)];
  }
  for (int i = 0; i < count; ++i) diagram.devices.push_back(dot(0, 0, left[static_cast<std::size_t>(i)]));
  for (int i = 0; i < count; ++i) diagram.devices.push_back(dot(1, right[static_cast<std::size_t>(i)], 0));
  std::vector<std::size_t> next(static_cast<std::size_t>(2 * count), 0);
  for (const auto& [a, b] : joins) {
    const auto from = static_cast<std::size_t>(a), to = static_cast<std::size_t>(b + count);
    diagram.nets.push_back({"n" + std::to_string(diagram.nets.size()), {}, {{from, next[from]++}, {to, next[to]++}}});
  }
  return diagram;
}

/// Pairs of joins that change sides, by looking at each pair.
std::size_t by_pairs(const Diagram& diagram, const Layers& layers) {
  const auto place = [&](const End& end) {
    const auto& column = layers.columns[static_cast<std::size_t>(diagram.devices[end.device].column)];
    const auto at = std::find(column.begin(), column.end(), end.device) - column.begin();
    return std::pair<long, double>(at, diagram.devices[end.device].ports[end.port].y_mm);
  };
  std::size_t count = 0;
  for (std::size_t i = 0; i < diagram.nets.size(); ++i)
    for (std::size_t j = i + 1; j < diagram.nets.size(); ++j) {
      const auto a = place(diagram.nets[i].ends[0]), b = place(diagram.nets[j].ends[0]);
      const auto c = place(diagram.nets[i].ends[1]), d = place(diagram.nets[j].ends[1]);
      count += (a < b && c > d) || (a > b && c < d) ? 1 : 0;
    }
  return count;
}

std::size_t fewest_of_all(const Diagram& diagram, Layers layers) {
  std::size_t best = by_pairs(diagram, layers);
  std::sort(layers.columns[0].begin(), layers.columns[0].end());
  do {
    std::sort(layers.columns[1].begin(), layers.columns[1].end());
    do best = std::min(best, by_pairs(diagram, layers));
    while (std::next_permutation(layers.columns[1].begin(), layers.columns[1].end()));
  } while (std::next_permutation(layers.columns[0].begin(), layers.columns[0].end()));
  return best;
}

Diagram random_wires(std::mt19937& random, int count) {
  std::vector<std::pair<int, int>> joins;
  for (int i = 0; i < count + 2; ++i)
    joins.push_back({static_cast<int>(random() % static_cast<unsigned>(count)),
                     static_cast<int>(random() % static_cast<unsigned>(count))});
  return wires(count, joins);
}

}  // namespace

TEST(Columns, CrossingsAreThePairsThatChangeSides) {
  EXPECT_EQ(crossings(wires(3, {{0, 0}, {1, 1}, {2, 2}}), layers_of(wires(3, {{0, 0}, {1, 1}, {2, 2}}))), 0U);
  EXPECT_EQ(crossings(wires(3, {{0, 2}, {1, 1}, {2, 0}}), layers_of(wires(3, {{0, 2}, {1, 1}, {2, 0}}))), 3U);
  std::mt19937 random(7);
  for (int i = 0; i < 200; ++i) {
    const Diagram diagram = random_wires(random, 6);
    const Layers layers = layers_of(diagram);
    EXPECT_EQ(crossings(diagram, layers), by_pairs(diagram, layers));
  }
}

TEST(Columns, AReorderedDiagramIsSeldomWorseThanTheBestOfAllOrders) {
  std::mt19937 random(11);
  std::size_t found = 0, least = 0, exact = 0;
  constexpr int cases = 60;
  for (int i = 0; i < cases; ++i) {
    const Diagram diagram = random_wires(random, 4);
    Layers layers = layers_of(diagram);
    reduce_crossings(diagram, layers);
    const std::size_t own = by_pairs(diagram, layers), best = fewest_of_all(diagram, layers_of(diagram));
    EXPECT_GE(own, best);
    EXPECT_LE(own, best + 2);
    found += own;
    least += best;
    exact += own == best ? 1 : 0;
  }
  EXPECT_GE(exact, 50U) << "of " << cases << ", " << found << " crossings where " << least << " are enough";
}

TEST(Columns, AWireThatReachesOverAColumnHasAPassageThere) {
  Diagram diagram;
  diagram.devices = {dot(0, 0, 1), dot(1, 1, 1), dot(2, 1, 0)};
  diagram.nets = {{"long", {}, {{0, 0}, {2, 0}}}};
  const Layers layers = layers_of(diagram);
  ASSERT_EQ(layers.passages.size(), 1U);
  EXPECT_EQ(layers.passages[0].column, 1);
}

TEST(Columns, WhatHasAPlaceKeepsIt) {
  Diagram diagram = wires(3, {{0, 2}, {1, 1}, {2, 0}});
  for (Device& device : diagram.devices) device.top_mm = 0.0;
  Layers layers = layers_of(diagram);
  const auto columns = layers.columns;
  reduce_crossings(diagram, layers);
  EXPECT_EQ(layers.columns, columns);
}

}  // namespace zoneproof::schematic
