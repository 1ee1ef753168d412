#pragma once
#include <string>
#include <vector>

#include "drawing/list.hpp"
#include "paper/set_text.hpp"
#include "paper/table.hpp"

/// Rows of a table, set into the widths of its columns.
namespace zoneproof::paper {

inline constexpr double kTickSide_mm = 3.6;

/// "Lowest (V)": the heading without the one above it.
std::string short_heading(const Column& column);

/// A cell in its place: between the edges of its column, padding taken off, its first baseline at a height.
struct CellPlace {
  double left_mm = 0.0, right_mm = 0.0, baseline_mm = 0.0;
};

/// Adds what is no text: a rule, a box, a mark that is as large as its column allows.
void add_mark(drawing::Group& group, const drawing::Ruler& ruler, const Cell& cell, const CellPlace& place,
              drawing::Align align);

/// A row with its texts broken; cells that are no text have an empty one.
struct SetRow {
  std::vector<SetText> texts;
  double lift_mm = 0.0;    ///< room above the text to write by hand
  double height_mm = 0.0;  ///< padding included
};
SetRow set_row(const drawing::Ruler& ruler, const Table& table, const Row& row, const std::vector<double>& widths,
               double size_mm);

/// The parts of a row that is higher than `most_mm`, in order; the row itself where it is not. Each has at least one
/// line of what is left; what is no text stands in the first.
std::vector<SetRow> parts_of(const SetRow& row, double most_mm);

}  // namespace zoneproof::paper
