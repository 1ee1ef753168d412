#pragma once
#include <cstddef>
#include <string>
#include <vector>

#include "cli/screen.hpp"

namespace zoneproof::cli {

struct Column {
  std::string heading;
  bool figures = false;   ///< right-aligned, never cut: a figure without its end would be another figure
  std::size_t least = 6;  ///< cells that a column of words keeps when room is short
};

struct Cell {
  std::string text;
  Style style = Style::plain;
};

/// Rows in aligned columns. Where they are wider than the screen, the widest columns of words give way, down to their
/// least width, and what is cut ends in an ellipsis. Where even that is too wide a row goes on in a second line.
/// Cells are made printable: names come from files of strangers.
class Table {
 public:
  explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}

  /// Missing cells at the end of a row are empty.
  void add(std::vector<Cell> cells);
  bool empty() const { return rows_.empty(); }

  /// All rows with the headings above them, `indent` cells from the left. Cost: linear in the text.
  void print(Screen& screen, std::size_t indent = 0) const;

 private:
  std::vector<std::size_t> widths(std::size_t room) const;
  void print_row(Screen& screen, const std::vector<Cell>& row, const std::vector<std::size_t>& width,
                 std::size_t indent) const;

  std::vector<Column> columns_;
  std::vector<std::vector<Cell>> rows_;
};

}  // namespace zoneproof::cli
