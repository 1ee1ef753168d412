#pragma once
#include <optional>
#include <string>
#include <vector>

#include "electric/joint_source.hpp"
#include "electric/terminal_region.hpp"
#include "electric/tracked.hpp"

/// The readings of a site file as source and pull-up of a terminal in the network.
namespace zoneproof::electric {

/// Who asks what readings say.
enum class ReadingsFor {
  proof,  ///< the network, which puts the panel's measuring input where the part says that it is
  screws  ///< whoever wants to know what stands between the two screws, input and all
};

/// What was read at a terminal, fit for terminal_model(), with everything that it rests on.
struct TakenReadings {
  std::vector<MeterReading> readings;  ///< complete ones; `name` is the id in the file
  bool same_source = false;            ///< the source is regulated: one V on mains and on battery
  KnownSource known;                   ///< what the part says of source_V and pullup_ohm on a firm footing
  bool holds_input = false;            ///< the panel's measuring input is unknown and so part of what was read;
                                       ///< known.behind_input is the same
  std::vector<Basis> bases;            ///< of all of this; a datum without which a reading says nothing is unknown
};

/// `panel`: where it hangs, for the temperatures of its place; an id that is none leaves everything at 20 degC.
/// Where the terminal can have readings and does; nothing where they would not be used (no readings, a current source,
/// an LED).
///
/// The values of the part take part where they stand on data sheet, measurement, standard or envelope: they cut the
/// region too. Typical and assumed ones give way to the readings. The panel's measuring input, where it is known, lies
/// across the screws at every reading; where it is unknown, what was read holds it (KnownSource tells what the values
/// of the part then say). For a proof that is so where its series resistance is unknown too, the source is regulated
/// and no window is in percent, and the network gets no input of its own; else the input has to be known.
std::optional<TakenReadings> taken_readings(const site::Site& site, const site::ZoneTerminalSpec& spec,
                                            const std::string& panel, ReadingsFor asker = ReadingsFor::proof);

/// Who is to blame where the readings and what the part says beside them contradict each other.
struct Contradiction {
  std::vector<std::size_t> readings;  ///< each one without which all else agrees
  std::vector<std::string> sheet;     ///< pointers of the values of the part, each likewise
  bool readings_agree = false;        ///< the readings among themselves, without any value of the part
};

/// Of readings taken with the same arguments, whose model is empty. The measuring input of the part counts as a value
/// of its sheet. Where several values are wrong and no single one is to blame, `sheet` holds all of them if the
/// readings agree, and else nothing. Cost: quadratic in the readings.
Contradiction contradiction_of(const site::Site& site, const site::ZoneTerminalSpec& spec, const std::string& panel,
                               const TakenReadings& taken);

/// Why a meter at rest does not tell what stands behind such screws: the pointer of drive or refers_to (a source that
/// comes and goes, a current source, an LED, a matrix); empty where it does or where nobody knows.
std::string no_meter_tells(const site::ZoneTerminalSpec& spec);

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
