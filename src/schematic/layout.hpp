#pragma once
#include <vector>

#include "drawing/geometry.hpp"
#include "schematic/diagram.hpp"

namespace zoneproof::schematic {

struct LayoutOptions {
  double gap_mm = 2 * kGrid_mm;      ///< between devices of a column, at least
  double channel_mm = 2 * kGrid_mm;  ///< between columns, at least
  bool reorder = true;               ///< devices without a place may change theirs in their column
};

/// Straight pieces of one net's wires, none lying on another, and the places where three or more of them meet.
struct Wires {
  std::vector<drawing::Line> lines;
  std::vector<drawing::Point> dots;
};

/// A diagram with places, the upper left corner at or right and below of (0, 0).
struct Layout {
  std::vector<drawing::Point> at;  ///< upper left corner of each device
  std::vector<Wires> wires;        ///< of each net
  drawing::Box box;                ///< about devices and wires
};

/// Places and routes: columns from left to right, crossings reduced (columns.hpp), as many wires straight as can be
/// (heights.hpp), the rest over tracks in the channels between the columns (channel.hpp). Wires run along the grid's
/// lines or between them where columns are, and those of different nets never lie on each other. The same layout for
/// the same diagram each time.
Layout laid_out(const Diagram& diagram, const LayoutOptions& options);

/// How often wires of different nets cross in it.
std::size_t wire_crossings(const Layout& layout);

/// Wires and devices as items: wires "wire-NET" first, junction dots, then each device's content in a group of its id.
drawing::Group drawn(const Diagram& diagram, const Layout& layout);

}  // namespace zoneproof::schematic
