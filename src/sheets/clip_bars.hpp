#pragma once
#include <string>
#include <vector>

#include "drawing/legend.hpp"
#include "sheets/clip_rows.hpp"
#include "sheets/time_axis.hpp"

/// The bars of one alarm's rows, and what they mean. Used by clip_sheet only.
namespace zoneproof::sheets {

/// Those of a row, `y_mm` in their middle. What lies beyond the end of the axis has a mark there, `beyond` is set.
/// Ids begin with `id`.
drawing::Group clip_bars(const std::string& id, const ClipRow& row, const TimeAxis& axis, double y_mm, bool& beyond);

/// The line of time 0 from `top_mm` to `bottom_mm`.
drawing::Group zero_line(const std::string& id, double x_mm, double top_mm, double bottom_mm);

std::vector<drawing::LegendEntry> clip_legend(bool beyond);

}  // namespace zoneproof::sheets
