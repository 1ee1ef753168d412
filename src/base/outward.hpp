#pragma once
#include "base/message.hpp"

namespace zoneproof {

/// The ends of an interval with so many decimals (negative: tens, hundreds), rounded away from its middle, so that what
/// is printed holds all that was computed: a reading at the very end of it must not be called a misfit. What is off by
/// less than the numbers themselves are good for is not pushed on to the next step.
double rounded_down(double value, int decimals);
double rounded_up(double value, int decimals);

/// The same for sentences, to the significant digits of the measure.
Measure lowest(Measure measure);
Measure highest(Measure measure);

}  // namespace zoneproof
