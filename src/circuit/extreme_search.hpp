#pragma once
#include "circuit/box_study.hpp"

/// Inside of the engine: progressive certification, the method of worst_case.hpp.
namespace zoneproof::circuit {

/// One extreme of one quantity over the box of a study: its largest value for direction 1, its smallest for -1. What
/// was met on the way (trouble, how many parameters were certified or enumerated) is entered in `result`. A bounded
/// number of parts of the box is looked into; where that does not suffice, the result is bounded and not exact.
Extreme search_extreme(const BoxStudy& study, const Quantity& quantity, int direction, WorstCase& result);

}  // namespace zoneproof::circuit
