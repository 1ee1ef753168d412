#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "drawing/list.hpp"

/// A schematic before it has places: devices in columns, what they are joined by.
namespace zoneproof::schematic {

/// Terminals and wires lie on lines of this grid, so two wires side by side are at least so far apart: a hand with a
/// pencil can follow one. Lengths of symbols are multiples of it.
inline constexpr double kGrid_mm = 2.5;
inline constexpr double kHair_mm = 1e-6;  ///< lines nearer to one another lie on one another

/// The next line of the grid at or below a place, counted downwards.
double on_grid(double mm);

enum class Side { left, right };

/// Where a wire ends at a device: on its left or right edge, on a line of the grid.
struct Port {
  std::string id;
  Side side = Side::left;
  double y_mm = 0.0;  ///< from the upper edge of the device
};

/// Where a device stands in its column.
enum class Standing { left, middle, right };

/// A symbol, a box with terminals, a cable mark, a name of another sheet. No wire that does not end at it enters its
/// outline; what it is drawn with lies within.
struct Device {
  std::string id;
  int column = 0;
  double width_mm = 0.0, height_mm = 0.0;
  std::vector<Port> ports;
  drawing::Group content;                       ///< from its upper left corner
  std::optional<double> top_mm = std::nullopt;  ///< where it stands already, on the grid
  Standing standing = Standing::middle;
  bool close = false;  ///< needs no gap to others of which the same is said
};

struct End {
  std::size_t device = 0, port = 0;  ///< by their places in the lists
};

/// What is joined by wires: one conductor, electrically.
struct Net {
  std::string id, title;
  std::vector<End> ends;
};

struct Diagram {
  std::vector<Device> devices;
  std::vector<Net> nets;
};

}  // namespace zoneproof::schematic
