#pragma once
#include <memory>
#include <string>
#include <vector>

#include "wiring/board.hpp"

namespace zoneproof::wiring {

/// The columns of a sheet of rows, from the detector to the unit.
struct Columns {
  static constexpr int field = 0, field_cable = 1, at_panel = 2, panel = 3, source = 4, unit_cable = 5, fitted = 6,
                       unit = 7;
};

/// A strip of a sheet, from the left edge to the right: one circuit with all that belongs to it.
class Row {
 public:
  virtual ~Row() = default;
  double height_mm() const { return height_mm_; }
  const std::string& name() const { return name_; }  ///< for the description of the sheet
  /// Adds its devices with their upper edge at `top_mm`, on the grid.
  virtual void build(Board& board, double top_mm) const = 0;

 protected:
  double height_mm_ = 0.0;
  std::string name_;
};

using Rows = std::vector<std::unique_ptr<Row>>;

}  // namespace zoneproof::wiring
