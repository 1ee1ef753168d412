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

/// A backbone that circuits are built on: the same for every state of the zones.
struct Base {
  Wiring wiring;
  Backbone backbone;
};
Base build_base(const site::Site& site, SupplyCondition supply, const UnitUnderStudy& studied);

/// The same on a base that was built for the supply condition and the unit under study of the situation.
SiteCircuit build_site_circuit(const site::Site& site, const SiteSituation& situation, Base base);

/// Everything in earnest: every wired zone at rest but those that `states` names, every unit attached and powered.
SiteSituation whole_site(const site::Site& site, SupplyCondition supply, std::map<std::string, ZoneState> states,
                         bool armed);

}  // namespace zoneproof::electric
