#include "electric/pulse.hpp"

#include <algorithm>

#include "electric/pulse_seen.hpp"

namespace zoneproof::electric {

void follow_pulses(const site::Site& site, Level& level) {
  if (!level.circuit.terminal || !level.panel || !pulsed(*level.circuit.terminal->spec)) return;
  PulsedPair pair(site, level);
  level.solved.gaps = pair.together.gaps;
  level.solved.unknown = level.solved.unknown || pair.together.unknown;
  if (!level.solved.unknown && !pair.troubled()) {
    Solved seen = pair.together;
    seen_by_panel(pair, seen);
    if (pair.pulse.tapped) seen_by_unit(pair, seen);
    if (pair.pulse.timing.known) shown_by_meter(pair);
    level.solved = std::move(seen);
  }
  level.pulse = std::move(pair.pulse);
}

void with_pulse_gaps(chain::Evidence& evidence, const Level& level) {
  for (const chain::Gap& gap : level.pulse->gaps) chain::add_gap(evidence.gaps, gap);
  // What fails whatever is missing was tried in the pulse alone; the other parts may still save it.
  const bool certain = evidence.verdict == chain::Verdict::broken && level.solved.gaps.empty();
  if (!evidence.gaps.empty() && !certain) evidence.verdict = chain::Verdict::unanswered;
}

std::optional<QuietTime> quiet_time(const Level& level, const Band& band, double spare) {
  const Pulse& pulse = *level.pulse;
  if (!pulse.timing.known || !pulse.gaps.empty() || !level.unit) return std::nullopt;
  const site::Value& filter = level.circuit.input->spec->input.filter_s;
  if (level.circuit.terminal->spec->drive.is(site::TerminalDrive::alternating)) return std::nullopt;
  const double filter_s = filter.none() ? 0.0 : filter.high;
  double low = circuit::infinite, high = -circuit::infinite;
  for (const StandingLevel& standing : pulse.parts) {
    low = std::min(low, standing.solved.cases.at(*level.unit).low.bound);
    high = std::max(high, standing.solved.cases.at(*level.unit).high.bound);
  }
  std::optional<QuietTime> best;
  for (const StandingLevel& standing : pulse.parts) {
    const double room = guaranteed_margin(standing.solved, band) - spare;
    if (!(room > 0.0)) continue;
    const double share = high > low ? room / (high - low) : 1.0;
    const double quiet = pulse.timing.of(standing.part).low - time_until(share, standing.total_s + filter_s);
    if (!(quiet > 0.0) || (best && best->seconds >= quiet)) continue;
    best = QuietTime{&standing, quiet, pulse.timing.period.high - quiet};
  }
  return best;
}

}  // namespace zoneproof::electric
