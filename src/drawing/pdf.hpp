#pragma once
#include <string>

#include "drawing/fonts.hpp"
#include "drawing/sheet.hpp"

namespace zoneproof::drawing {

/// All sheets as one PDF 1.5: letters as text with the fonts embedded, an outline (sheets, and groups with a bookmark
/// below), links within and outward, title, subject, keywords and date from the document. The same bytes for the same
/// document, fonts and release of Cairo. What it has not: alternative texts of pictures (Cairo 1.16 cannot write them).
/// Throws std::invalid_argument where the document is not sound (`faults`), std::runtime_error where Cairo fails.
std::string pdf(const Document& document, const Fonts& fonts, Palette palette);

}  // namespace zoneproof::drawing
