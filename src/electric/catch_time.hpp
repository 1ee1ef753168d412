#pragma once

/// How long an alarm has to last so that an input that looks from time to time takes notice of it.
///
/// Theory. An alarm steps the voltage from its level at rest r to its level in alarm a and, after h seconds, back. The
/// input's filter is of first order with time constant t, so that the filtered voltage v leaves r as
/// r + (a - r)(1 - e^(-s/t)) and returns from where it was as r + (v(h) - r) e^(-(s-h)/t): the step response and the
/// natural response of any first-order circuit. With k = (a - e)/(e - r) for an edge e between the two, v is beyond e
/// for
///
///     b(h) = h + t ln(k (1 - e^(-h/t))),          zero or less: it never gets there
///
/// and the shortest alarm that stays beyond for n seconds is its inverse, h = n - t ln k + t ln(1 + k e^(-n/t)); both
/// go to h = n as t goes to 0. b is jointly concave in h and t (a sum of a linear function and of the perspective of
/// the concave ln(1 - e^-u)), so the shortest alarm is convex in t: over a range of t it is largest at an end of it,
/// and smallest at an end or inside, where it is searched for by thirds. It falls with k.
///
/// Looks come at most p apart; when the first one comes is the adversary's choice, and so is how far each comes before
/// its time. A state that must last d counts at the first look that finds it d after the look that found it new: p for
/// the first look, d, and up to p for the last one. So an alarm beyond the edge for p + d + p is certainly caught, one
/// for less than d certainly not; what lies between is caught by chance. Where nothing has to last, one look is enough.
///
/// A hysteresis of the edge only lengthens the way back, so leaving it out errs on the safe side.
/// Cost: a few logarithms.
namespace zoneproof::electric {

/// One input in time, in seconds. `period` is the longest time between two looks, 0 for an input that looks all the
/// time; `hold` is how long a state must last to count, 0 where one look is enough; `filter` is a time constant.
struct PulseWatch {
  double filter_low = 0.0, filter_high = 0.0;
  double period = 0.0;
  double hold_low = 0.0, hold_high = 0.0;
};

/// Time that the filtered voltage is beyond the edge, in s, of an alarm of `alarm_s`; `lead` is k, > 0. At least 0.
double time_beyond(double alarm_s, double lead, double filter_s);

/// The shortest alarm, in s, that is beyond the edge for `beyond_s`; 0 for nothing asked.
double alarm_for(double beyond_s, double lead, double filter_s);

/// The shortest alarm, in s, that is caught whatever the phase of the looks, the filter and the hold. `least_lead` is
/// the smallest k of the levels, > 0.
double certainly_caught(const PulseWatch& watch, double least_lead);

/// The shortest alarm, in s, that may be caught: a shorter one never is. `most_lead` is the largest k of the levels, >
/// 0.
double possibly_caught(const PulseWatch& watch, double most_lead);

/// Longest time, in s, from the start of an alarm that lasts until it counts.
double longest_delay(const PulseWatch& watch, double least_lead);

}  // namespace zoneproof::electric
