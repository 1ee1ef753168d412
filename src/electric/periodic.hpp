#pragma once
#include <vector>

/// A voltage that repeats itself, and what a filter of first order makes of it.
namespace zoneproof::electric {

/// A stretch of a period in which the voltage stands still.
struct Stretch {
  double seconds = 0.0;
  double volts = 0.0;
};
using Period = std::vector<Stretch>;  ///< in order; at least one of some length

struct Reach {
  double low = 0.0, high = 0.0;
};

/// Lowest and highest output, in V, of a filter of time constant `filter_s` that has seen the period for ever. In each
/// stretch the output runs towards its voltage without turning, so the extremes are at the ends of stretches; the start
/// y0 = B / (1 - A) is the fixed point of one period y -> A y + B. A longer time constant never widens the reach: with
/// b > a, (1 + s a)/(1 + s b) = a/b + (1 - a/b)/(1 + s b) has no negative part, so it is a mean of what was before.
/// filter_s 0: the extremes of the period itself. Cost: linear.
Reach filtered(const Period& period, double filter_s);

double length_of(const Period& period);  ///< s
double mean_of(const Period& period);    ///< V

/// After a step at its start a voltage runs from `from` to `to` within `seconds`; at most `exp(1 - t/total_s)` of the
/// step is left at t. Appends stretches that stay on the far side of it: between the voltage and `from`. `steps` of
/// them.
void append_laggard(Period& period, double seconds, double from, double to, double total_s, int steps);

}  // namespace zoneproof::electric
