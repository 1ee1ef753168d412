#pragma once
#include <cstddef>
#include <string>

#include "drawing/fonts.hpp"
#include "drawing/sheet.hpp"

namespace zoneproof::drawing {

/// One sheet as PNG, 8 bits for red, green and blue each, with its resolution and title in it; 72 to 1200 dots an inch,
/// else std::invalid_argument, as for a document that is not sound (`faults`). std::out_of_range for a sheet it has
/// not. The same bytes for the same sheet, fonts and releases of Cairo and libpng. An A4 sheet at 300 dpi takes 35 MB
/// while it is made.
std::string png(const Document& document, std::size_t sheet, const Fonts& fonts, Palette palette, double dots_per_inch);

}  // namespace zoneproof::drawing
