#pragma once
#include <vector>

#include "drawing/legend.hpp"
#include "drawing/list.hpp"
#include "sheets/view_lines.hpp"
#include "sight/picture.hpp"

/// The masks of a picture on paper. Used by `expected_view_sheet` and its parts only.
namespace zoneproof::sheets {

/// A mask as an area of the sheet.
Rings rings_of(const sight::CameraSetup::Mask& mask, const PictureFrame& frame);

/// Each on clean paper, crosshatched within its outline: to be drawn over all that is seen.
drawing::Group view_masks(const sight::ExpectedView& view, const PictureFrame& frame);

/// What a mask looks like, with what it means.
drawing::LegendEntry mask_legend();

}  // namespace zoneproof::sheets
