#pragma once
#include <optional>
#include <string>
#include <vector>

#include "field/readings.hpp"
#include "field/touched.hpp"

/// All expected readings of the zones that the work touches, found at once (many worst cases, in parallel).
namespace zoneproof::field {

struct StateReadings {
  electric::ZoneState state;
  ZoneReadings readings;
};

/// One trigger wire of a zone; of a zone without one the only entry has an empty name.
struct WireFigures {
  std::string trigger;
  ZoneReadings rest;
  ZoneReadings on_battery;            ///< at rest, just after mains went off
  ZoneReadings charging;              ///< at rest, just after they came back
  std::vector<StateReadings> states;  ///< alarms and tampers, as the zone can be in them
};

struct ZoneFigures {
  std::string zone;
  bool owns_pair = false;                             ///< its loop stands in its own entry: it is the one to measure
  std::optional<Expected> found;                      ///< at the panel, before units were there
  std::optional<Expected> dead, bridged, insulation;  ///< ohm
  std::vector<WireFigures> wires;
};

/// By number of the zone.
std::vector<ZoneFigures> zone_figures(const site::Site& site, const Touched& touched);

}  // namespace zoneproof::field
