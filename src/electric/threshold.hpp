#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/levels.hpp"

namespace zoneproof::electric {

/// What a unit calls normal; an absent side is unbounded. Everything else is alarm unless an alarm range is stated.
struct NormalRange {
  std::optional<double> min_V, max_V;
};

/// Guaranteed extent of a unit's reading over all conditions, for the states of one trigger class.
struct Span {
  double low = 0.0, high = 0.0;
  std::string state;  ///< word of the happening
};

/// All spans of an input by class of their states (rulebook), with the unit powered.
struct InputSpans {
  std::vector<Span> must_not, must_trigger;
};

/// The best range: the largest guaranteed margin between what must not trigger and what must, with the unit's error
/// and hysteresis paid for and the limits on its setting grid.
struct BestRange {
  NormalRange range;
  double margin = 0.0;  ///< V, guaranteed beyond error and hysteresis; negative: no range can tell them apart
  std::string preset;   ///< where the unit has presets: the best of them
  std::string low_neighbour, high_neighbour;  ///< states just outside the range, for the sentence
};

/// Error and hysteresis that a margin has to pay before it counts.
struct Allowance {
  double error_V = 0.0, hysteresis_V = 0.0;
};
Allowance allowance_of(const site::UnitInputSpec& spec);

/// Guaranteed margin of a range over the spans: the smallest distance of any span to the limit that it must not cross.
/// Rest states keep error and hysteresis away from the limits (a zone must also come back), alarms keep the error away.
double margin_of(const NormalRange& range, const InputSpans& spans, const Allowance& allowance);

/// Nothing where there is no rest state to stay in or no alarm to see.
std::optional<BestRange> best_range(const InputSpans& spans, const site::UnitInputSpec& spec);

}  // namespace zoneproof::electric
