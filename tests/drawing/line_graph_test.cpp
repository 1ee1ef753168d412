#include "drawing/line_graph.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "drawing/faults.hpp"
#include "drawing/specimen.hpp"

namespace zoneproof::drawing {
namespace {

Sheet on_a_sheet(const LineGraph& graph, double width_mm, double height_mm) {
  Sheet sheet{kA4, {}, {"s", "Sheet", {}}, "A sheet.", {}};
  sheet.content.items.push_back({line_graph(test_ruler(), graph, {25, 20}, width_mm, height_mm).group});
  return sheet;
}

/// Where the straight piece of a curve begins and ends on paper.
std::vector<Point> drawn_points(const Sheet& sheet, const std::string& id) {
  std::vector<Point> points;
  each(
      sheet.content,
      [&](const Shape& shape) {
        if (shape.name.id != id) return;
        points.push_back(shape.path.front().start);
        for (const Piece& piece : shape.path.front().pieces) points.push_back(piece.to);
      },
      [](const TextLine&) {});
  return points;
}

RC_GTEST_PROP(LineGraphProperty, NoTextMeetsAnotherOrLeavesTheBox, ()) {
  const auto between = [](int low, int high) { return static_cast<double>(*rc::gen::inRange(low, high)); };
  LineGraph graph{"g", "Discharge of the battery", {0, between(1, 500), "Hours"}, {between(0, 10), 14, "Volts"}, {}, {},
                  {}};
  for (int i = *rc::gen::inRange(0, 4); i > 0; --i)
    graph.upright.push_back({"u" + std::to_string(i), "24 h asked", between(0, 500) / 500 * graph.x.high, {}});
  const double width = between(60, 170), height = between(40, 120);
  const Sheet sheet = on_a_sheet(graph, width, height);
  for (const std::string& fault : layout_faults(sheet)) RC_FAIL(fault);
  each(
      sheet.content, [](const Shape&) {},
      [&](const TextLine& text) {
        RC_ASSERT(inside(text.box(), Box{25, 20, 25 + width, 20 + height}));
      });
}

TEST(LineGraph, PutsAValueWhereItsFigureStands) {
  LineGraph graph{"g", "Title", {0, 10, "Hours"}, {0, 20, "Volts"}, {{"c", {{0, 0}, {5, 10}, {10, 20}}, {}}}, {}, {}};
  graph.level.push_back({"cutoff", "cut-off", 10, {}});
  const Sheet sheet = on_a_sheet(graph, 120, 80);
  const auto curve = drawn_points(sheet, "g-c"), cutoff = drawn_points(sheet, "g-cutoff");
  ASSERT_EQ(curve.size(), 3U);
  ASSERT_EQ(cutoff.size(), 2U);
  EXPECT_NEAR(curve[1].y, cutoff[0].y, 1e-9) << "10 V of the curve lies on the line at 10 V";
  EXPECT_NEAR(curve[1].x, (curve[0].x + curve[2].x) / 2, 1e-9);
  EXPECT_NEAR(cutoff[0].x, curve[0].x, 1e-9) << "a line goes from axis to end";
  EXPECT_NEAR(cutoff[1].x, curve[2].x, 1e-9);
  EXPECT_GT(curve[0].y, curve[2].y) << "up is more";
}

TEST(RoundSteps, AreMultiplesOfOneTwoOrFiveAndFarEnoughApart) {
  EXPECT_EQ(round_steps(0, 10, 2), (std::vector<double>{0, 2, 4, 6, 8, 10}));
  EXPECT_EQ(round_steps(-3, 3, 2.1), (std::vector<double>{0}));
  EXPECT_EQ(round_steps(9.9, 13.8, 0.9), (std::vector<double>{10, 11, 12, 13}));
  EXPECT_EQ(round_steps(0, 0.05, 0.011), (std::vector<double>{0, 0.02, 0.04}));
}

}  // namespace
}  // namespace zoneproof::drawing
