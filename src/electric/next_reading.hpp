#pragma once
#include <optional>
#include <vector>

#include "electric/terminal_region.hpp"

namespace zoneproof::electric {

/// What a person wants to know of a terminal: the voltage that it stands at over each of these loads (conductances of
/// end-of-line resistors in their states; 0: the open screws), on either supply.
struct TerminalQuestion {
  std::vector<Extent> loads_S;
};

/// How far the answer is open: the widest voltage over any of the loads, V. Infinite for an empty region or without
/// end.
double openness(const TerminalModel& model, const TerminalQuestion& question);

/// A further reading of those offered, and what it is worth.
struct NextReading {
  std::size_t which = 0;       ///< index of the candidate
  double worst_width = 0.0;    ///< V: what of the question stays open after it, whatever it shows
  double present_width = 0.0;  ///< V: what is open now
};

/// The candidate that leaves least of the question open if it shows the least telling value that the terminal can give.
/// `readings` agree with each other; of a candidate `shown` is not looked at. The values that the region lets it show
/// are tried at points that lie closer together near zero, and again around the least telling of them: the promise
/// holds to some percent, and two candidates nearer to each other than that may change places. Nothing where nothing is
/// offered, or no candidate leaves a twentieth less open than is open now.
/// Cost: candidates times 165 models.
std::optional<NextReading> next_reading(const std::vector<MeterReading>& readings, bool same_source,
                                        const KnownSource& known, const std::vector<MeterReading>& candidates,
                                        const TerminalQuestion& question);

/// What `reading` can show on a terminal of that model, its errors apart.
Extent possible_values(const MeterReading& reading, const TerminalModel& model);

using site::ReadingWay;  ///< how a reading is taken

/// The kind of reading that is missing where a region has no end: the open voltage before all, then a voltage over a
/// resistor, then the current into a short. A terminal without voltage has no end with any of them.
ReadingWay lacking(bool any_open, bool any_loaded);

}  // namespace zoneproof::electric
