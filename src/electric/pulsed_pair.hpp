#pragma once
#include <functional>
#include <optional>
#include <vector>

#include "electric/levels.hpp"
#include "electric/pulse.hpp"

namespace zoneproof::electric {

/// A pair on a pulsed terminal with every part of its period solved at rest: what panel, unit and meter make of it is
/// told from here (pulse_seen.hpp). In a pair of resistances, diodes and capacitances the voltage at any moment lies
/// between the settled levels of the parts (docs/methods/pulsed-terminals.md).
struct PulsedPair {
  const site::Site& site;
  const Level& level;  ///< its terminal is known and pulsed; outlives this
  const site::ZoneTerminalSpec& spec;
  const site::UnitInputSpec* input = nullptr;  ///< of the unit; null where no trigger wire hangs on the pair
  Pulse pulse;
  Solved together;          ///< the pulse's cases; gaps and weakest origin of all parts
  NodeTimes nominal_times;  ///< of the terminal, in the pulse
  bool linear = true;       ///< no clamp conducts and no source lets go: the pair passes means as they are

  /// Solves the parts; `together.unknown` where one of them is not known. Cost: a worst case and settling a part.
  PulsedPair(const site::Site& site, const Level& level);

  bool waves() const { return spec.drive.is(site::TerminalDrive::alternating); }
  bool troubled() const;  ///< a part without a level
  std::size_t parts() const { return pulse.parts.size(); }
  Seconds lasts(std::size_t part) const { return pulse.timing.of(pulse.parts[part].part); }
  const circuit::WorstCase& in(std::size_t part, std::size_t which) const {
    return pulse.parts[part].solved.cases.at(which);
  }
  double bound(std::size_t part, std::size_t which, bool high) const {
    return high ? in(part, which).high.bound : in(part, which).low.bound;
  }
  double mean_nominal(std::size_t which) const;  ///< over a period, every part settled, V

  /// Orders in which the parts may follow and their lengths, in s, at every corner of their ranges; none without any
  /// length.
  using VisitPeriod = std::function<void(const std::vector<std::size_t>& order, const std::vector<double>& seconds)>;
  void each_period(const VisitPeriod& visit) const;

  /// The course of the voltage if it were as high (or low) as it may be: late where that helps, else at once.
  /// `volts(part)` is where it comes to rest.
  Period course(const std::vector<std::size_t>& order, const std::vector<double>& seconds, bool high, bool at_once,
                const std::function<double(std::size_t part)>& volts) const;
  /// The same between the bounds of the quantity `which`.
  Period bounding_course(const std::vector<std::size_t>& order, const std::vector<double>& seconds, bool high,
                         bool at_once, std::size_t which) const;

 private:
  void solve_part(DrivePart part);
  void join_parts();
  Solved at_rest(const ZoneCircuit& circuit);
  std::vector<circuit::ElementIndex> clamps(const circuit::Network& network) const;
};

/// (1 - share) a + share b, also where the one without weight has no end.
double between(double a, double b, double share);

}  // namespace zoneproof::electric
