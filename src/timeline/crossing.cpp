#include "timeline/crossing.hpp"

#include <algorithm>
#include <limits>

#include "chain/limit.hpp"
#include "plane/inner_circle.hpp"

namespace zoneproof::timeline {

namespace {

constexpr double kPrecision_m = 0.01;

Told time_at(const site::Site& site, const char* rule, double way_m, bool area_known) {
  const chain::Limit speed = chain::limit_of(site, rule);
  if (!speed.value || *speed.value <= 0.0) return not_told(speed.pointer, "no_rule");
  Told time = {{way_m / *speed.value, way_m / *speed.value}};
  time.known = area_known;
  return time;
}

}  // namespace

Crossing crossing_of(const site::Site& site, const sight::ZoneView& view) {
  double least = std::numeric_limits<double>::infinity();
  for (const sight::Outlines& part : view.coverage.areas)
    least = std::min(least, 2.0 * plane::inner_circle(part, kPrecision_m).radius);
  const bool known = !view.coverage.areas.empty();
  Crossing crossing;
  crossing.way_m = known ? least : 0.0;
  crossing.fast = time_at(site, "person_fast_mps", crossing.way_m, known);
  crossing.slow = time_at(site, "person_slow_mps", crossing.way_m, known);
  for (Told* time : {&crossing.fast, &crossing.slow}) {
    for (const chain::Gap& gap : view.gaps) chain::add_gap(time->gaps, gap);
    if (!known && time->gaps.empty()) time->gaps.push_back({"/zones/" + view.zone, "undecided"});
  }
  return crossing;
}

}  // namespace zoneproof::timeline
