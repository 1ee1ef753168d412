#pragma once
#include <vector>

#include "site/parts.hpp"
#include "site/rulebook.hpp"
#include "site/scene.hpp"
#include "site/value.hpp"

/// What is installed where, as the site file (format version 3: circuits, scene and data network) tells it. Plain data:
/// reading, writing, validation, schema and help come from the field definitions (definitions_*.cpp), one for each
/// member here. Ids are the map keys. Ranges, meanings and units of members: the definitions.
namespace zoneproof::site {

struct Area {
  std::string name;
  Value temperature_min_degC, temperature_max_degC;
};

struct Partition {
  std::string name;
  Count number;
  Value entry_s, exit_s;  ///< delays as set in the panel; none: there is none
};

/// A run of cable between two ends. Each end of each core is a termination; `joints` are those in between.
struct Cable {
  std::string name;
  Ref part;
  Value length_m;
  std::vector<Ref> areas;   ///< where it runs: their temperatures count
  Count cores_in_parallel;  ///< cores joined to make one conductor; absent counts as unknown
  Count joints;             ///< terminations and splices per conductor, both ends included
  Value joint_ohm;          ///< each; unknown: the rulebook's envelope
  Value leakage_ohm;        ///< core to core; unknown: the rulebook's envelope; none: known dry
};

/// How something gets its supply: from an output of a supply, or from a junction, over a cable.
struct Feed {
  Ref from;                                     ///< supplies, junctions
  std::string output;                           ///< id of the output in the supply's part; empty when from a junction
  Ref cable;                                    ///< none: inside the same enclosure
  Value fuse_A;                                 ///< in the positive conductor of this feed; none: no fuse
  std::string core_colour, return_core_colour;  ///< of positive and negative: letters of IEC 60757; empty: not recorded
};

struct Battery {
  std::string name;
  Ref part;
  Ref supply;
  Ref area;
  Count blocks_in_parallel;
  Value age_years;
};

struct Supply {
  std::string name;
  Ref part;
  Ref area;
  Flag loads_complete;  ///< everything that it feeds is in this file
  Flag batteries_complete;
};

/// A point where several loads share one cable from the supply.
struct Junction {
  std::string name;
  Feed feed;
};

enum class KnownState { known, unknown };

struct Access {
  Word<KnownState> installer_code;
  Word<KnownState> free_outputs;
  std::string contract;  ///< who maintains the panel, in words
  Flag locked;
};

enum class OutputUse { free, used };

/// What is known of one of the programmable outputs of a panel.
struct OutputFound {
  Word<OutputUse> use;
  std::string note;  ///< what it is used for
};

struct Panel {
  std::string name;
  Ref part;  ///< of kind panel or expander
  Ref area;
  Feed feed;
  Ref zone_terminal;  ///< part of kind zone_terminal: what its inputs are
  Access access;
  Map<OutputFound> outputs_found;  ///< by id of the output in the part
};

enum class ContactRole { alarm, tamper, mask, fault };

/// What a programmable contact is programmed to, as read off the receiver.
struct ContactProgram {
  Word<ContactRole> reports;
  Ref zone;  ///< whose state moves it
};

struct Detector {
  std::string name;
  Ref part;
  Ref area;
  Feed feed;                       ///< from none: needs no supply
  Ref zone;                        ///< of a detector that stands on no loop: whose alarm it gives
  Map<ContactProgram> programmed;  ///< by contact id of the part: of a relay, so of every trigger and loop that uses it
  Mount mount;
  std::vector<PlanPoint> watched;  ///< its detection area as somebody drew it; empty: the part's pattern, where mounted
  Ref opening;                     ///< of a contact, a curtain, a shock sensor: what it guards
  std::vector<Ref> panes;          ///< of a glass-break detector: openings
  Mount beam_to;                   ///< of a beam: its other end
};

struct Load {
  std::string name;
  Ref part;
  Ref area;
  Feed feed;
};

enum class ZoneType { intruder, entry_exit, follower, twenty_four_hour, tamper, fire, hold_up, technical, access };
enum class Medium { wired, wireless, addressable };

/// How contacts and resistors stand on the pair. Words of the trade; topologies: docs/methods/loops.md.
enum class Arrangement {
  normally_closed,    ///< contacts in series, no resistor
  normally_open,      ///< contacts in parallel, no resistor
  single_eol_closed,  ///< normally closed contacts in series with the EOL resistor
  single_eol_open,    ///< EOL resistor across the far end, normally open contacts across the pair
  double_eol,         ///< EOL in series, alarm resistor across the alarm contacts, tamper contacts in series
  triple_eol,         ///< as double, and a mask resistor across the mask contacts
  doubled_series,     ///< two zones on one pair: each zone's contacts shunted by its own resistor, in series with EOL
  doubled_parallel    ///< two zones on one pair: each zone's contacts in series with its own resistor, the two in
                      ///< parallel
};
enum class EolPlace { at_end, at_panel };

struct LoopContact {
  Ref detector;
  std::string contact;  ///< id of the contact in the detector's part
  Word<ContactRole> role;
  Ref zone;         ///< doubled loops: whose contact it is; else absent
  Value shunt_ohm;  ///< resistor across this contact alone; none: it has none of its own
};

struct Loop {
  Word<Arrangement> arrangement;
  Value eol_ohm;
  Value alarm_ohm;         ///< double, triple: across all alarm contacts that have no shunt of their own
  Value mask_ohm;          ///< triple
  Value second_alarm_ohm;  ///< doubled: resistor of the other zone's contacts (alarm_ohm is this zone's)
  Word<EolPlace> eol_place;
  Ref cable;
  Ref shared_return;               ///< of shared_returns; none: a return core of its own
  std::string core_colour;         ///< letters of IEC 60757, to the zone's input; empty: not recorded
  std::string return_core_colour;  ///< the way back; of a shared one: SharedReturn
  Map<LoopContact> contacts;
  Flag contacts_complete;
};

/// One conductor that several loops use as their way back to the panel.
struct SharedReturn {
  std::string name;
  Ref panel;
  Ref cable;                ///< one core of it is the return
  std::string core_colour;  ///< letters of IEC 60757; empty: not recorded
};

struct Zone {
  Count number;      ///< as the panel shows it
  std::string name;  ///< as the panel shows it
  Word<ZoneType> type;
  Ref partition;
  Word<Medium> medium;
  Ref panel;  ///< whose input it is
  Count input;
  Ref zone_terminal;  ///< part, where this input differs from the panel's others
  Ref doubled_with;   ///< the other zone on the same pair; its loop stands there and is absent here
  Loop loop;
};

enum class FollowedEvent { armed, zone_state, alarm_memory };
enum class ActiveWhen { armed, disarmed, alarm, normal };
enum class OutputMode { level, pulse };
enum class PartitionRule { any, all };
enum class ArmingMoment { exit_start, exit_end };

/// A programmable output of a panel or expander that is used for the video.
struct Output {
  std::string name;
  Ref panel;
  Count number;
  Ref part;  ///< of kind output
  Word<FollowedEvent> follows;
  Ref zone;                     ///< zone_state
  std::vector<Ref> partitions;  ///< armed
  Word<PartitionRule> partition_rule;
  Flag follows_part_set;
  Word<ArmingMoment> moment;
  Word<ActiveWhen> active_when;           ///< active: conducting, switched on, relay energised
  Word<RestPosition> relay_contact_used;  ///< relay: which contact is wired, by its position with the relay released
  Word<OutputMode> mode;
  Value hold_s;  ///< shortest time that it stays active; none: only as long as what it follows
};

enum class Level { low, high };

struct Arming {
  Ref output;  ///< of outputs
  Ref cable;
  Value pullup_ohm;         ///< fitted at the unit; none: there is none
  Word<Level> pullup_to;    ///< high: to the unit's own supply positive; low: to its negative (pull-down)
  Word<Level> armed_level;  ///< as set in the unit: which level it takes as armed
  std::string core_colour;  ///< letters of IEC 60757; empty: not recorded
};

/// Who sees that a unit is gone, by what was set up and tried: not by chance, at the next alarm.
enum class MissedBy {
  station,  ///< it asks for the unit, or waits for its call, again and again
  zone,     ///< a contact that the unit holds while it runs stands on a zone of the panel
  nobody
};

struct Unit {
  std::string name;
  Ref part;
  Ref area;
  Feed feed;
  Arming arming;
  Word<MissedBy> missed_by;
  Value poll_s;     ///< missed by the station: longest time until it knows
  Ref missed_zone;  ///< missed by a zone: which
  Clip clip;        ///< of channels that come straight from a camera
  Clock clock;
  Ref monitoring;  ///< of monitoring_paths
};

enum class TriggerSource { loop_tap, spare_contact, following_output, receiver_relay, camera_analytics, live_view };

/// What the unit is told to call normal (and alarm): the settings sheet of one input.
struct InputSetting {
  std::string preset;                ///< id in the unit's part, judging = presets
  Value normal_min_V, normal_max_V;  ///< none: unbounded on that side
  Value alarm_min_V, alarm_max_V;    ///< where the unit wants it stated; absent: everything not normal is alarm
  Count zone_number;                 ///< as typed into the unit
  std::string zone_name;
  Word<ZoneType> zone_type;
  Flag at_any_hour;  ///< the unit acts on the input also while it is disarmed
};

/// The wire from one zone to one input, with what feeds it.
struct Trigger {
  Ref zone;
  Word<TriggerSource> source;
  Ref unit;
  Count input;
  Count channel;
  Ref cable;
  Ref at_panel;            ///< loop_tap: the terminal it is really wired to (panel)
  Count at_input;          ///< loop_tap: ... and its input number
  Ref detector;            ///< spare_contact, receiver_relay
  std::string contact;     ///< id of the contact in the detector's part
  Word<Level> contact_to;  ///< what a contact (of a detector or a relay output) switches the input to: high the
                           ///< unit's supply positive, low its negative
  Ref output;              ///< following_output
  Value series_ohm;        ///< resistor put into the trigger wire; none
  Value pulldown_ohm;      ///< resistor from input to the unit's negative; none
  Value pullup_ohm;        ///< resistor from input to the unit's supply positive; none
  InputSetting setting;
  std::vector<Ref> more_channels;  ///< of `channels`: what is clipped beside `channel`
  std::vector<PlanPoint> region;   ///< camera_analytics: where on the floor it trips, on the camera's level
  std::string core_colour;         ///< of the trigger wire: letters of IEC 60757; empty: not recorded
  std::string return_core_colour;  ///< of the second core of a contact without potential
};

enum class BondKind { wire, coaxial_screen, data_screen, serial_line, earth };

/// Something that joins the negatives of two things.
struct Bond {
  std::string name;
  Word<BondKind> kind;
  Ref a, b;   ///< supplies, panels, units
  Ref cable;  ///< one conductor of it; none: resistance_ohm tells
  Value resistance_ohm;
  std::string core_colour;  ///< letters of IEC 60757; empty: not recorded
};

struct RulebookChoice {
  Ref book;               ///< of rulebooks
  Count grade;            ///< where the book has grades
  std::string view_rule;  ///< id of the entry that says how large a person has to be in the picture; empty: unknown
};

struct Site {
  long long version = 3;
  long long revision = 0;
  std::string name;
  std::string note;
  std::optional<Origin> origin;  ///< of plain numbers that nothing nearer speaks for
  RulebookChoice rulebook;
  Flag bonds_complete;  ///< everything that joins negatives is in this file

  Map<Rulebook> rulebooks;
  Map<Part> parts;
  Map<Area> areas;
  Map<Partition> partitions;
  Map<Cable> cables;
  Map<Supply> supplies;
  Map<Battery> batteries;
  Map<Junction> junctions;
  Map<Panel> panels;
  Map<Detector> detectors;
  Map<Load> loads;
  Map<Zone> zones;
  Map<SharedReturn> shared_returns;
  Map<Output> outputs;
  Map<Unit> units;
  Map<Trigger> triggers;
  Map<Bond> bonds;

  Map<FloorLevel> levels;
  Map<Wall> walls;
  Map<Opening> openings;
  Map<Block> blocks;
  Map<Stair> stairs;
  Map<ProtectedPlace> protected_places;
  Map<PrivacyArea> privacy_areas;
  Map<Camera> cameras;
  Map<Recorder> recorders;
  Map<Channel> channels;

  Map<NetworkSwitch> switches;
  Map<Injector> injectors;
  Map<Router> routers;
  Map<Uplink> uplinks;
  Map<MainsBackup> backups;
  Map<DataLink> data_links;
  Map<Network> networks;
  Map<Address> addresses;
  Map<MonitoringPath> monitoring_paths;
};

}  // namespace zoneproof::site
