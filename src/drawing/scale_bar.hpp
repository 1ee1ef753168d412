#pragma once
#include "drawing/list.hpp"

namespace zoneproof::drawing {

/// A bar that tells lengths on a sheet, so that a copy of any size can be measured: four equal parts, black and white
/// in turn, of 1, 2 or 5 times a power of ten metres; the longest such that bar and figures fit `width_mm`. `scale` is
/// 50 for 1:50, above 0. The group stands with its upper left corner at `at`; its box is returned too.
struct ScaleBar {
  Group group;
  Box box;
  double part_m = 0.0;
};
ScaleBar scale_bar(const Ruler& ruler, double scale, Point at, double width_mm);

}  // namespace zoneproof::drawing
