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

/// The wire of a trigger: what its cable says, or anything from nothing to that.
enum class TapWire { its_own, up_to_its_own };

/// The unit's side of trigger `id` and its wire up to `from`: series resistor, cable core, pull-ups, impedance, clamps.
/// Several triggers on one input meet at its screw (node and elements are called after the first of them): wires that
/// are joined there are one network.
std::optional<UnitInput> build_tap(const site::Site& site, const std::string& id, circuit::Node from,
                                   const Backbone& backbone, Wiring& wiring, TapWire wire = TapWire::its_own);

/// The way back of the contact that feeds trigger `id`: the second core of the trigger's cable, from the potential at
/// the unit that `contact_to` names. Returns its far end; nothing where that is not said (a gap).
std::optional<circuit::Node> build_contact_return(const site::Site& site, const std::string& id,
                                                  const Backbone& backbone, Wiring& wiring);

/// A spare contact or receiver relay as the source of trigger `id`: between the input's wire and the potential that
/// `contact_to` names, over the second core of the trigger's cable. Returns the node the trigger wire starts from.
std::optional<circuit::Node> build_contact_source(const site::Site& site, const std::string& id, bool in_alarm,
                                                  const Backbone& backbone, Wiring& wiring);

/// What the unit measures.
circuit::Quantity unit_reading(const UnitInput& input);

}  // namespace zoneproof::electric
