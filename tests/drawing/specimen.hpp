#pragma once
#include <string>

#include "drawing/fonts.hpp"
#include "drawing/labels.hpp"
#include "drawing/pango_ruler.hpp"
#include "drawing/sheet.hpp"

/// Invented sheets on which everything that drawings are made of occurs, for tests and for the eye.
namespace zoneproof::drawing {

/// The fonts as the build laid them beside the program; throws where they are not complete.
const Fonts& test_fonts();
const Ruler& test_ruler();

/// A plan-like sheet (A4, 1:100) and one with marks, bars and sentences (Letter, lying).
Document specimen(const Ruler& ruler);

}  // namespace zoneproof::drawing
