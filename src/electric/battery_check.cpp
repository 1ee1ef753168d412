#include "electric/battery_check.hpp"

#include <algorithm>

#include "base/outward.hpp"
#include "chain/limit.hpp"
#include "electric/answer.hpp"
#include "electric/battery.hpp"
#include "electric/naming.hpp"
#include "messages/electric.hpp"
#include "site/relations.hpp"

namespace zoneproof::electric {

using chain::Evidence;
using chain::Verdict;

Evidence battery_age(const site::Site& site, const std::string& supply, const std::string& id) {
  const site::Battery& battery = site.batteries.at(id);
  Subject subject = battery_subject(site, supply, "battery_age", "age");
  subject.unit = "years";
  subject.thing = thing_words(site, id);
  const chain::Limit life = chain::limit_of(site, "battery_life_years");
  if (!battery.age_years.known()) return unanswered(subject, {{battery.age_years.pointer, "unknown"}});
  Evidence evidence = unanswered(subject, {});
  add_if_weak(evidence.gaps, battery.age_years);
  evidence.value = evidence.bound = battery.age_years.high;
  evidence.nominal = battery.age_years.nominal;
  evidence.origin = battery.age_years.origin;
  if (!life.value) {
    chain::lacks_rule(evidence, life);
    return evidence;
  }
  evidence.limit = *life.value;
  evidence.margin = *life.value - battery.age_years.high;
  evidence.required_margin = 0.0;
  evidence.limit_source = life.source;
  evidence.limit_verified = life.verified;
  if (evidence.gaps.empty()) evidence.verdict = chain::judge(*evidence.margin, 0.0);
  evidence.says =
      say::battery_is_old(subject.thing, Measure{battery.age_years.high, "years"}, Measure{*life.value, "years"});
  if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::replace_battery(subject.thing));
  return evidence;
}

Evidence battery_temperature(const site::Site& site, const std::string& supply, const std::string& id) {
  const site::Battery& battery = site.batteries.at(id);
  Subject subject = battery_subject(site, supply, "battery_temperature", "temperature");
  subject.unit = "degC";
  subject.thing = thing_words(site, id);
  const site::BatterySpec* spec = site::spec_of(site, battery.part, &site::Part::battery);
  if (spec == nullptr) return unanswered(subject, {{battery.part.pointer, "unknown"}});
  const Temperatures air = temperatures_of(site, {battery.area});
  Evidence evidence = unanswered(subject, {});
  for (const Basis& basis : air.bases) {
    evidence.origin = std::max(evidence.origin, basis.origin);
    if (basis.unknown) chain::add_gap(evidence.gaps, {basis.pointer, "unknown"});
  }
  for (const site::Value* limit : {&spec->temperature_min_degC, &spec->temperature_max_degC}) {
    add_if_weak(evidence.gaps, *limit);
    evidence.origin = std::max(evidence.origin, limit->origin);
  }
  if (!spec->temperature_min_degC.known() || !spec->temperature_max_degC.known()) return evidence;
  const double cold = air.low - spec->temperature_min_degC.high, hot = spec->temperature_max_degC.low - air.high;
  evidence.value = evidence.bound = cold < hot ? air.low : air.high;
  evidence.limit = cold < hot ? spec->temperature_min_degC.high : spec->temperature_max_degC.low;
  evidence.margin = std::min(cold, hot);
  evidence.required_margin = 0.0;
  evidence.limit_source = part_source(site, battery.part.id);
  evidence.limit_verified = true;  // the part's own sheet
  if (evidence.gaps.empty()) evidence.verdict = chain::judge(*evidence.margin, 0.0);
  const Measure low = lowest({air.low, "degC"}), high = highest({air.high, "degC"});
  evidence.says = say::battery_air(subject.thing, low, high, Measure{spec->temperature_min_degC.high, "degC"},
                                   Measure{spec->temperature_max_degC.low, "degC"});
  if (evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::move_battery(subject.thing));
  return evidence;
}

}  // namespace zoneproof::electric
