#pragma once
#include <optional>
#include <string>

#include "electric/backbone.hpp"

namespace zoneproof::electric {

/// Adds the arming circuit of a unit: the panel's output in the state that `armed` asks for, its wire (or,
/// `wire_broken`, none), pull-ups and the input. The unit's inner rail must be in the network already. Returns the
/// input's node; nothing where output or parts are unknown (named as gaps).
std::optional<circuit::Node> build_arming(const site::Site& site, const std::string& unit, bool armed, bool wire_broken,
                                          const Backbone& backbone, Wiring& wiring);

/// The same with the output of a panel that has no supply: off, whatever it is set to.
std::optional<circuit::Node> build_arming_of_dead_panel(const site::Site& site, const std::string& unit,
                                                        const Backbone& backbone, Wiring& wiring);

}  // namespace zoneproof::electric
