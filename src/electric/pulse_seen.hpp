#pragma once
#include "electric/pulsed_pair.hpp"

/// What those who look at a pulsed pair see of it. Each reader narrows or widens `seen`, which begins as the levels of
/// the pulse; what it rests on and is not known joins `pair.pulse.gaps`.
namespace zoneproof::electric {

/// The panel, at the moment at which it looks: less what may not have settled by then. Sets `left_at_look`.
void seen_by_panel(PulsedPair& pair, Solved& seen);

/// The unit, at whatever moment it looks, for its phase is the adversary's; its filter counted. `pair.input` must hold.
void seen_by_unit(PulsedPair& pair, Solved& seen);

/// A direct-current meter: the mean over a period, at the panel and at the unit. Sets both meters of the pulse. The
/// times of the period must be known. Cost: at most one more worst case.
void shown_by_meter(PulsedPair& pair);

constexpr double kSameVolts = 1e-6;  ///< V; as exact_tolerance of the worst case

/// A bound that was moved by more than that, down or up in V, is one that no corner attains.
void settle_exactness(Solved& seen, std::size_t which, double down, double up);

}  // namespace zoneproof::electric
