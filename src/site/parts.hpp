#pragma once
#include <optional>
#include <string>
#include <vector>

#include "site/value.hpp"

/// What a data sheet says of a component. Field names here are the file's keys without their unit suffix's
/// underscore rules changed: member `pullup_ohm` is key "pullup_ohm". Ranges and meanings: definitions_parts.cpp.
namespace zoneproof::site {

enum class PartKind {
  cable,
  resistor,
  battery,
  supply,
  panel,
  expander,
  zone_terminal,
  unit,
  detector,
  output,
  relay,
  optocoupler,
  buffer,
  load,
  camera,
  lens,
  network_switch,
  injector,
  router,
  recorder,
  ups
};

enum class Material { copper, copper_clad_aluminium, aluminium };

struct CableSpec {
  Value conductor_mm2;  ///< information; resistance is what counts
  Value conductor_awg;
  Value resistance_ohm_per_km;  ///< one core, direct current, 20 degC: nominal with range
  Word<Material> material;
  Count cores;
  Value insulation_Mohm_km;     ///< core to core, dry
  Value capacitance_nF_per_km;  ///< of one core to what lies beside it
};

struct ResistorSpec {
  Value resistance_ohm;  ///< with tolerance and temperature coefficient
  Value power_W;
};

struct BatterySpec {
  Value capacity_Ah;           ///< to cutoff at the rated time
  Value rated_h;               ///< e.g. 20 for C20
  Value peukert_exponent;      ///< of t = rated_h (C / (I rated_h))^k
  Value full_V;                ///< open circuit, charged, rested
  Value empty_V;               ///< open circuit at the end of the rated discharge
  Value internal_ohm;          ///< new, charged
  Value internal_aged_factor;  ///< by what factor internal_ohm has grown at end of life
  Value temperature_min_degC;
  Value temperature_max_degC;
};

/// What happens when more than the limit is asked of a supply or one of its outputs.
enum class Protection { constant_current, foldback, ptc, fuse };

struct SupplyOutputSpec {
  std::string name;
  Value rating_A;  ///< may be drawn continuously
  Word<Protection> protection;
  Value limit_A;     ///< where the protection acts
  Value foldback_A;  ///< into a short, foldback only
  Value series_ohm;
};

struct SupplySpec {
  Value mains_V;  ///< output on mains with a charged battery, over the tolerance and temperature compensation
  Value mains_no_battery_V;    ///< output on mains without battery, ripple valleys included
  Value mains_flat_battery_V;  ///< output just after mains return onto a flat battery
  Value cutoff_V;              ///< deep-discharge disconnect of the battery; none: there is none
  Value battery_path_ohm;      ///< between battery terminals and output
  Value rating_A;              ///< of all outputs together
  Value charge_A;              ///< limit of the charging current
  Value own_A;                 ///< the supply's own consumption from the battery
  Map<SupplyOutputSpec> outputs;
};

enum class OutputKind { open_collector, switched_positive, relay };

struct OutputSpec {
  Word<OutputKind> kind;
  Value saturation_V;     ///< open collector, switched positive: drop when on
  Value on_ohm;           ///< in series when on
  Value leakage_A;        ///< when off
  Value limit_A;          ///< largest current
  Value clamp_forward_V;  ///< inner diode to its own positive; none: there is none
  Value clamp_max_A;      ///< what that diode may carry all the time
};

/// One of the programmable outputs that a panel or expander has.
struct PanelOutputSpec {
  std::string name;
  Count number;       ///< as the panel's programming counts it
  Flag follows_zone;  ///< whether it can be programmed to follow the state of one zone
  OutputSpec output;  ///< what it is electrically
};

/// Consumption of a panel or an expander; what it feeds has its own entries.
struct PanelSpec {
  Count inputs;  ///< hardwired zone inputs
  Map<PanelOutputSpec> outputs;
  Value supply_min_V, supply_max_V;
  Value current_A;        ///< at rest, without what it feeds
  Value alarm_current_A;  ///< added in alarm
  Value boot_s;           ///< after power came back: how long it takes no alarm of a zone
};

enum class TerminalReference { negative, positive, floating, matrix, current_source, optocoupled };
enum class TerminalDrive { steady, scanned, bipolar, alternating };
/// Shape of an alternating source; rectified halves count from nothing upward.
enum class TerminalWave { sine, square, half_wave, full_wave };
enum class TerminalSource { regulated, raw_rail };
/// What the panel calls a voltage at its terminal.
/// second_alarm, both_alarm: the other zone, or both, of two zones on one pair.
enum class Reading { secure, alarm, tamper, open, shorted, fault, masked, second_alarm, both_alarm };

/// A band of terminal voltage with one meaning. Either volts or percent of the source voltage (ratiometric).
struct Window {
  Word<Reading> means;
  Value min_V, max_V;      ///< against the terminal's reference; none: unbounded on that side
  Value min_pct, max_pct;  ///< share of the source voltage
};

/// How a reading at the two screws is taken, the loop off.
enum class ReadingWay {
  open,    ///< voltage, nothing on the screws but the meter
  loaded,  ///< voltage over a resistor across the screws
  shorted  ///< current, the ammeter being the short
};
/// On what the system was while it was taken.
enum class ReadingSupply { mains, battery };

/// What the sheet of a meter says of the range that was used.
struct Meter {
  std::string name;
  Value input_ohm;     ///< voltmeter; none: it draws nothing
  Value burden_ohm;    ///< ammeter: its own resistance
  Value error_pct;     ///< of the reading
  Count error_digits;  ///< in addition
  Value digit_V;       ///< what one step of the last digit is worth
  Value digit_A;
};

/// One meter reading at a terminal of which nobody has papers (docs/methods/unknown-terminals.md).
struct TerminalReading {
  Word<ReadingWay> kind;
  Word<ReadingSupply> supply;
  Value shown_V;       ///< open, loaded: counted as the windows are
  Value shown_A;       ///< shorted
  Value resistor_ohm;  ///< loaded: what was put across the screws
  Meter meter;
  std::string note;
};

struct ZoneTerminalSpec {
  Word<TerminalReference> refers_to;
  Word<TerminalDrive> drive;
  Word<TerminalSource> source;
  Value source_V;    ///< open-circuit voltage (regulated); absent for raw_rail
  Value source_pct;  ///< of the raw rail (raw_rail)
  Value pullup_ohm;  ///< source resistance seen at the terminal
  Value current_A;   ///< current_source: what it drives
  Value forward_V;   ///< optocoupled: drop of the LED in series with pullup_ohm
  Value series_ohm;  ///< between terminal and the measuring point, usually none
  Value input_ohm;   ///< load of the measuring input to the reference; none: negligible by data sheet
  Value filter_s;
  Value on_s, period_s;      ///< scanned, bipolar: on at source_V; alternating: period alone
  Value off_V;               ///< scanned, bipolar: open-circuit voltage between pulses; none: it lets go
  Value reverse_V;           ///< bipolar: open-circuit voltage in the other polarity
  Value reverse_s;           ///< bipolar: how long; none: all the rest of the period
  Value rms_V;               ///< alternating: open-circuit voltage, root mean square
  Word<TerminalWave> wave;   ///< alternating
  Value look_s;              ///< pulsed: when the panel looks, from the start of the pulse or of the period
  Value capacitance_nF;      ///< across the screws, inside the panel
  Value scan_s, debounce_s;  ///< slowest time between two looks; how long a state must last
  Map<Window> windows;
  Map<TerminalReading> readings;  ///< of a meter, where no papers tell source_V and pullup_ohm
};

enum class ChannelBinding { fixed, free };
/// How an input tells normal from alarm: free ranges, one adjustable threshold, or a list of presets.
enum class Judging { ranges, threshold, presets };

struct PresetSpec {
  std::string name;
  Value normal_min_V, normal_max_V;
};

struct UnitInputSpec {
  Value impedance_ohm;                  ///< to the unit's negative, powered
  Value pullup_ohm;                     ///< to the inner rail; none: there is none
  Value inner_rail_V;                   ///< powered; what the pull-up goes to
  Value inner_rail_load_ohm;            ///< what loads the inner rail when the unit is unpowered
  Value clamp_forward_V, clamp_on_ohm;  ///< diodes to the inner rail and from the negative; none: no clamps
  Value filter_s;
  Value capacitance_nF;  ///< from the input to the negative: what a pulsed terminal has to charge
  Value measuring_max_V;
  Value error_V;  ///< measuring and threshold error, as +- volts
  Value step_V;   ///< grid of the settings
  Value hysteresis_V;
  Value damage_min_V, damage_max_V;
  Value sampling_s, debounce_s;
  Word<Judging> judging;
  Map<PresetSpec> presets;
};

struct ArmingInputSpec {
  Value impedance_ohm;  ///< to the unit's negative
  Value pullup_ohm;     ///< to the inner rail, none: there is none
  Value low_max_V;      ///< up to here certainly the low level
  Value high_min_V;     ///< from here certainly the high level
  Value damage_max_V;
};

struct UnitSpec {
  Value supply_min_V, supply_max_V;
  Value power_W;     ///< switching regulator: constant power. Give this or current_A
  Value current_A;   ///< linear regulator: constant current
  Value lockout_V;   ///< below this it does not run
  Value startup_A;   ///< largest current while starting
  Value boot_s;      ///< from power to the first trigger that it takes
  Value reaction_s;  ///< from a counted trigger to its clip being asked for
  Count inputs, channels;
  Flag network_triggers;                 ///< it takes triggers of a camera's analytics over the network
  Word<ChannelBinding> channel_binding;  ///< fixed: input n shows channel n
  UnitInputSpec input;
  ArmingInputSpec arming;
};

enum class ContactKind { relay, solid_state, reed };
enum class RestPosition { closed, open };
/// What a contact does while its detector has less than its lowest voltage, or none at all.
enum class WithoutSupply {
  open,       ///< an energised relay that releases, a semiconductor that nothing drives
  closed,     ///< a relay that only the alarm pulls in
  unaffected  ///< it needs no supply: a lid switch, a reed contact
};
/// programmable: the relay of a receiver, which reports what it is programmed to (Detector::programmed).
enum class ContactReports { alarm, tamper, mask, fault, programmable };

struct ContactSpec {
  Word<ContactKind> kind;
  Word<ContactReports> reports;        ///< of a detector; a relay's contacts report nothing of their own
  Word<RestPosition> at_rest;          ///< detector powered, no alarm
  Word<WithoutSupply> without_supply;  ///< of a detector that needs a supply
  Value closed_ohm;                    ///< over its life
  Value open_ohm;                      ///< leakage when open; none: no leakage worth counting by data sheet
  Value max_V, max_A;
  Value hold_s;  ///< shortest time it stays in alarm
};

enum class Technology {
  passive_infrared,
  microwave,
  dual,
  beam,
  magnetic_contact,
  glass_break,
  shock,
  floor_mat,
  push_button,
  smoke,
  heat
};

/// The shape of a detector's pattern on the plan.
enum class PatternShape {
  fan,      ///< a sector before it: wide angle, corridor
  curtain,  ///< a thin strip before it
  ceiling,  ///< a disc below it
  beam,     ///< the line to its other end
  opening,  ///< the opening that it guards, and the approach to it
  panes,    ///< the panes that it listens to, within its range
  mat       ///< what lies under foot: the outline that was drawn
};

/// How far a pattern reaches. Of a fan: range and the whole angle; of a curtain: range and width; of a disc: range.
struct Reach {
  Value range_m;
  Value angle_deg;
  Value width_m;
};

/// Between which heights the pattern catches a person at a distance.
struct PatternRow {
  Value distance_m;
  Value lowest_m, highest_m;
};

/// Where a detector sees, when it is mounted as its sheet says.
struct PatternSpec {
  Word<PatternShape> shape;
  Value mount_min_m, mount_max_m;  ///< heights that the pattern is given for
  Value near_m;                    ///< nearest distance at which it detects, on the floor; none: from its foot on
  Reach guaranteed;                ///< everybody is detected there
  Reach largest;                   ///< nobody is detected beyond
  std::vector<PatternRow> profile;
};

struct DetectorSpec {
  Word<Technology> technology;
  Value supply_min_V, supply_max_V;  ///< none: needs no supply
  Value current_A;                   ///< the larger of rest and alarm; none: needs no supply
  Value response_s;                  ///< from a person who is in its pattern to the alarm of its contacts
  Map<ContactSpec> contacts;         ///< ids are names only: what one reports is said in it
  std::optional<PatternSpec> pattern;
};

struct RelaySpec {
  Value coil_ohm, pull_in_V, drop_out_V, coil_max_V;
  Map<ContactSpec> contacts;
};

struct OptocouplerSpec {
  Value forward_V, led_min_A, led_max_A;
  Value transfer_pct;
};

/// Amplifiers of gain one, each between a trigger wire and an input of a unit, at the unit and fed from its terminals.
struct BufferSpec {
  Count channels;
  Value input_ohm;       ///< of a channel to its negative, powered or not
  Value capacitance_nF;  ///< of a channel to its negative
  Value filter_s;        ///< time constant from input to output
  Value error_V;         ///< of the output against the input, plus or minus, at loads of `load_min_ohm` and more
  Value output_max_V;    ///< highest output at the lowest supply
  Value load_min_ohm;
  Value damage_min_V, damage_max_V;
  Value supply_min_V, supply_max_V;
  Value current_A;  ///< of all channels together
};

/// Any other consumer: sounder, keypad, dialler.
struct LoadSpec {
  Value supply_min_V, supply_max_V;
  Value current_A;
  Value alarm_current_A;  ///< added in alarm
};

enum class Projection {
  pinhole,     ///< r = f tan(theta), then Brown-Conrady
  equidistant  ///< r = f theta: a fisheye
};

/// How a lens maps directions: the terms as general vision libraries define them, of the picture on the sensor.
struct LensSpec {
  Word<Projection> projection;
  Value focal_min_mm, focal_max_mm;  ///< equal: a fixed lens
  Value k1_coefficient, k2_coefficient,
      k3_coefficient;                    ///< radial, at the setting it is used at; equidistant: of theta
  Value p1_coefficient, p2_coefficient;  ///< tangential; pinhole only
  Value near_m;                          ///< nearest distance that is sharp
};

/// A camera: a sensor, perhaps a lens. Sizes come from pixels and their pitch, never from a name in inches.
struct CameraSpec {
  Count width_px, height_px;
  Value pixel_um;
  Value infrared_reach_m;  ///< of its own light; none: it has none
  std::optional<LensSpec> lens;
  Count poe_class;    ///< that it asks for, 0 to 8; absent where another supply feeds it
  Value power_W;      ///< at the most, its own light on
  Value boot_s;       ///< from power to the first picture
  Value delay_s;      ///< from light to the last byte of the encoded picture, at the most
  Value analytics_s;  ///< from a person in its region to its own alarm, at the most; none: it has no analytics
};

struct SwitchSpec {
  Count ports, poe_ports;
  Count poe_class;        ///< highest that one port serves
  Value poe_min_V;        ///< lowest voltage at a port under load
  Value poe_budget_W;     ///< of all ports together
  Value power_W;          ///< its own, without what the ports give
  Value efficiency_pct;   ///< from its own feed to its ports
  Value boot_s, delay_s;  ///< to the first packet; longest hold of a packet when nothing waits
  Value forwarding_Mbps;  ///< in all; none: as much as its ports take
};

struct InjectorSpec {
  Count poe_class;
  Value poe_min_V;
  Value power_W;
  Value efficiency_pct;
  Value boot_s;
};

struct RouterSpec {
  Value power_W;
  Value boot_s, delay_s;
};

struct RecorderSpec {
  Count channels;
  Value power_W;
  Value boot_s, delay_s;
};

struct UpsSpec {
  Value energy_Wh;  ///< from full, new
  Value rating_W;
  Value own_W;  ///< taken from its battery for itself
};

/// One part of the shelf or of a person's own file. Exactly the object named like `kind` is present.
struct Part {
  std::string name;
  Word<PartKind> kind;
  std::string source;            ///< data sheet, standard or table it is taken from
  std::string shelf_version;     ///< version of the shelf it was copied from, empty for a part of one's own
  std::string shelf_hash;        ///< SHA-256 of the shelf's entry at that time
  std::optional<Origin> origin;  ///< of its plain numbers
  std::string note;

  std::optional<CableSpec> cable;
  std::optional<ResistorSpec> resistor;
  std::optional<BatterySpec> battery;
  std::optional<SupplySpec> supply;
  std::optional<PanelSpec> panel;
  std::optional<PanelSpec> expander;
  std::optional<ZoneTerminalSpec> zone_terminal;
  std::optional<UnitSpec> unit;
  std::optional<DetectorSpec> detector;
  std::optional<OutputSpec> output;
  std::optional<RelaySpec> relay;
  std::optional<OptocouplerSpec> optocoupler;
  std::optional<BufferSpec> buffer;
  std::optional<LoadSpec> load;
  std::optional<CameraSpec> camera;
  std::optional<LensSpec> lens;
  std::optional<SwitchSpec> network_switch;
  std::optional<InjectorSpec> injector;
  std::optional<RouterSpec> router;
  std::optional<RecorderSpec> recorder;
  std::optional<UpsSpec> ups;
};

}  // namespace zoneproof::site
