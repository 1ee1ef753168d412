#include <algorithm>

#include "electric/pulse_seen.hpp"

namespace zoneproof::electric {

namespace {

/// What is linear passes the mean as if it stood still: its capacitances do not matter.
MeterShows mean_of_linear(const Solved& on_the_mean, std::size_t which) {
  const circuit::WorstCase& worst = on_the_mean.cases.at(which);
  return {worst.low.bound, worst.nominal, worst.high.bound};
}

/// Between the means of the earliest and the latest course; of a wave, between its ends.
MeterShows mean_between_courses(const PulsedPair& pair, std::size_t which) {
  MeterShows shows{circuit::infinite, pair.mean_nominal(which), -circuit::infinite};
  if (pair.waves()) {
    for (std::size_t k : {0U, 1U}) {
      shows.low = std::min(shows.low, pair.in(k, which).low.bound);
      shows.high = std::max(shows.high, pair.in(k, which).high.bound);
    }
    return shows;
  }
  pair.each_period([&](const auto& order, const auto& seconds) {
    shows.high = std::max(shows.high, mean_of(pair.bounding_course(order, seconds, true, false, which)));
    shows.low = std::min(shows.low, mean_of(pair.bounding_course(order, seconds, false, false, which)));
  });
  return shows;
}

}  // namespace

void shown_by_meter(PulsedPair& pair) {
  std::optional<Solved> on_the_mean;
  if (pair.linear) {
    const ZoneCircuit circuit = build_zone_circuit(pair.site, pair.level.situation, DrivePart::mean);
    on_the_mean = solve_wiring(circuit.wiring, pair.level.quantities);
  }
  const auto shows = [&](std::size_t which) {
    return on_the_mean ? mean_of_linear(*on_the_mean, which) : mean_between_courses(pair, which);
  };
  pair.pulse.panel_meter = shows(*pair.level.panel);
  if (pair.level.unit) pair.pulse.unit_meter = shows(*pair.level.unit);
}

}  // namespace zoneproof::electric
