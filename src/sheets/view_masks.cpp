#include "sheets/view_masks.hpp"

#include "base/message.hpp"
#include "drawing/hatch.hpp"
#include "drawing/shapes.hpp"
#include "drawing/type.hpp"
#include "messages/sheets.hpp"

namespace zoneproof::sheets {

using drawing::Ink;
using drawing::Item;
using drawing::Subpath;

namespace {

/// Two ways and denser: blind patches are hatched one way, wide.
const drawing::Hatch kCovered{45.0, 0.9, true, {Ink::line, drawing::kFine_mm}};
const drawing::Stroke kOutline{Ink::line, drawing::kMedium_mm};

/// Paper first: a line that ends at the mask ends there with half of its width beyond.
std::vector<Item> covered(const std::vector<Subpath>& area) {
  return {{drawing::filled({}, area, Ink::paper)},
          {drawing::hatched({}, area, kCovered)},
          {drawing::stroked({}, area, kOutline)}};
}

}  // namespace

Rings rings_of(const sight::CameraSetup::Mask& mask, const PictureFrame& frame) { return {frame.points(mask.corners)}; }

drawing::Group view_masks(const sight::ExpectedView& view, const PictureFrame& frame) {
  drawing::Group group;
  group.name.id = "view-masks";
  for (const sight::CameraSetup::Mask& mask : view.masks)
    for (Item& item : covered({drawing::ring(frame.points(mask.corners))})) group.items.push_back(std::move(item));
  return group;
}

drawing::LegendEntry mask_legend() {
  const drawing::Box box = {0.0, 0.0, drawing::kSampleWidth_mm, drawing::kSampleHeight_mm};
  return {covered({drawing::ring(box)}), text(say::sheets_legend_mask())};
}

}  // namespace zoneproof::sheets
