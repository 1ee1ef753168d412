#pragma once
#include <vector>

#include "drawing/legend.hpp"
#include "drawing/list.hpp"
#include "sheets/well_inside.hpp"
#include "sight/picture.hpp"

/// An expected view as lines and hatching on paper. Used by `expected_view_sheet` only.
namespace zoneproof::sheets {

/// Where the picture lies on the sheet.
struct PictureFrame {
  drawing::Box box;
  double mm_per_px = 0.0;

  drawing::Point at(const sight::PicturePlace& place) const {
    return {box.left + place.across_px * mm_per_px, box.top + place.down_px * mm_per_px};
  }
  std::vector<drawing::Point> points(const std::vector<sight::PicturePlace>& places) const;
};

Rings rings_of(const sight::SeenArea& area, const PictureFrame& frame);

/// Hatching first, then lines from faint to heavy, masks over them, the border last: one group for each layer.
drawing::Group view_lines(const sight::ExpectedView& view, const PictureFrame& frame);

/// Samples of what occurs in the view, with what it means.
std::vector<drawing::LegendEntry> view_legend(const sight::ExpectedView& view);

}  // namespace zoneproof::sheets
