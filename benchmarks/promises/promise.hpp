#pragma once
#include <functional>
#include <string>
#include <vector>

/// What is promised about speed, measured: each figure beside that of another tool that does the same work, in the same
/// run on the same machine. Hardware differs, so the ratio counts.
namespace zoneproof::promises {

struct Figure {
  std::string promise;  ///< what was done
  std::string beside;   ///< by whom else
  double ours = 0.0;
  double theirs = 0.0;  ///< NaN: nobody to be measured beside
  std::string unit;     ///< of both; less is better
  double aim = 0.0;     ///< of `ours` where there is nobody beside; else of the ratio theirs / ours
  std::string limit;    ///< what keeps it where it is today

  double ratio() const { return theirs / ours; }
};

/// Seconds of one run: the median of five, each made of as many runs as take at least `least` seconds together.
double seconds_of(const std::function<void()>& run, double least = 0.05);
/// Seconds of a run that is too long to be repeated.
double seconds_once(const std::function<void()>& run);

std::vector<Figure> zone_loops();    ///< operating points of zone loops, worst case of a loop of 16 tolerances
std::vector<Figure> whole_proofs();  ///< the electrical proof of generated sites, its growth
std::vector<Figure> starts();        ///< the command, beside a command that does nothing

}  // namespace zoneproof::promises
