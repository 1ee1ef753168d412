#pragma once
#include "electric/loop.hpp"

namespace zoneproof::electric {

/// Slope of an LED's characteristic above its forward voltage. The forward range of the data sheet holds the drop;
/// the slope only keeps the conducting diode from being an ideal source (1 ohm at 1 mA is 1 mV).
inline constexpr double led_slope_ohm = 1.0;

/// Voltage of the panel's raw rail over the condition, before drops.
struct RailRange {
  Tracked volts;
};

/// Adds the panel's side of the pair of `zone`: nodes `<zone>_t`, `<zone>_source`, elements `<zone>_pullup` ...
Terminal build_terminal(const site::ZoneTerminalSpec& spec, const std::string& zone, Poles panel, const RailRange& rail,
                        Wiring& wiring);

}  // namespace zoneproof::electric
