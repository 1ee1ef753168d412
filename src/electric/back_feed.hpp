#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/answer.hpp"
#include "electric/backbone.hpp"

namespace zoneproof::electric {

/// The arming wires on one output while the panel is without supply and the units on them run on supplies of their own.
struct BackFeed {
  Wiring wiring;
  std::vector<circuit::Quantity> quantities;  ///< first the output's screw above the panel's positive, then `pulls`
  std::vector<circuit::ElementIndex> pulls;  ///< what can drive current into the wires; quantity i + 1 is across pull i
  std::vector<circuit::ElementIndex> wires;  ///< the arming wires of those units
  std::optional<circuit::ElementIndex> clamp;  ///< the output's inner diode
  Solved solved;
};

/// The arming output of `unit` with its panel's supply at 0 V and all else in condition `supply`. Output, panel and
/// both supplies must be known.
BackFeed solve_back_feed(const site::Site& site, const std::string& unit, SupplyCondition supply);

/// Guaranteed bound of the current through the output's inner diode into the panel's rail, A; 0 where its screw
/// certainly stays below the diode's forward voltage. All units on the output together. Ohm's law over each pull: its
/// largest voltage over its least resistance, what certainly flows away taken off.
double most_fed_back(const BackFeed& point);

/// What the units feed into a dead panel through the inner diode of its arming output, against what the diode carries
/// ("arming_back_feed", link `trigger`, subject the unit; the worst over all conditions). Nothing where the output has
/// no such diode or one supply feeds both: then they are dead together.
std::vector<chain::Evidence> check_back_feed(const site::Site& site, const std::string& unit);

}  // namespace zoneproof::electric
