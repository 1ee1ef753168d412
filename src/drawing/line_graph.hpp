#pragma once
#include <string>
#include <vector>

#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// Quantities of one kind, from the least to the most that a graph shows; longer than nothing.
struct Scale {
  double low = 0.0, high = 1.0;
  std::string label;  ///< what it measures, with its unit
};

/// One quantity over another: straight lines from point to point, x ascending.
struct Curve {
  std::string id;
  std::vector<Point> points;  ///< in the units of the scales, inside of them
  Stroke stroke;
};

/// A value of one of the two that means something: a line across the graph, with its words.
struct GraphLine {
  std::string id, label;
  double at = 0.0;
  Stroke stroke;
};

struct LineGraph {
  std::string id, title;
  Scale x, y;
  std::vector<Curve> curves;
  std::vector<GraphLine> upright, level;  ///< at values of x; at values of y
};

struct LineGraphDrawn {
  Group group;
  Box box;  ///< of all of it, with its figures and words
};

/// A graph in a box of that size with its upper left corner at `at`: axes to the left and below with round figures, a
/// grid of hairlines, curves, and lines across. Words of upright lines stand above the graph in as many rows as they
/// need, those of level lines at its right end above their line; no two texts meet, which a graph of at least 60 by 40
/// mm with a few lines can keep. Ids: `id`-axes, `id`-ID of curves and lines.
LineGraphDrawn line_graph(const Ruler& ruler, const LineGraph& graph, Point at, double width_mm, double height_mm);

/// Multiples of 1, 2 or 5 times a power of ten from `low` to `high` that are `least` (above 0) or more apart.
std::vector<double> round_steps(double low, double high, double least);

}  // namespace zoneproof::drawing
