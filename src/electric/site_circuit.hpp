#pragma once
#include <map>
#include <optional>
#include <string>

#include "electric/drive.hpp"
#include "electric/loop.hpp"
#include "electric/tap.hpp"

namespace zoneproof::electric {

/// Circumstances of a whole network: which zones stand in it in earnest and in which state, how the unit under study
/// is.
struct SiteSituation {
  SupplyCondition supply = SupplyCondition::mains;
  UnitUnderStudy studied;
  std::map<std::string, ZoneState> zones;  ///< in earnest; other zones tapped by a unit attached are bystanders
  std::vector<std::string> units;          ///< whose trigger wires are attached
  std::optional<DrivePart> part;           ///< given: pulsed terminals of those zones stand still in it
  std::optional<bool> armed;               ///< given: the arming circuits of those units are in the network too
};

/// The one network of a site, and where its levels are read.
struct SiteCircuit {
  Wiring wiring;
  Backbone backbone;
  std::map<std::string, Terminal> terminals;  ///< by zone, those in earnest
  std::map<std::string, UnitInput> inputs;    ///< by trigger
};

SiteCircuit build_site_circuit(const site::Site& site, const SiteSituation& situation);

/// Everything in earnest: every wired zone at rest but those that `states` names, every unit attached and powered.
SiteSituation whole_site(const site::Site& site, SupplyCondition supply, std::map<std::string, ZoneState> states,
                         bool armed);

}  // namespace zoneproof::electric
