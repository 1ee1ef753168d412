#include "drawing/sheet.hpp"

#include "drawing/shapes.hpp"
#include "drawing/type.hpp"

namespace zoneproof::drawing {

Box Sheet::frame() const {
  return {margins.left_mm, margins.top_mm, format.width_mm - margins.right_mm, format.height_mm - margins.bottom_mm};
}

Shape frame_line(const Sheet& sheet) {
  return stroked("frame", {ring(sheet.frame())}, {Ink::line, kFrame_mm, {}, Cap::butt, Join::miter});
}

}  // namespace zoneproof::drawing
