#pragma once
#include <optional>
#include <string>

#include "electric/loop.hpp"

namespace zoneproof::electric {

/// One input of a unit in the network.
struct UnitInput {
  circuit::Node point = circuit::reference;  ///< the input's screw
  circuit::Node minus = circuit::reference;  ///< the unit's negative, against which it measures
  const site::UnitSpec* spec = nullptr;
};

/// The unit's inner rail: a source when powered, a loaded floating node when not.
void build_inner_rail(const site::Site& site, const std::string& unit, UnitCondition condition,
                      const Backbone& backbone, Wiring& wiring);

/// The unit's side of trigger `id` and its wire up to `from`: series resistor, cable core, pull-ups, impedance, clamps.
std::optional<UnitInput> build_tap(const site::Site& site, const std::string& id, circuit::Node from,
                                   const Backbone& backbone, Wiring& wiring);

/// A spare contact or receiver relay as the source of trigger `id`: between the input's wire and the potential that
/// `contact_to` names, over the second core of the trigger's cable. Returns the node the trigger wire starts from.
std::optional<circuit::Node> build_contact_source(const site::Site& site, const std::string& id, bool in_alarm,
                                                  const Backbone& backbone, Wiring& wiring);

/// What the unit measures.
circuit::Quantity unit_reading(const UnitInput& input);

}  // namespace zoneproof::electric
