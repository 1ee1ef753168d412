#pragma once
#include <cmath>

/// The grid on which baselines stand, and what keeps texts apart. In millimetres.
namespace zoneproof::paper {

/// A fifth of the step of running text (`kReading_mm` with lines 1.35 of it apart, rounded up): so every size of text
/// has a step that is a whole number of grid lines, and blocks of different sizes meet again on the same lines.
inline constexpr double kGrid_mm = 0.9;

/// The next grid line at or below.
inline double on_grid(double mm) { return kGrid_mm * std::ceil(mm / kGrid_mm - 1e-9); }
/// The same for ink, which must not reach beyond it by as much as a rounding error.
inline double beyond_ink(double mm) { return kGrid_mm * std::ceil((mm + 1e-6) / kGrid_mm); }

inline constexpr double kRounding_mm = 1e-6;        ///< what sums of lengths may be wrong by
inline constexpr double kIndent_mm = 6 * kGrid_mm;  ///< of what hangs under a mark or a number
inline constexpr double kPadding_mm = kGrid_mm;     ///< about the text of a cell
inline constexpr double kBetweenBlocks_mm = 3 * kGrid_mm;

}  // namespace zoneproof::paper
