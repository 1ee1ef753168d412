#include "carriage/clocks.hpp"

#include "carriage/finding.hpp"
#include "carriage/naming.hpp"
#include "messages/carriage.hpp"

namespace zoneproof::carriage {

namespace {

using chain::Evidence;
using chain::Verdict;

Evidence check_clock(const site::Site& site, const std::string& id, const site::Clock& clock) {
  const std::string name = device_words(site, id);
  const Threshold most = limit_from(chain::limit_of(site, "clock_error_s"));
  Evidence evidence = held({"clock_error", id, "clock_error", "s", ""},
                           number_of(electric::tracked(clock.error_s, 0.0), true, "s"), Side::at_most, most);
  const bool runs_free = clock.source.is(site::ClockSource::free_running);
  if (!clock.source.known()) chain::add_gap(evidence.gaps, {clock.source.pointer, "unknown"});
  if (runs_free && evidence.verdict != Verdict::broken)
    chain::add_gap(evidence.gaps, {clock.source.pointer, "undecided"});
  if (evidence.verdict != Verdict::broken && !evidence.gaps.empty()) evidence.verdict = Verdict::unanswered;
  const Measure error = lasting(evidence.value.value_or(0.0)), limit = lasting(most.value.value_or(0.0));
  evidence.says = runs_free && evidence.verdict != Verdict::broken ? say::clock_runs_free(name)
                  : evidence.value                                 ? say::clock_is_off(name, error, limit)
                                                                   : say::clock_open(name);
  if (runs_free || evidence.verdict == Verdict::broken) evidence.remedies.push_back(say::set_clock_by(name));
  return evidence;
}

}  // namespace

std::vector<Evidence> check_clocks(const site::Site& site) {
  std::vector<Evidence> all;
  for (const auto& [id, unit] : site.units) all.push_back(check_clock(site, id, unit.clock));
  for (const auto& [id, recorder] : site.recorders) all.push_back(check_clock(site, id, recorder.clock));
  for (const auto& [id, camera] : site.cameras)
    if (!camera.streams.empty()) all.push_back(check_clock(site, id, camera.clock));
  return all;
}

}  // namespace zoneproof::carriage
