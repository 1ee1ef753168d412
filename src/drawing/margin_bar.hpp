#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// How far a quantity keeps from its limit, as one bar that is the same for volts, hours and pixels.
struct MarginBar {
  /// Margin over the margin that is asked for: 1 just enough, 0 at the limit, negative beyond it. None: not known.
  std::optional<double> ratio;
  std::string figure;  ///< the margin with its unit, as it is to be read
  Ink ink = Ink::text;
};

/// The limit is a stroke across, the margin asked for a small mark above and below; a bar goes from the limit to where
/// the quantity is. The track shows -1 to 2; a bar that goes on beyond has an open, pointed end. Without a ratio the
/// track is dotted and empty. The figure stands to the right. The whole is `width_mm` wide without the figure and
/// begins at `at`, half of its height above and below.
struct MarginBarDrawn {
  Group group;
  Box box;
};
MarginBarDrawn margin_bar(const Ruler& ruler, const std::string& id, const MarginBar& bar, Point at, double width_mm);

}  // namespace zoneproof::drawing
