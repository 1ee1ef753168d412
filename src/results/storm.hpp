#pragma once
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "carriage/site_storm.hpp"
#include "results/ask.hpp"
#include "results/questions.hpp"

/// The question storm: every zone in alarm within the rulebook's `storm_s`.
namespace zoneproof::results {

/// A clip over all runs, in seconds since it was asked for.
struct StormClip {
  carriage::ClipBound bound;
  std::optional<double> first_picture_s, complete_s;  ///< the latest of all runs; none where the clip is not known
};

/// A queue over all runs.
struct StormQueue {
  carriage::SiteHop hop;
  double rate_bps = 0.0;
  double backlog_bits = 0.0;  ///< the most that waited, of all runs
  double waits_s = 0.0;       ///< that at the hop's rate
};

struct StormAnswer {
  long long runs = 0;
  unsigned long long seed = 0;
  double within_s = 0.0;  ///< the releases of a run lie within
  std::vector<StormClip> clips;
  std::vector<StormQueue> queues;  ///< the longest wait first
  std::vector<std::string> log;    ///< of the first run, where asked for: a line for each event
  /// Limits of the rulebook, absent where it names none, and of what is between the clip being asked for and the
  /// screen.
  std::optional<double> first_picture_limit_s, complete_limit_s;

  /// Every clip is known and has a bound; whether it keeps the limits is for `clip` and `prove`.
  bool all_bounded() const;
};

/// The same for the same seed, on any machine. Cost: about 20 ns for each piece, hop and run (carriage/storm.hpp).
Answered<StormAnswer> answer(const site::Site& site, const StormQuestion& question, const Progress& progress);
nlohmann::ordered_json json_of(const site::Site& site, const StormAnswer& answer);

}  // namespace zoneproof::results
