#include "electric/catch_time.hpp"

#include <algorithm>
#include <cmath>

namespace zoneproof::electric {

namespace {

/// The range of the time constant is cut into thirds until the shortest alarm is known to this share of it.
constexpr double share_of_range = 1e-9;

/// How long the filtered voltage has to stay beyond the edge so that the looks notice it in every phase.
double noticed_after(const PulseWatch& watch) {
  return watch.hold_high > 0.0 ? watch.period + watch.hold_high + watch.period : watch.period;
}

}  // namespace

double time_beyond(double alarm_s, double lead, double filter_s) {
  if (filter_s <= 0.0) return alarm_s;
  const double beyond = alarm_s + filter_s * std::log(-lead * std::expm1(-alarm_s / filter_s));
  return std::max(beyond, 0.0);
}

double alarm_for(double beyond_s, double lead, double filter_s) {
  if (filter_s <= 0.0) return beyond_s;
  // In this form no exponential overflows for a filter that is far quicker than the time asked for.
  return beyond_s - filter_s * std::log(lead) + filter_s * std::log1p(lead * std::exp(-beyond_s / filter_s));
}

double certainly_caught(const PulseWatch& watch, double least_lead) {
  const double beyond = noticed_after(watch);
  return std::max(alarm_for(beyond, least_lead, watch.filter_low), alarm_for(beyond, least_lead, watch.filter_high));
}

double possibly_caught(const PulseWatch& watch, double most_lead) {
  const auto shortest = [&](double filter_s) { return alarm_for(watch.hold_low, most_lead, filter_s); };
  double low = watch.filter_low, high = watch.filter_high;
  while (high - low > share_of_range * watch.filter_high) {
    const double third = (high - low) / 3.0;
    const bool left = shortest(low + third) < shortest(high - third);
    (left ? high : low) += left ? -third : third;
  }
  return std::max(std::min({shortest(watch.filter_low), shortest(watch.filter_high), shortest((low + high) / 2.0)}),
                  0.0);
}

double longest_delay(const PulseWatch& watch, double least_lead) {
  return noticed_after(watch) + watch.filter_high * std::log1p(1.0 / least_lead);
}

}  // namespace zoneproof::electric
