#pragma once

/// Sizes of letters and widths of lines, in millimetres: the only ones that sheets use.
namespace zoneproof::drawing {

// Em squares. A capital is 0.7 of it high: 1.5, 1.8, 2.2, 3 and 4 mm. Below 1.5 mm a print is not read on a ladder.
inline constexpr double kCaption_mm = 2.1, kLabel_mm = 2.6, kReading_mm = 3.2, kHeading_mm = 4.2, kTitle_mm = 5.6;

// ISO 128-2:2020, preferred line widths (from memory).
inline constexpr double kHairline_mm = 0.13, kFine_mm = 0.18, kThin_mm = 0.25, kMedium_mm = 0.35, kThick_mm = 0.5,
                        kFrame_mm = 0.7;

}  // namespace zoneproof::drawing
