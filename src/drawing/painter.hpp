#pragma once
#include <cairo/cairo.h>

#include <functional>

#include "drawing/fonts.hpp"
#include "drawing/sheet.hpp"

/// What PDF and PNG share: a sheet painted by Cairo. Costly to include: only where files are written.
namespace zoneproof::drawing {

/// Told before and after each item that has a name, for what a format keeps beside ink (links, places to go to).
struct PaintingHooks {
  std::function<void(const Name&, const Box&)> before, after;
};

/// Paints all of a sheet; the unit of `cairo` must be a millimetre, its origin the sheet's.
void paint(cairo_t* cairo, const Fonts& fonts, const Sheet& sheet, Palette palette, const PaintingHooks& hooks);

/// All that a group inks, without line widths.
Box bounds(const Group& group);

}  // namespace zoneproof::drawing
