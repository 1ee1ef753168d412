#pragma once
#include <optional>

#include "electric/drive.hpp"
#include "electric/loop.hpp"
#include "electric/terminal_readings.hpp"

namespace zoneproof::electric {

/// Slope of an LED's characteristic above its forward voltage. The forward range of the data sheet holds the drop;
/// the slope only keeps the conducting diode from being an ideal source (1 ohm at 1 mA is 1 mV).
inline constexpr double led_slope_ohm = 1.0;

/// Ending of the name of the node that a floating pair refers to: joined to nothing by the terminal itself (loose.hpp).
inline constexpr std::string_view floating_reference = "floating";

/// What a terminal takes from the panel it sits in.
struct TerminalSurroundings {
  Tracked rail_V;  ///< the panel's raw rail: where only a share of it is taken, at the panel's own poles
  Tracked pullup;  ///< its pull-up where the panel hangs
  std::optional<MeasuredSource> measured;  ///< where readings tell source and pull-up: they stand for both
  /// Of a pulsed terminal, the part of its period in which the network stands still. Without it such a terminal stands
  /// in its pulse and names itself as not answered.
  std::optional<DrivePart> part;
};

/// Adds the panel's side of the pair of `zone`: nodes `<zone>.t`, `<zone>.source`, elements `<zone>.pullup` ...
/// A terminal that refers to the positive stands below the panel's positive pole; a regulated one is pulled to a point
/// `source_V` below it. A current source is its current, held at `source_V` by a diode.
/// A matrix is built as if its zone were alone in its row and column while that column is looked at; with others beside
/// it their loops let current pass too, which is not modelled: every answer names that (docs/methods/loops.md).
Terminal build_terminal(const site::ZoneTerminalSpec& spec, const std::string& zone, Poles panel,
                        const TerminalSurroundings& around, Wiring& wiring);

}  // namespace zoneproof::electric
