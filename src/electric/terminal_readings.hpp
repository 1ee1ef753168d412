#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/joint_source.hpp"
#include "electric/terminal_region.hpp"
#include "electric/tracked.hpp"

/// The readings of a site file as source and pull-up of a terminal in the network.
namespace zoneproof::electric {

/// What was read at a terminal, fit for terminal_model(), with everything that it rests on.
struct TakenReadings {
  std::vector<MeterReading> readings;  ///< complete ones; `name` is the id in the file
  bool same_source = false;            ///< the source is regulated: one V on mains and on battery
  KnownSource known;                   ///< what the part says of source_V and pullup_ohm on a firm footing
  bool holds_input = false;            ///< the panel's measuring input is unknown and so part of what was read
  std::vector<Basis> bases;            ///< of all of this; a datum without which a reading says nothing is unknown
};

/// `panel`: where it hangs, for the temperatures of its place; an id that is none leaves everything at 20 degC.
/// Where the terminal can have readings and does; nothing where they would not be used (no readings, a current source,
/// an LED).
///
/// The values of the part take part where they stand on data sheet, measurement, standard or envelope: they cut the
/// region too. Typical and assumed ones give way to the readings. The panel's measuring input, where it is known, lies
/// across the screws at every reading; where it is unknown, with neither source_V nor pullup_ohm known and no window in
/// percent, what was read holds it, and the network gets none of its own.
std::optional<TakenReadings> taken_readings(const site::Site& site, const site::ZoneTerminalSpec& spec,
                                            const std::string& panel);

/// Where the readings of a spec stand in the file: "/parts/<id>/zone_terminal/readings".
std::string readings_pointer(const site::ZoneTerminalSpec& spec);

/// Source and pull-up as the readings tell them.
struct MeasuredSource {
  std::optional<Tracked> volts;              ///< hull of V; nothing where the source follows the rail
  Tracked ohm;                               ///< hull of R, over the temperatures of the panel's place
  std::vector<JointSource::Corner> corners;  ///< of the polygon, each over those temperatures; empty: take the hull
  bool holds_input = false;                  ///< TakenReadings
};

/// Nothing where taken_readings() has nothing. Where the region has no end the values are unknown for want of the
/// reading that is missing, where it is empty because the readings disagree: the reason stands in `Basis::lacks`, at
/// the reading that contradicts the others where it is one.
/// Of a source that follows the rail only R is taken from the readings; V moves with the rail, and its share of it
/// stays the part's.
std::optional<MeasuredSource> measured_source(const site::Site& site, const site::ZoneTerminalSpec& spec,
                                              const std::string& panel);

}  // namespace zoneproof::electric
