// Writes random storms and what becomes of them as lines of words, for queues_in_simpy_test.py, which computes them
// again.
#include <iostream>
#include <string>

#include "carriage/random_storm.hpp"

namespace {

using namespace zoneproof::carriage;

/// Frames and links moved by some nanoseconds, so that nothing comes to a queue at the same moment from two sides: who
/// goes first then is a choice, not a law.
Storm without_ties(std::uint64_t seed) {
  Storm storm = random_storm(seed);
  Chance chance(seed);
  for (Hop& hop : storm.hops) hop.latency += chance.between(0, 99'999);
  for (Flow& flow : storm.flows) {
    flow.release += chance.between(0, 999'999);
    Nanoseconds later = 0;
    for (Frame& frame : flow.frames) frame.at += later += chance.between(0, 99'999);
  }
  return storm;
}

void write_storm(std::uint64_t seed, const Storm& storm) {
  std::cout << "storm " << seed << " pieces " << storm.piece_bits.value_or(0) << '\n';
  for (const Hop& hop : storm.hops)
    std::cout << "hop " << hop.rate_bps << ' ' << hop.latency << ' ' << (hop.order == Order::of_arrival ? 0 : 1)
              << '\n';
  for (const Flow& flow : storm.flows) {
    std::cout << "flow " << flow.release << ' ' << flow.first_picture;
    for (const std::size_t hop : flow.path) std::cout << " through " << hop;
    for (const Frame& frame : flow.frames) std::cout << " frame " << frame.at << ' ' << frame.bits;
    std::cout << '\n';
  }
}

void write_outcome(const Storm& storm) {
  std::vector<LogLine> log;
  const Outcome outcome = simulate(storm, &log);
  for (const LogLine& line : log)
    if (line.hop)
      std::cout << word_of(line.what) << ' ' << line.time << ' ' << line.flow << ' ' << line.frame << ' ' << *line.hop
                << '\n';
  for (const Delivery& flow : outcome.flows)
    std::cout << "delivered " << flow.first_picture << ' ' << flow.complete << '\n';
  for (const Backlog& hop : outcome.hops) std::cout << "backlog " << hop.most_bits << '\n';
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 2) {
    std::cerr << "storm_specimen COUNT\n";
    return 2;
  }
  for (std::uint64_t seed = 1; seed <= std::stoull(arguments[1]); ++seed) {
    const Storm storm = without_ties(seed);
    write_storm(seed, storm);
    write_outcome(storm);
  }
  return 0;
}
