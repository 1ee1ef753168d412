#pragma once
#include <functional>
#include <limits>
#include <string>
#include <vector>

/// What is promised about speed, measured: each figure beside that of another tool that does the same work, in the same
/// run on the same machine. Hardware differs, so the ratio counts.
namespace zoneproof::promises {

constexpr double not_measured = std::numeric_limits<double>::quiet_NaN();

struct Figure {
  std::string promise;              ///< what was done
  std::string beside;               ///< by whom else; empty: nobody does the same
  double ours = not_measured;       ///< NaN: left out, `limit` says why
  double theirs = not_measured;     ///< NaN: nobody to be measured beside
  std::string unit;                 ///< of both; less is better
  double aim_ours = not_measured;   ///< at most; NaN: none
  double aim_ratio = not_measured;  ///< of theirs / ours, at least; NaN: none
  std::string limit;                ///< what keeps it where it is today

  double ratio() const { return theirs / ours; }
};

/// How far a run may go.
struct Effort {
  double most_seconds = 900.0;  ///< a single proof that would take longer, as the smaller ones grew, is left out
};

/// Figures that are measured together, under the name by which they are asked for.
struct Row {
  std::string name;
  std::function<std::vector<Figure>(const Effort&)> measure;
};

/// In the order in which they are measured: what is quick comes first.
const std::vector<Row>& rows();

/// Seconds of one run: the median of five, each made of as many runs as take at least `least` seconds together.
double seconds_of(const std::function<void()>& run, double least = 0.05);
/// Seconds of a run that is too long to be repeated.
double seconds_once(const std::function<void()>& run);

std::vector<Figure> start();                       ///< the command, beside a command that does nothing
std::vector<Figure> operating_points();            ///< of a zone loop with its trigger wire
std::vector<Figure> worst_case();                  ///< of a loop of 16 tolerances
std::vector<Figure> views();                       ///< from points between the walls of open maps
std::vector<Figure> witnessed();                   ///< by a camera among walls; a hall of many cameras
std::vector<Figure> storm();                       ///< of clips through switches and an uplink
std::vector<Figure> carried(const Effort&);        ///< the clips of whole sites, and how that grows
std::vector<Figure> all_links(const Effort&);      ///< the proof of whole sites, all links
std::vector<Figure> handover_file(const Effort&);  ///< all files of the handover
std::vector<Figure> one_edit(const Effort&);       ///< new verdicts of a site of 200 zones
std::vector<Figure> whole_proof(const Effort&);    ///< the electrical proof of a generated site of 200 zones
std::vector<Figure> growth(const Effort&);         ///< of that proof with the site

}  // namespace zoneproof::promises
