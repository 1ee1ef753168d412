#pragma once
#include <optional>
#include <string>

#include "electric/backbone.hpp"

namespace zoneproof::electric {

/// Slope of the inner clamp diode of an output above its forward voltage; the data sheet gives the drop alone.
inline constexpr double output_clamp_ohm = 1.0;

/// Adds the driving side of a programmable output of a panel, switched on or off, and returns its screw.
/// Open collector: on = its saturation voltage behind its resistance to the panel's negative, off = its leakage.
/// Switched positive: the same towards the panel's positive. Relay: its contact, whose other side is wired to
/// `contact_to`. Nothing where the part or the panel is unknown (named as gaps).
std::optional<circuit::Node> build_output(const site::Site& site, const std::string& id, bool on,
                                          circuit::Node contact_to, const Backbone& backbone, Wiring& wiring);

/// Whether the output is switched on while `armed`; nothing where the site does not say.
std::optional<bool> output_on(const site::Output& output, bool armed);

}  // namespace zoneproof::electric
