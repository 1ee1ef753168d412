// Made by tools/site_types.mjs from data/schema/site.schema.json: do not edit.

/** Where a number comes from. */
export type Origin = 'measured' | 'data_sheet' | 'standard' | 'envelope' | 'typical' | 'assumed';

/** A number with its tolerance and origin; null where unknown. */
export interface Measured {
  value?: number | null;
  plus?: number;
  minus?: number;
  tolerance_pct?: number;
  min?: number;
  max?: number;
  tempco_ppm_K?: number;
  origin?: Origin;
  note?: string;
}
export type Quantity = number | null | Measured;
export type QuantityOrNone = Quantity | 'none' | (Omit<Measured, 'value'> & { value?: number | null | 'none' });

/** What may be changed in the panel, and by whom. */
export interface Access {
  /** Who maintains the panel, in words. */
  contract?: string | null;
  /** Whether it is known which programmable outputs are free. */
  free_outputs?: 'known' | 'unknown' | null;
  /** Whether the installer code is known; the code itself never stands in this file. */
  installer_code?: 'known' | 'unknown' | null;
  /** Whether the panel is locked against programming. */
  locked?: boolean | null;
}

/** A device's address in a network. */
export interface Address {
  /** The address; left out where it comes from the pool. */
  address?: string | null;
  /** The device that has it. */
  device?: string | null;
  /** The router that it sends to what lies outside of its network; none where it has none. */
  gateway?: string | null;
  /** fixed: typed into the device; reserved: by DHCP, always the same; pool: by DHCP, whatever is free. */
  given_by?: 'fixed' | 'reserved' | 'pool' | null;
  /** The network that it is in. */
  network?: string | null;
  /** Whether it opens by a password of its own, not by the one it was delivered with. The password itself never stands in this file. */
  own_password?: boolean | null;
  /** Ports on which it answers, as they were found. */
  services?: Record<string, Service> | null;
  /** Whether somebody looked, and all of them are in this file. */
  services_complete?: boolean | null;
}

/** A part of the premises with its own temperatures. */
export interface Area {
  /** What people call this area. */
  name?: string | null;
  /** Highest air temperature in this area over the year. */
  temperature_max_degC?: Quantity;
  /** Lowest air temperature in this area over the year. */
  temperature_min_degC?: Quantity;
}

/** How a unit learns whether the system is armed. */
export interface Arming {
  /** Which level the unit is set to take as armed. */
  armed_level?: 'low' | 'high' | null;
  /** The cable from the output to the unit's arming input; none where both stand in the same enclosure. */
  cable?: string | null;
  /** Colour of the core to the unit's arming input. */
  core_colour?: string | null;
  /** The output that tells the unit; none where nothing is wired. */
  output?: string | null;
  /** Resistor fitted at the unit's arming input; none where none is fitted. */
  pullup_ohm?: QuantityOrNone;
  /** Where that resistor goes: high to the unit's supply positive, low to its negative. */
  pullup_to?: 'low' | 'high' | null;
}

/** The input by which a unit learns armed from disarmed. */
export interface ArmingInputSpec {
  /** Highest voltage that the input survives. */
  damage_max_V?: Quantity;
  /** From here on it is certainly the high level. */
  high_min_V?: Quantity;
  /** Resistance to the unit's negative; none where it is negligible by data sheet. */
  impedance_ohm?: QuantityOrNone;
  /** Up to here it is certainly the low level. */
  low_max_V?: Quantity;
  /** Pull-up to the inner rail; none where there is none. */
  pullup_ohm?: QuantityOrNone;
}

/** A battery as it is installed. */
export interface Battery {
  /** Years since it was new. */
  age_years?: Quantity;
  /** Where it stands; its temperature changes capacity and life. */
  area?: string | null;
  /** Equal blocks that are joined in parallel. */
  blocks_in_parallel?: number | null;
  /** What people call this battery. */
  name?: string | null;
  /** The kind of battery, from the parts of this site. */
  part?: string | null;
  /** The supply that it backs up. */
  supply?: string | null;
}

/** A kind of battery. */
export interface BatterySpec {
  /** Capacity to the cut-off voltage at the rated time. */
  capacity_Ah?: Quantity;
  /** Open-circuit voltage at the end of the rated discharge. */
  empty_V?: Quantity;
  /** Open-circuit voltage, charged and rested. */
  full_V?: Quantity;
  /** How many times the internal resistance has grown at the end of life. */
  internal_aged_factor?: Quantity;
  /** Internal resistance, new and charged. */
  internal_ohm?: Quantity;
  /** Exponent k of Peukert's law, t = rated_h (C / (I rated_h))^k. */
  peukert_exponent?: Quantity;
  /** Discharge time that the capacity is stated for, e.g. 20 for C20. */
  rated_h?: Quantity;
  /** Highest temperature that it may be used at. */
  temperature_max_degC?: Quantity;
  /** Lowest temperature that it may be used at. */
  temperature_min_degC?: Quantity;
}

/** A body with an outline on the plan, a bottom and a top. */
export interface Block {
  /** Height of its underside above the floor; 0 where it stands on it. */
  bottom_m?: Quantity;
  /** Whether it can be seen through; either where goods come and go. */
  fill?: 'solid' | 'open' | 'either' | null;
  /** What it is. */
  kind?: 'column' | 'racking' | 'counter' | 'shelf' | 'machine' | 'other' | null;
  /** The floor that it stands on. */
  level?: string | null;
  /** What people call it. */
  name?: string | null;
  /** Its corners in turn, three or more; it must not cross itself. */
  outline?: Array<PlanPoint> | null;
  /** Height of its upper side above the floor; none where it reaches the ceiling. */
  top_m?: QuantityOrNone;
  /** Where it may be open: the share that can be seen through it then. */
  transmission_pct?: Quantity;
}

/** Something that joins the negatives of two things. */
export interface Bond {
  /** One end: whose negative. */
  a?: string | null;
  /** The other end: whose negative. */
  b?: string | null;
  /** The cable, one conductor of which joins them; none where resistance_ohm tells. */
  cable?: string | null;
  /** Colour of the core that joins them. */
  core_colour?: string | null;
  /** What joins them. */
  kind?: 'wire' | 'coaxial_screen' | 'data_screen' | 'serial_line' | 'earth' | null;
  /** What people call it. */
  name?: string | null;
  /** Resistance of the bond, where no cable tells it. */
  resistance_ohm?: Quantity;
}

/** A kind of high-impedance buffer: amplifiers of gain one, each between a trigger wire and an input of a unit. */
export interface BufferSpec {
  /** Capacitance of an input to its negative; none where it is negligible by data sheet. */
  capacitance_nF?: QuantityOrNone;
  /** Number of amplifiers. */
  channels?: number | null;
  /** Current of all its amplifiers together. */
  current_A?: Quantity;
  /** Highest voltage that an input survives. */
  damage_max_V?: Quantity;
  /** Lowest voltage that an input survives. */
  damage_min_V?: Quantity;
  /** Error of the output against the input, as plus or minus volts, at loads of load_min_ohm and more. */
  error_V?: Quantity;
  /** Time constant from input to output; none where it is negligible by data sheet. */
  filter_s?: QuantityOrNone;
  /** Resistance of an input to its negative, powered or not. */
  input_ohm?: Quantity;
  /** Lowest resistance that an output may be loaded with. */
  load_min_ohm?: Quantity;
  /** Highest voltage that an output reaches at the lowest supply. */
  output_max_V?: Quantity;
  /** Highest voltage that it may be fed with. */
  supply_max_V?: Quantity;
  /** Lowest voltage at which it works. */
  supply_min_V?: Quantity;
}

/** A run of cable between two ends. */
export interface Cable {
  /** The areas it runs through; their temperatures change its resistance. */
  areas?: Array<string> | null;
  /** Cores that are joined to make one conductor. */
  cores_in_parallel?: number | null;
  /** Resistance of each joint; left out, the rulebook's envelope counts. */
  joint_ohm?: Quantity;
  /** Terminations and splices of one conductor, both ends included. */
  joints?: number | null;
  /** Resistance between the cores of the whole run; none where it is known to be dry; left out, the rulebook's envelope counts. */
  leakage_ohm?: QuantityOrNone;
  /** Length of the run, one way. */
  length_m?: Quantity;
  /** What people call this cable, e.g. its label. */
  name?: string | null;
  /** The kind of cable, from the parts of this site. */
  part?: string | null;
}

/** A kind of cable. */
export interface CableSpec {
  /** Capacitance of one core to what lies beside it: 100 is 100 pF a metre. It counts on pulsed terminals. */
  capacitance_nF_per_km?: Quantity;
  /** AWG number of one core; for information, the resistance counts. */
  conductor_awg?: Quantity;
  /** Cross-section of one core; for information, the resistance counts. */
  conductor_mm2?: Quantity;
  /** Number of cores. */
  cores?: number | null;
  /** Insulation between the cores when dry. */
  insulation_Mohm_km?: Quantity;
  /** What the cores are made of. */
  material?: 'copper' | 'copper_clad_aluminium' | 'aluminium' | null;
  /** Resistance of one core at 20 degrees Celsius, direct current. */
  resistance_ohm_per_km?: Quantity;
}

/** A camera as it is mounted. */
export interface Camera {
  /** How it knows the time. */
  clock?: Clock | null;
  /** Height of the clip that is sent. */
  encoded_height_px?: number | null;
  /** Width of the clip that is sent, not of the sensor. */
  encoded_width_px?: number | null;
  /** Focal length as it is set. */
  focal_mm?: Quantity;
  /** How far its own light reaches here; none where it has none or it is off; left out, its part's counts. */
  infrared_reach_m?: QuantityOrNone;
  /** The lens; none where it is built in and the camera's part tells. */
  lens?: string | null;
  /** Parts of the picture that are blacked out. */
  masks?: Record<string, PictureMask> | null;
  /** Where it is fixed and which way it looks. */
  mount?: Mount | null;
  /** What people call it. */
  name?: string | null;
  /** The kind of camera, from the parts of this site. */
  part?: string | null;
  /** What it takes its power from: its data link, an entry of loads, a backup; none where it hangs straight on the mains. */
  powered_by?: string | null;
  /** What it sends all the time, by an id of your choice. */
  streams?: Record<string, Stream> | null;
  /** Whether somebody looked, and all that it sends is in this file. */
  streams_complete?: boolean | null;
  /** How the picture is turned before it is encoded. */
  turn?: 'upright' | 'left' | 'right' | 'upside_down' | null;
}

/** A kind of camera: a sensor, perhaps with its lens. */
export interface CameraSpec {
  /** Longest time from a person in a region of its own analytics to their alarm; none where it has none. */
  analytics_s?: QuantityOrNone;
  /** Time from power to the first picture that it sends. */
  boot_s?: Quantity;
  /** Longest time from the light to the last byte of the encoded picture. */
  delay_s?: Quantity;
  /** Pixels of the sensor upwards. */
  height_px?: number | null;
  /** How far its own infrared light reaches; none where it has none. */
  infrared_reach_m?: QuantityOrNone;
  /** The lens that is built in; left out where another can be fitted. */
  lens?: LensSpec | null;
  /** Distance of two pixels on the sensor; the size of a sensor is this times its pixels, never its name in inches. */
  pixel_um?: Quantity;
  /** Class of IEEE 802.3 that it asks for; left out where it is not powered over its data cable. */
  poe_class?: number | null;
  /** Power that it takes at the most, with its own light on. */
  power_W?: Quantity;
  /** Pixels of the sensor across. */
  width_px?: number | null;
}

/** A video channel of a unit, and which camera is on it. */
export interface Channel {
  /** The camera that is on it. */
  camera?: string | null;
  /** Whether it is for looking only: no clip is kept of it. */
  live_only?: boolean | null;
  /** The channel's number, counted from 1. */
  number?: number | null;
  /** The recorder that the picture comes through; none where it comes straight from the camera. */
  recorder?: string | null;
  /** The camera's channel on the recorder. */
  recorder_channel?: number | null;
  /** Which stream of the camera its clips are of, by its id there. */
  stream?: string | null;
  /** The unit whose channel it is. */
  unit?: string | null;
}

/** What is kept and sent when a trigger comes. */
export interface Clip {
  /** How long it goes on after the trigger. */
  post_s?: Quantity;
  /** How much of what was before the trigger is asked for. */
  pre_s?: Quantity;
  /** Whether it is sent while it is recorded, or when it is complete. */
  sending?: 'while_recording' | 'when_complete' | null;
}

/** How a device knows the time. */
export interface Clock {
  /** The most by which it may be wrong, either way. */
  error_s?: Quantity;
  /** Where it takes the time from. */
  source?: 'time_server' | 'station' | 'free_running' | null;
}

/** What a programmable contact is programmed to, as read off the receiver. */
export interface ContactProgram {
  /** What it is programmed to report. */
  reports?: 'alarm' | 'tamper' | 'mask' | 'fault' | null;
  /** The zone whose state moves this contact. */
  zone?: string | null;
}

/** A contact of a detector or relay. */
export interface ContactSpec {
  /** Its position with the detector powered and no alarm; of a relay, with the coil dead. */
  at_rest?: 'closed' | 'open' | null;
  /** Resistance when closed, over its life. */
  closed_ohm?: Quantity;
  /** Shortest time that it stays in alarm; none where it follows its cause. */
  hold_s?: QuantityOrNone;
  /** What kind of contact it is. */
  kind?: 'relay' | 'solid_state' | 'reed' | null;
  /** Highest current that it may switch. */
  max_A?: Quantity;
  /** Highest voltage that it may switch. */
  max_V?: Quantity;
  /** Leakage resistance when open; none where it is negligible by data sheet. */
  open_ohm?: QuantityOrNone;
  /** Of a detector's contact, what it reports; programmable: what it is programmed to, as a receiver's relay. */
  reports?: 'alarm' | 'tamper' | 'mask' | 'fault' | 'programmable' | null;
  /** Of a detector that needs a supply: its position while the detector has less than its lowest voltage, or none at all; unaffected: it needs no supply and goes on reporting, as a lid switch does. */
  without_supply?: 'open' | 'closed' | 'unaffected' | null;
}

/** A run of data cable between two ports. */
export interface DataLink {
  /** What one end is plugged into. */
  a?: string | null;
  /** What the other end is plugged into. */
  b?: string | null;
  /** The cable; none where a cord joins two things that stand side by side. */
  cable?: string | null;
  /** What people call it, e.g. its label. */
  name?: string | null;
  /** The most that anything but the streams and clips of this file sends over it at the same time, either way; none where nothing else does. */
  others_Mbps?: QuantityOrNone;
  /** The rate that both ends agreed on. */
  rate_Mbps?: Quantity;
}

/** A detector, contact or button as it is installed. */
export interface Detector {
  /** Where it hangs. */
  area?: string | null;
  /** Of a beam: where its other end is fixed. */
  beam_to?: Mount | null;
  /** What feeds it; its `from` is none where it needs no supply. */
  feed?: Feed | null;
  /** Where it is fixed and which way it looks; of a beam, its transmitter. */
  mount?: Mount | null;
  /** What people call this detector. */
  name?: string | null;
  /** Of a contact, curtain or shock sensor: the opening that it guards. */
  opening?: string | null;
  /** Of a glass-break detector: the panes it is there for. */
  panes?: Array<string> | null;
  /** The kind of detector, from the parts of this site. */
  part?: string | null;
  /** Of a receiver: what its programmable contacts are programmed to, by their ids in the part. */
  programmed?: Record<string, ContactProgram> | null;
  /** The floor that it watches, as somebody drew it; left out, its part's pattern counts where it hangs. */
  watched?: Array<PlanPoint> | null;
  /** Where none of its contacts stands in a loop, as with a wireless or addressable one: the zone that it is of. */
  zone?: string | null;
}

/** A kind of detector, contact or button. */
export interface DetectorSpec {
  /** Its contacts, by an id of your choice: alarm, tamper, spare and the like. */
  contacts?: Record<string, ContactSpec> | null;
  /** Current that it takes, the larger of rest and alarm; none where it needs no supply. */
  current_A?: QuantityOrNone;
  /** Where it detects, mounted as its sheet says. */
  pattern?: PatternSpec | null;
  /** Longest time from a person who moves in its pattern, or from what it guards being moved, to the alarm at its contacts. */
  response_s?: Quantity;
  /** Highest voltage that it may be fed with; none where it needs no supply. */
  supply_max_V?: QuantityOrNone;
  /** Lowest voltage at which it works; none where it needs no supply. */
  supply_min_V?: QuantityOrNone;
  /** How it detects. */
  technology?: 'passive_infrared' | 'microwave' | 'dual' | 'beam' | 'magnetic_contact' | 'glass_break' | 'shock' | 'floor_mat' | 'push_button' | 'smoke' | 'heat' | null;
}

/** How something gets its supply: from an output of a supply, or from a junction, over a cable. */
export interface Feed {
  /** The cable of this feed; none where both stand in the same enclosure. */
  cable?: string | null;
  /** Colour of the positive core. */
  core_colour?: string | null;
  /** The supply or junction that feeds it; none where it needs no supply. */
  from?: string | null;
  /** Rating of the fuse in the positive conductor of this feed; none where there is no fuse. */
  fuse_A?: QuantityOrNone;
  /** Which output of the supply, by its id in the supply's part; left out when fed from a junction. */
  output?: string | null;
  /** Colour of the negative core. */
  return_core_colour?: string | null;
}

/** One floor of the building. */
export interface FloorLevel {
  /** Clear height from floor to ceiling; none where it is open to the sky. */
  ceiling_m?: QuantityOrNone;
  /** Height of its floor above the datum of the site. */
  elevation_m?: Quantity;
  /** Whether there is light enough for every camera on it whenever the system is armed. Where not, a camera sees as far as its own infrared light reaches. */
  lit?: boolean | null;
  /** What people call this floor. */
  name?: string | null;
  /** What its plan is traced over. */
  picture?: TracedPicture | null;
}

/** A port that a router hands on from outside to a device of the site. */
export interface Forwarding {
  /** The port of the device that it leads to. */
  inside_port?: number | null;
  /** The port that is open to the outside. */
  outside_port?: number | null;
  /** The device that it leads to. */
  to?: string | null;
  /** Which kind of traffic. */
  transport?: 'tcp' | 'udp' | null;
}

/** A box that adds power to one data link. */
export interface Injector {
  /** Where it stands. */
  area?: string | null;
  /** What people call it. */
  name?: string | null;
  /** The kind of injector, from the parts of this site. */
  part?: string | null;
  /** What it takes its power from: an entry of loads, where a supply of the alarm system feeds it, or a backup; none where it hangs straight on the mains. */
  powered_by?: string | null;
}

/** A kind of box that adds power to one data link. */
export interface InjectorSpec {
  /** Time from power to power at its port. */
  boot_s?: Quantity;
  /** Share of the power taken for its port that comes out of it. */
  efficiency_pct?: Quantity;
  /** Highest class of IEEE 802.3 that it gives power for. */
  poe_class?: number | null;
  /** Lowest voltage at its port under load. */
  poe_min_V?: Quantity;
  /** Power that it takes itself, without what its port gives. */
  power_W?: Quantity;
}

/** What is set in the unit for one trigger input. */
export interface InputSetting {
  /** Upper end of the alarm range; left out with its lower end, everything that is not normal is alarm. */
  alarm_max_V?: QuantityOrNone;
  /** Lower end of the alarm range; left out with its upper end, everything that is not normal is alarm. */
  alarm_min_V?: QuantityOrNone;
  /** Whether the unit acts on this input also while it is disarmed, as a zone needs that alarms at any hour (hold-up, 24-hour, tamper). */
  at_any_hour?: boolean | null;
  /** Upper end of the normal range; none where it is open on that side. */
  normal_max_V?: QuantityOrNone;
  /** Lower end of the normal range; none where it is open on that side. */
  normal_min_V?: QuantityOrNone;
  /** The preset chosen, by its id in the unit's part. */
  preset?: string | null;
  /** The zone name as typed into the unit. */
  zone_name?: string | null;
  /** The zone number as typed into the unit. */
  zone_number?: number | null;
  /** The zone type as set in the unit. */
  zone_type?: 'intruder' | 'entry_exit' | 'follower' | 'twenty_four_hour' | 'tamper' | 'fire' | 'hold_up' | 'technical' | 'access' | null;
}

/** A point where several loads share one cable from the supply. */
export interface Junction {
  /** What feeds the junction. */
  feed?: Feed | null;
  /** What people call this junction. */
  name?: string | null;
}

/** A kind of lens. */
export interface LensSpec {
  /** Longest focal length; the same where it is fixed. */
  focal_max_mm?: Quantity;
  /** Shortest focal length. */
  focal_min_mm?: Quantity;
  /** First radial term of its distortion. */
  k1_coefficient?: Quantity;
  /** Second radial term. */
  k2_coefficient?: Quantity;
  /** Third radial term. */
  k3_coefficient?: Quantity;
  /** Nearest distance that is sharp. */
  near_m?: Quantity;
  /** First tangential term; of a pinhole only. */
  p1_coefficient?: Quantity;
  /** Second tangential term; of a pinhole only. */
  p2_coefficient?: Quantity;
  /** How it maps directions onto the picture. */
  projection?: 'pinhole' | 'equidistant' | null;
}

/** Any other consumer on a supply: keypad, sounder, dialler. */
export interface Load {
  /** Where it stands. */
  area?: string | null;
  /** What feeds it. */
  feed?: Feed | null;
  /** What people call it. */
  name?: string | null;
  /** The kind of consumer, from the parts of this site. */
  part?: string | null;
}

/** Any other consumer: sounder, keypad, dialler. */
export interface LoadSpec {
  /** Current added in alarm. */
  alarm_current_A?: Quantity;
  /** Current at rest. */
  current_A?: Quantity;
  /** Highest voltage that it may be fed with. */
  supply_max_V?: Quantity;
  /** Lowest voltage at which it works. */
  supply_min_V?: Quantity;
}

/** The pair of wires from a zone terminal, with its contacts and resistors. */
export interface Loop {
  /** The alarm resistor: across all alarm contacts that have no resistor of their own. */
  alarm_ohm?: Quantity;
  /** How contacts and resistors stand on the pair. */
  arrangement?: 'normally_closed' | 'normally_open' | 'single_eol_closed' | 'single_eol_open' | 'double_eol' | 'triple_eol' | 'doubled_series' | 'doubled_parallel' | null;
  /** The cable of the pair; none where the contact is in the panel's own enclosure. */
  cable?: string | null;
  /** The contacts on the loop, by an id of your choice. */
  contacts?: Record<string, LoopContact> | null;
  /** Whether every contact on the loop is in this file. */
  contacts_complete?: boolean | null;
  /** Colour of the core that goes to the zone's input. */
  core_colour?: string | null;
  /** The end-of-line resistor. */
  eol_ohm?: Quantity;
  /** Where the end-of-line resistor really sits. */
  eol_place?: 'at_end' | 'at_panel' | null;
  /** The mask resistor of a triple end-of-line loop, across the mask contacts. */
  mask_ohm?: Quantity;
  /** Colour of the core that is the way back; left out where the way back is shared. */
  return_core_colour?: string | null;
  /** On a loop with two zones: the alarm resistor of the other zone's contacts. */
  second_alarm_ohm?: Quantity;
  /** The return conductor that it shares with other loops; none where it has a core of its own. */
  shared_return?: string | null;
}

/** One contact on a loop. */
export interface LoopContact {
  /** Which contact, by its id in the detector's part. */
  contact?: string | null;
  /** The detector whose contact it is. */
  detector?: string | null;
  /** What the contact reports on this loop; in a zone of type tamper, a tamper contact gives the alarm. */
  role?: 'alarm' | 'tamper' | 'mask' | 'fault' | null;
  /** Resistor across this contact alone; none where it has no resistor of its own. */
  shunt_ohm?: QuantityOrNone;
  /** On a loop with two zones: the zone that this contact belongs to. */
  zone?: string | null;
}

/** A supply of mains voltage with its own battery. */
export interface MainsBackup {
  /** Where it stands. */
  area?: string | null;
  /** How long it kept all that hangs on it running when that was tried; left out, it is computed from its part. */
  hold_h?: Quantity;
  /** Whether everything that hangs on it is in this file. */
  loads_complete?: boolean | null;
  /** What people call it. */
  name?: string | null;
  /** The kind of backup, from the parts of this site. */
  part?: string | null;
}

/** What the sheet of a meter says of the range that was used. */
export interface Meter {
  /** Resistance of the meter on the current range; none where it is negligible by data sheet. */
  burden_ohm?: QuantityOrNone;
  /** What one step of the last digit is worth on the current range: 0.00001 where it shows 2.41 mA. */
  digit_A?: Quantity;
  /** What one step of the last digit is worth: 0.01 where it shows 13.62. */
  digit_V?: Quantity;
  /** Error in digits, in addition: 3 of "0.5 % + 3 digits". */
  error_digits?: number | null;
  /** Error as a share of the reading: 0.5 of "0.5 % + 3 digits". */
  error_pct?: Quantity;
  /** Input resistance on the voltage range; none where it draws nothing. */
  input_ohm?: QuantityOrNone;
  /** What the meter is called, so that it can be found again. */
  name?: string | null;
}

/** The way by which alarms and clips of a unit reach the operator. */
export interface MonitoringPath {
  /** The category of EN 50136-1 that was agreed with the station. */
  category?: 'sp1' | 'sp2' | 'sp3' | 'sp4' | 'sp5' | 'sp6' | 'dp1' | 'dp2' | 'dp3' | 'dp4' | null;
  /** What people call it. */
  name?: string | null;
  /** Whether the site's network lets it out to that port: agreed with whoever runs it, and tried. */
  outbound_permitted?: boolean | null;
  /** The port at the station to which it goes out. */
  port?: number | null;
  /** As it is set up: longest time until the station shows that the path is gone. */
  reporting_s?: Quantity;
  /** Longest time from the arrival of a picture at the station to the operator's screen. */
  shown_s?: Quantity;
  /** The uplink that it takes. */
  uplink?: string | null;
}

/** Where something is fixed, and which way it looks. */
export interface Mount {
  /** Which way it looks, clockwise from north. */
  bearing_deg?: Quantity;
  /** The floor above which it hangs. */
  level?: string | null;
  /** How far it is turned about its axis, clockwise seen from behind. */
  roll_deg?: Quantity;
  /** How far it looks up; down is negative. */
  tilt_deg?: Quantity;
  /** Metres to the east of the plan's origin. */
  x_m?: Quantity;
  /** Metres to the north of it. */
  y_m?: Quantity;
  /** Height above the floor: of a camera its lens. */
  z_m?: Quantity;
}

/** One network in the sense of addresses. */
export interface Network {
  /** Whether every device in it that has an address of its own is in this file. */
  addresses_complete?: boolean | null;
  /** Whether a server gives out addresses in it by DHCP. */
  has_pool?: boolean | null;
  /** What people call it. */
  name?: string | null;
  /** The first address that is given out. */
  pool_first?: string | null;
  /** The last address that is given out. */
  pool_last?: string | null;
  /** All its addresses, as first address and prefix length. */
  range?: string | null;
  /** Its VLAN number; 0 where it goes untagged. */
  vlan?: number | null;
}

/** A network switch. */
export interface NetworkSwitch {
  /** Where it stands. */
  area?: string | null;
  /** What people call it. */
  name?: string | null;
  /** The kind of switch, from the parts of this site. */
  part?: string | null;
  /** What it takes its power from: an entry of loads, where a supply of the alarm system feeds it, or a backup; none where it hangs straight on the mains. */
  powered_by?: string | null;
  /** Whether everything that takes power over its ports is in this file. */
  powers_complete?: boolean | null;
}

/** A hole in one stretch of a wall, and what closes it. */
export interface Opening {
  /** From the beginning of the stretch to the nearer side of the opening. */
  along_m?: Quantity;
  /** Height of its upper edge above the floor. */
  head_m?: Quantity;
  /** What kind of opening it is. */
  kind?: 'doorway' | 'door' | 'window' | 'shutter' | null;
  /** What closes it: of a window the pane. */
  leaf?: 'solid' | 'glass' | 'mesh' | null;
  /** What people call it. */
  name?: string | null;
  /** Height of its lower edge above the floor; 0 of a door. */
  sill_m?: Quantity;
  /** How it stands while the system is armed; either where it may be open or closed. */
  state?: 'open' | 'closed' | 'either' | null;
  /** Which stretch of the wall's path, counted from 1. */
  stretch?: number | null;
  /** Leaf of mesh: the share that can be seen through it. */
  transmission_pct?: Quantity;
  /** The wall that it is in. */
  wall?: string | null;
  /** Clear width. */
  width_m?: Quantity;
}

/** A kind of optocoupler. */
export interface OptocouplerSpec {
  /** Forward voltage of the LED. */
  forward_V?: Quantity;
  /** Largest current that the LED stands. */
  led_max_A?: Quantity;
  /** Least current at which the LED switches for certain. */
  led_min_A?: Quantity;
  /** Output current as a share of the LED's current. */
  transfer_pct?: Quantity;
}

/** A programmable output of a panel or expander that is used for the video. */
export interface Output {
  /** When the output conducts, is switched on or has its relay energised. */
  active_when?: 'armed' | 'disarmed' | 'alarm' | 'normal' | null;
  /** What the output is programmed to follow. */
  follows?: 'armed' | 'zone_state' | 'alarm_memory' | null;
  /** Whether it counts part-set as armed. */
  follows_part_set?: boolean | null;
  /** Shortest time that the output stays active; none where it lasts only as long as what it follows. */
  hold_s?: QuantityOrNone;
  /** Whether the output holds its level or gives a pulse. */
  mode?: 'level' | 'pulse' | null;
  /** Whether it switches at the start or at the end of the exit time. */
  moment?: 'exit_start' | 'exit_end' | null;
  /** What people call this output. */
  name?: string | null;
  /** The output's number as the panel shows it. */
  number?: number | null;
  /** The panel or expander that it belongs to. */
  panel?: string | null;
  /** The kind of output, from the parts of this site. */
  part?: string | null;
  /** Whether one armed partition is enough or all of them are needed. */
  partition_rule?: 'any' | 'all' | null;
  /** The partitions that it follows, where it follows arming. */
  partitions?: Array<string> | null;
  /** Relay: which contact is wired, by its position with the relay released. */
  relay_contact_used?: 'closed' | 'open' | null;
  /** The zone that it follows, where it follows the state of a zone. */
  zone?: string | null;
}

/** What is known of one of the programmable outputs of a panel. */
export interface OutputFound {
  /** What it is used for, in words. */
  note?: string | null;
  /** Whether nothing uses it. */
  use?: 'free' | 'used' | null;
}

/** A kind of programmable output. */
export interface OutputSpec {
  /** Forward voltage of an inner diode to its own positive; none where there is none. */
  clamp_forward_V?: QuantityOrNone;
  /** Current that this inner diode may carry all the time; none where there is no diode. */
  clamp_max_A?: QuantityOrNone;
  /** What the output is electrically. */
  kind?: 'open_collector' | 'switched_positive' | 'relay' | null;
  /** Leakage when off; none for a relay. */
  leakage_A?: QuantityOrNone;
  /** Largest current that it may carry. */
  limit_A?: Quantity;
  /** Resistance in series when on; none where there is none to count. */
  on_ohm?: QuantityOrNone;
  /** Voltage lost across it when on; none for a relay. */
  saturation_V?: QuantityOrNone;
}

/** An alarm panel or one of its expanders. */
export interface Panel {
  /** What may be changed in it, and by whom. */
  access?: Access | null;
  /** Where it hangs. */
  area?: string | null;
  /** What feeds it. */
  feed?: Feed | null;
  /** What people call this panel or expander. */
  name?: string | null;
  /** What is known of its programmable outputs, by their ids in the part: which are free. */
  outputs_found?: Record<string, OutputFound> | null;
  /** The kind of panel or expander. */
  part?: string | null;
  /** What its zone inputs are electrically, from the parts of this site. */
  zone_terminal?: string | null;
}

/** One of the programmable outputs of a panel or expander. */
export interface PanelOutputSpec {
  /** Whether it can be programmed to follow the state of one zone. */
  follows_zone?: boolean | null;
  /** What the data sheet calls it. */
  name?: string | null;
  /** Its number, as the panel's programming counts it. */
  number?: number | null;
  /** What it is electrically. */
  output?: OutputSpec | null;
}

/** A kind of panel or expander: its inputs and its own consumption. */
export interface PanelSpec {
  /** Current added in alarm. */
  alarm_current_A?: Quantity;
  /** How long it takes no alarm of a zone after its power came back. */
  boot_s?: Quantity;
  /** Current at rest, without what it feeds. */
  current_A?: Quantity;
  /** Hardwired zone inputs. */
  inputs?: number | null;
  /** Its programmable outputs, by an id of your choice; those that are not listed are not known. */
  outputs?: Record<string, PanelOutputSpec> | null;
  /** Highest voltage that it may be fed with. */
  supply_max_V?: Quantity;
  /** Lowest voltage at which it works. */
  supply_min_V?: Quantity;
}

/** One kind of component, as its data sheet tells it. Exactly the object that is named like `kind` is present. */
export interface Part {
  /** What a battery is. */
  battery?: BatterySpec | null;
  /** What a high-impedance buffer is. */
  buffer?: BufferSpec | null;
  /** What a cable is. */
  cable?: CableSpec | null;
  /** What a camera is. */
  camera?: CameraSpec | null;
  /** What a detector is. */
  detector?: DetectorSpec | null;
  /** What an expander is. */
  expander?: PanelSpec | null;
  /** What an injector is. */
  injector?: InjectorSpec | null;
  /** What kind of component it is. */
  kind: 'cable' | 'resistor' | 'battery' | 'supply' | 'panel' | 'expander' | 'zone_terminal' | 'unit' | 'detector' | 'output' | 'relay' | 'optocoupler' | 'buffer' | 'load' | 'camera' | 'lens' | 'network_switch' | 'injector' | 'router' | 'recorder' | 'ups';
  /** What a lens is. */
  lens?: LensSpec | null;
  /** What another consumer is. */
  load?: LoadSpec | null;
  /** What it is, in the words of the trade. */
  name?: string | null;
  /** What a network switch is. */
  network_switch?: SwitchSpec | null;
  /** Anything worth knowing, in words. */
  note?: string | null;
  /** What an optocoupler is. */
  optocoupler?: OptocouplerSpec | null;
  /** Where its numbers come from that state no origin of their own. */
  origin?: 'measured' | 'data_sheet' | 'standard' | 'envelope' | 'typical' | 'assumed' | null;
  /** What a programmable output is. */
  output?: OutputSpec | null;
  /** What a panel is. */
  panel?: PanelSpec | null;
  /** What a recorder is. */
  recorder?: RecorderSpec | null;
  /** What a relay is. */
  relay?: RelaySpec | null;
  /** What a resistor is. */
  resistor?: ResistorSpec | null;
  /** What a router is. */
  router?: RouterSpec | null;
  /** SHA-256 of the shelf's entry when it was copied. */
  shelf_hash?: string | null;
  /** Version of the shelf that it was copied from; left out for a part of your own. */
  shelf_version?: string | null;
  /** The data sheet, standard or table that the numbers are taken from. */
  source?: string | null;
  /** What a supply is. */
  supply?: SupplySpec | null;
  /** What an interface unit is. */
  unit?: UnitSpec | null;
  /** What a mains supply with its own battery is. */
  ups?: UpsSpec | null;
  /** What a zone terminal is. */
  zone_terminal?: ZoneTerminalSpec | null;
}

/** A group of zones that is armed and disarmed together. */
export interface Partition {
  /** Time to disarm after an entry zone trips, as set in the panel; none where no entry zone is in it. */
  entry_s?: QuantityOrNone;
  /** Time to leave after arming, as set in the panel; none where it arms at once. */
  exit_s?: QuantityOrNone;
  /** What people call this partition. */
  name?: string | null;
  /** The partition's number as the panel shows it. */
  number?: number | null;
}

/** Between which heights the pattern catches a person at a distance. */
export interface PatternRow {
  /** Distance on the floor from below the detector. */
  distance_m?: Quantity;
  /** Highest height that a beam of it covers there. */
  highest_m?: Quantity;
  /** Lowest height that a beam of it covers there. */
  lowest_m?: Quantity;
}

/** Where a detector detects, mounted as its sheet says. */
export interface PatternSpec {
  /** What it covers at least. */
  guaranteed?: Reach | null;
  /** What it can cover at most. */
  largest?: Reach | null;
  /** Highest mounting height that it is given for. */
  mount_max_m?: Quantity;
  /** Lowest mounting height that the pattern is given for. */
  mount_min_m?: Quantity;
  /** Nearest distance on the floor at which it detects; none where it does from its foot on. */
  near_m?: QuantityOrNone;
  /** Heights that it covers, by distance. */
  profile?: Array<PatternRow> | null;
  /** Its shape on the plan. */
  shape?: 'fan' | 'curtain' | 'ceiling' | 'beam' | 'opening' | 'panes' | 'mat' | null;
}

/** A part of the picture that the camera blacks out. */
export interface PictureMask {
  /** What it is there for. */
  name?: string | null;
  /** Its corners in the picture, three or more. */
  outline?: Array<PicturePoint> | null;
}

/** A place in a picture. */
export interface PicturePoint {
  /** From the left edge, as a share of the picture's width. */
  across_pct?: Quantity;
  /** From the upper edge, as a share of its height. */
  down_pct?: Quantity;
}

/** A place on the plan of a level. */
export interface PlanPoint {
  /** Metres to the east of the plan's origin. */
  x_m?: Quantity;
  /** Metres to the north of it. */
  y_m?: Quantity;
}

/** A preset of a unit's input. */
export interface PresetSpec {
  /** What the data sheet calls it. */
  name?: string | null;
  /** Upper end of the normal range; none where it is open on that side. */
  normal_max_V?: QuantityOrNone;
  /** Lower end of the normal range; none where it is open on that side. */
  normal_min_V?: QuantityOrNone;
}

/** An area that no camera may show. */
export interface PrivacyArea {
  /** The floor of the area. */
  level?: string | null;
  /** What people call it. */
  name?: string | null;
  /** Its corners. */
  outline?: Array<PlanPoint> | null;
}

/** An area or opening where somebody is to be detected. */
export interface ProtectedPlace {
  /** The floor of the area. */
  level?: string | null;
  /** What people call it. */
  name?: string | null;
  /** The opening; left out where it is an area. */
  opening?: string | null;
  /** Corners of the area; left out where it is an opening. */
  outline?: Array<PlanPoint> | null;
  /** The zone that is there for it. */
  zone?: string | null;
}

/** How far a pattern reaches. */
export interface Reach {
  /** Of a fan: the whole angle. */
  angle_deg?: Quantity;
  /** Greatest distance: of a fan, curtain, disc or beam, and of a detector that listens. */
  range_m?: Quantity;
  /** Of a curtain: its width at the far end. */
  width_m?: Quantity;
}

/** What keeps the pictures of several cameras. */
export interface Recorder {
  /** Where it stands. */
  area?: string | null;
  /** What it keeps and sends when a unit asks for a clip. */
  clip?: Clip | null;
  /** How it knows the time. */
  clock?: Clock | null;
  /** Room on its disks for pictures, in units of 10^9 bytes. */
  disk_GB?: Quantity;
  /** How long its pictures are to be kept, as agreed; none where nothing was agreed. */
  keep_d?: QuantityOrNone;
  /** What people call it. */
  name?: string | null;
  /** The kind of recorder, from the parts of this site. */
  part?: string | null;
  /** What it takes its power from: an entry of loads, a backup; none where it hangs straight on the mains. */
  powered_by?: string | null;
}

/** A kind of recorder. */
export interface RecorderSpec {
  /** Time from power to the first picture that it keeps. */
  boot_s?: Quantity;
  /** Number of cameras that it takes. */
  channels?: number | null;
  /** Longest time by which a picture leaves it later than it came in. */
  delay_s?: Quantity;
  /** Power that it takes at the most. */
  power_W?: Quantity;
}

/** A kind of relay. */
export interface RelaySpec {
  /** Highest voltage that the coil may be fed with. */
  coil_max_V?: Quantity;
  /** Resistance of the coil. */
  coil_ohm?: Quantity;
  /** Its contacts, by an id of your choice. */
  contacts?: Record<string, ContactSpec> | null;
  /** Voltage at which it certainly drops out. */
  drop_out_V?: Quantity;
  /** Voltage at which it certainly pulls in. */
  pull_in_V?: Quantity;
}

/** A kind of resistor. */
export interface ResistorSpec {
  /** Power that it stands. */
  power_W?: Quantity;
  /** Its resistance, with tolerance and temperature coefficient. */
  resistance_ohm?: Quantity;
}

/** What joins the networks of the site, and them with the outside. */
export interface Router {
  /** Where it stands. */
  area?: string | null;
  /** Ports that it hands on from outside, as they were found. None is ever needed for clips. */
  forwarded?: Record<string, Forwarding> | null;
  /** Whether somebody looked, and all of them are in this file. */
  forwarded_complete?: boolean | null;
  /** What people call it. */
  name?: string | null;
  /** The kind of router, from the parts of this site. */
  part?: string | null;
  /** What it takes its power from: an entry of loads, where a supply of the alarm system feeds it, or a backup; none where it hangs straight on the mains. */
  powered_by?: string | null;
}

/** A kind of router. */
export interface RouterSpec {
  /** Time from power to the first packet that it hands on. */
  boot_s?: Quantity;
  /** Longest time that it holds a packet when nothing else waits. */
  delay_s?: Quantity;
  /** Power that it takes at the most. */
  power_W?: Quantity;
}

/** A limit, an envelope or a choice, with its source. */
export interface RuleEntry {
  /** Unit of a table's argument. */
  at_unit?: string | null;
  /** Clause or page of the source. */
  clause?: string | null;
  /** What the entry says, in one sentence. */
  meaning: string;
  /** A table instead of one value, in rising order of `at`. */
  points?: Array<RulePoint> | null;
  /** The standard or table that it is taken from, or "common practice, no source". */
  source: string;
  /** Unit of the value: V, h, ohm, pct, or 1 for a pure number. */
  unit: string;
  /** The number, or the range of an envelope, in the entry's unit. */
  value?: Quantity;
  /** Whether somebody has checked it against the source itself; where not, the verdict says so. */
  verified: boolean;
}

/** One row of a table entry; between rows it is interpolated linearly, beyond them it is not extended. */
export interface RulePoint {
  /** The argument, in the entry's at_unit. */
  at: Quantity;
  /** The entry's value there, in its unit. */
  value: Quantity;
}

/** Acceptance limits, envelopes and choices with their sources. */
export interface Rulebook {
  /** Limits and envelopes, by id. */
  entries?: Record<string, RuleEntry> | null;
  /** SHA-256 of the shelf's rulebook when it was copied into the site. */
  hash?: string | null;
  /** What people call this rulebook. */
  name?: string | null;
  /** Anything worth knowing, in words. */
  note?: string | null;
  /** How each state of a zone is classed, by the word of the state. */
  states?: Record<string, StateRule> | null;
  /** Version of this rulebook. */
  version?: string | null;
}

/** The rulebook that this site is judged by. */
export interface RulebookChoice {
  /** The rulebook, from the rulebooks of this site. */
  book?: string | null;
  /** The grade, where the rulebook has grades. */
  grade?: number | null;
  /** How large a person has to be in the picture: the entry of the rulebook that says it, in pixels per metre or as a share of the picture's height. */
  view_rule?: string | null;
}

/** A port on which a device answers. */
export interface Service {
  /** Whether what passes there is encrypted. */
  encrypted?: boolean | null;
  /** The port's number. */
  port?: number | null;
  /** From where it can be reached, as it was tried: from its own network alone, from the whole site, from anywhere. */
  reached_from?: 'own_network' | 'site' | 'anywhere' | null;
  /** Which kind of traffic. */
  transport?: 'tcp' | 'udp' | null;
}

/** One conductor that several loops use as their way back to the panel. */
export interface SharedReturn {
  /** The cable, one core of which is the return; none where it is a link inside the panel. */
  cable?: string | null;
  /** Colour of that core. */
  core_colour?: string | null;
  /** What people call it. */
  name?: string | null;
  /** The panel or expander that it returns to. */
  panel?: string | null;
}

/** A straight flight of stairs. */
export interface Stair {
  /** Whether the space under it is solid or open. */
  below?: 'solid' | 'open' | 'either' | null;
  /** Middle of its first riser. */
  foot?: PlanPoint | null;
  /** Middle of its last riser. */
  head?: PlanPoint | null;
  /** The floor that its foot stands on. */
  level?: string | null;
  /** What people call it. */
  name?: string | null;
  /** Height of the top of its last step above that floor. */
  rise_m?: Quantity;
  /** Number of steps. */
  steps?: number | null;
  /** Width of its steps. */
  width_m?: Quantity;
}

/** Whether a state of a zone must start the video. */
export interface StateRule {
  /** Clause or page of the source. */
  clause?: string | null;
  /** The standard that asks for it, or "common practice, no source". */
  source: string;
  /** Whether the unit must take this state as an alarm, must not, or may do either. */
  trigger: 'must_trigger' | 'must_not' | 'either';
  /** Whether somebody has checked it against the source itself. */
  verified: boolean;
}

/** One stream that a camera sends all the time, as set in the camera. */
export interface Stream {
  /** How it is encoded. */
  codec?: 'mjpeg' | 'h264' | 'h265' | null;
  /** The largest picture between key frames; none where every picture is a key frame. */
  frame_kB?: QuantityOrNone;
  /** The largest key frame, as seen on a busy picture. */
  key_frame_kB?: Quantity;
  /** Time between two key frames; none where every picture is one. */
  key_frame_s?: QuantityOrNone;
  /** Whether the camera keeps to a highest bit rate or lets it run free. */
  rate_control?: 'capped' | 'free' | null;
  /** Pictures per second. */
  rate_fps?: Quantity;
  /** The highest bit rate over a key interval; none where it runs free. */
  rate_kbps?: QuantityOrNone;
  /** Where it is sent to. */
  to?: string | null;
}

/** A power supply as it is installed; a panel's auxiliary supply is one too. */
export interface Supply {
  /** Where it stands. */
  area?: string | null;
  /** Whether every battery on it is in this file. */
  batteries_complete?: boolean | null;
  /** Whether everything that it feeds is in this file. */
  loads_complete?: boolean | null;
  /** What people call this supply. */
  name?: string | null;
  /** The kind of supply, from the parts of this site. */
  part?: string | null;
}

/** One output of a supply. */
export interface SupplyOutputSpec {
  /** Current into a short, where the limit folds back. */
  foldback_A?: QuantityOrNone;
  /** Current at which the protection acts. */
  limit_A?: QuantityOrNone;
  /** What the data sheet calls it. */
  name?: string | null;
  /** What happens when more is drawn. */
  protection?: 'constant_current' | 'foldback' | 'ptc' | 'fuse' | null;
  /** Current that may be drawn continuously. */
  rating_A?: Quantity;
  /** Resistance between the supply's rail and this output. */
  series_ohm?: QuantityOrNone;
}

/** A kind of power supply; the auxiliary supply of a panel is one too. */
export interface SupplySpec {
  /** Resistance between battery terminals and output. */
  battery_path_ohm?: Quantity;
  /** Limit of the charging current; none where it does not charge. */
  charge_A?: QuantityOrNone;
  /** Battery voltage at which it is disconnected; none where there is no such disconnect. */
  cutoff_V?: QuantityOrNone;
  /** Output on mains with a charged battery, over tolerance and temperature compensation. */
  mains_V?: Quantity;
  /** Output just after the mains return onto a flat battery. */
  mains_flat_battery_V?: Quantity;
  /** Output on mains without battery, the valleys of its ripple included. */
  mains_no_battery_V?: Quantity;
  /** Its outputs, by an id of your choice. */
  outputs?: Record<string, SupplyOutputSpec> | null;
  /** The supply's own consumption from the battery. */
  own_A?: Quantity;
  /** Current of all outputs together. */
  rating_A?: Quantity;
}

/** A kind of network switch. */
export interface SwitchSpec {
  /** Time from power to the first packet that it hands on. */
  boot_s?: Quantity;
  /** Longest time that it holds a packet when nothing else waits. */
  delay_s?: Quantity;
  /** Share of the power taken for its ports that comes out of them. */
  efficiency_pct?: Quantity;
  /** What it hands on in all; none where that is as much as its ports take. */
  forwarding_Mbps?: QuantityOrNone;
  /** Power that all ports together give; none where no port gives power. */
  poe_budget_W?: QuantityOrNone;
  /** Highest class of IEEE 802.3 that one port gives power for. */
  poe_class?: number | null;
  /** Lowest voltage at a port under load; none where no port gives power. */
  poe_min_V?: QuantityOrNone;
  /** Number of ports that give power. */
  poe_ports?: number | null;
  /** Number of its ports. */
  ports?: number | null;
  /** Power that it takes itself, without what its ports give. */
  power_W?: Quantity;
}

/** A meter reading between the two screws of a terminal, with the loop taken off. */
export interface TerminalReading {
  /** open: the voltage, with nothing on the screws but the meter; loaded: the voltage over a resistor across them; shorted: the current, with the ammeter as the short. */
  kind?: 'open' | 'loaded' | 'shorted' | null;
  /** The meter, on the range that was used. */
  meter?: Meter | null;
  /** Anything worth knowing, in words. */
  note?: string | null;
  /** The resistor across the screws, with its tolerance or as measured. */
  resistor_ohm?: Quantity;
  /** Current that the meter showed, counted as the windows are. */
  shown_A?: Quantity;
  /** Voltage that the meter showed, counted as the windows are; min and max where its digits moved. */
  shown_V?: Quantity;
  /** Whether the panel was on mains or on its battery. */
  supply?: 'mains' | 'battery' | null;
}

/** A picture that the plan of a level is traced over. No answer rests on it. */
export interface TracedPicture {
  /** Where its upper edge points, clockwise from north about its lower left corner; 0 where north is up. */
  bearing_deg?: Quantity;
  /** Its height. */
  height_px?: number | null;
  /** The file that it came from. */
  name?: string | null;
  /** How many of its pixels are a metre of the building. */
  px_per_m?: Quantity;
  /** SHA-256 of its bytes; the book keeps them under it. */
  sha256: string;
  /** How strongly it is shown below the plan. */
  shown_pct?: Quantity;
  /** Its width. */
  width_px?: number | null;
  /** Where its lower left corner lies: metres to the east. */
  x_m?: Quantity;
  /** Where its lower left corner lies: metres to the north. */
  y_m?: Quantity;
}

/** The wire from one zone to one input of a unit, with what feeds it. */
export interface Trigger {
  /** Loop tap: the number of the input that it is really wired to. */
  at_input?: number | null;
  /** Loop tap: the panel or expander whose terminal it is really wired to. */
  at_panel?: string | null;
  /** The cable of the trigger wire; none where both stand in the same enclosure. */
  cable?: string | null;
  /** The unit's video channel, counted from 1. */
  channel?: number | null;
  /** Which contact, by its id in the detector's part. */
  contact?: string | null;
  /** What the contact of a detector or of a relay output switches the input to: high the unit's supply positive, low its negative. */
  contact_to?: 'low' | 'high' | null;
  /** Colour of the trigger wire's core. */
  core_colour?: string | null;
  /** Spare contact or receiver's relay: the device whose contact it is. */
  detector?: string | null;
  /** The unit's trigger input, counted from 1. */
  input?: number | null;
  /** Channels that are clipped beside `channel` when it trips. */
  more_channels?: Array<string> | null;
  /** Following output: the output that is wired to the input. */
  output?: string | null;
  /** Resistor from the input to the unit's negative; none where there is none. */
  pulldown_ohm?: QuantityOrNone;
  /** Resistor from the input to the unit's supply positive; none where there is none. */
  pullup_ohm?: QuantityOrNone;
  /** Camera analytics: the floor on which a person trips it, on the camera's level. */
  region?: Array<PlanPoint> | null;
  /** Colour of the second core of a contact without potential. */
  return_core_colour?: string | null;
  /** Resistor put into the trigger wire; none where there is none. */
  series_ohm?: QuantityOrNone;
  /** What is set in the unit for this input. */
  setting?: InputSetting | null;
  /** Where the trigger comes from. */
  source?: 'loop_tap' | 'spare_contact' | 'following_output' | 'receiver_relay' | 'camera_analytics' | 'live_view' | null;
  /** The unit that it goes to. */
  unit?: string | null;
  /** The zone that it reports; none for a channel that is live view only. */
  zone?: string | null;
}

/** An interface unit with trigger inputs, an arming input and video channels. */
export interface Unit {
  /** Where it hangs. */
  area?: string | null;
  /** How it learns whether the system is armed. */
  arming?: Arming | null;
  /** What it keeps and sends of channels that come straight from a camera. */
  clip?: Clip | null;
  /** How it knows the time. */
  clock?: Clock | null;
  /** What feeds it. */
  feed?: Feed | null;
  /** Who sees that the unit is gone, by what was set up and tried; the station polls it, a zone of the panel shows it, or nobody does. */
  missed_by?: 'station' | 'zone' | 'nobody' | null;
  /** Missed by a zone: the zone that shows it, by a contact that the unit holds while it runs. */
  missed_zone?: string | null;
  /** The way by which its clips reach the operator. */
  monitoring?: string | null;
  /** What people call this unit. */
  name?: string | null;
  /** The kind of unit, from the parts of this site. */
  part?: string | null;
  /** Missed by the station: longest time until it reports the unit as missing. */
  poll_s?: Quantity;
}

/** The trigger inputs of a unit. */
export interface UnitInputSpec {
  /** Capacitance from the input to the unit's negative, which a pulsed terminal has to charge; none where it is negligible by data sheet. */
  capacitance_nF?: QuantityOrNone;
  /** Forward voltage of the clamp diodes to the inner rail and from the negative; none where there are no clamps. */
  clamp_forward_V?: QuantityOrNone;
  /** Resistance in series with the clamps; none where there are no clamps. */
  clamp_on_ohm?: QuantityOrNone;
  /** Highest voltage that the input survives. */
  damage_max_V?: Quantity;
  /** Lowest voltage that the input survives. */
  damage_min_V?: Quantity;
  /** How long a state must last to count. */
  debounce_s?: QuantityOrNone;
  /** Error of measuring and of the threshold, as plus or minus volts. */
  error_V?: Quantity;
  /** Time constant of the input filter; none where there is no filter. */
  filter_s?: QuantityOrNone;
  /** Hysteresis of the threshold; none where there is none. */
  hysteresis_V?: QuantityOrNone;
  /** Resistance from the input to the unit's negative, unit powered; none where it is negligible by data sheet. */
  impedance_ohm?: QuantityOrNone;
  /** Voltage of the inner rail, unit powered. */
  inner_rail_V?: QuantityOrNone;
  /** What loads the inner rail when the unit is unpowered. */
  inner_rail_load_ohm?: QuantityOrNone;
  /** How it tells normal from alarm. */
  judging?: 'ranges' | 'threshold' | 'presets' | null;
  /** Highest voltage that it can measure. */
  measuring_max_V?: Quantity;
  /** The presets that it offers, by an id of your choice. */
  presets?: Record<string, PresetSpec> | null;
  /** Pull-up to the inner rail; none where there is none. */
  pullup_ohm?: QuantityOrNone;
  /** Longest time between two looks at the input. */
  sampling_s?: QuantityOrNone;
  /** Step in which ranges and thresholds can be set; none where any value can be set. */
  step_V?: QuantityOrNone;
}

/** A kind of interface unit. */
export interface UnitSpec {
  /** Its arming input. */
  arming?: ArmingInputSpec | null;
  /** Time from power to the first trigger that it takes. */
  boot_s?: Quantity;
  /** fixed: input n shows channel n; free: any input may show any channel. */
  channel_binding?: 'fixed' | 'free' | null;
  /** Number of video channels. */
  channels?: number | null;
  /** Current that it takes, where a linear regulator makes it constant; give this or power_W. */
  current_A?: QuantityOrNone;
  /** Its trigger inputs. */
  input?: UnitInputSpec | null;
  /** Number of trigger inputs. */
  inputs?: number | null;
  /** Voltage below which it does not run; none where it has no lockout. */
  lockout_V?: QuantityOrNone;
  /** Whether it takes triggers of a camera's own analytics over the network. */
  network_triggers?: boolean | null;
  /** Power that it takes, where a switching regulator makes it constant; give this or current_A. */
  power_W?: QuantityOrNone;
  /** Longest time from a trigger that it counts to the clip being asked for. */
  reaction_s?: Quantity;
  /** Largest current while it starts; none where it is no larger than at work. */
  startup_A?: QuantityOrNone;
  /** Highest voltage that it may be fed with. */
  supply_max_V?: Quantity;
  /** Lowest voltage at which it works. */
  supply_min_V?: Quantity;
}

/** The way out of the site. */
export interface Uplink {
  /** How long the carrier's side goes on working when the mains around the site fail. */
  carrier_hold_h?: Quantity;
  /** Time that a packet takes to the station. */
  delay_s?: Quantity;
  /** What people call it. */
  name?: string | null;
  /** The most that everybody else on the site may send up at the same time; none where it is for the alarm system alone. */
  others_Mbps?: QuantityOrNone;
  /** Power that its modem takes at the most; none where it is built into the router. */
  power_W?: QuantityOrNone;
  /** What its modem takes its power from; the router, where it is built into that; none where it hangs straight on the mains. */
  powered_by?: string | null;
  /** The router that it hangs on. */
  router?: string | null;
  /** What goes up for sure: the least of several readings, at the busiest hour. */
  up_Mbps?: Quantity;
}

/** A kind of mains supply with its own battery. */
export interface UpsSpec {
  /** Energy that it gives out from full when new. */
  energy_Wh?: Quantity;
  /** Power that it takes from its battery for itself. */
  own_W?: Quantity;
  /** Power that it gives at the most. */
  rating_W?: Quantity;
}

/** A thin upright screen along a path. Thick walls are drawn by their faces, or as blocks. */
export interface Wall {
  /** Height of its lower edge above the floor. */
  bottom_m?: Quantity;
  /** The floor that it stands on. */
  level?: string | null;
  /** What people call it. */
  name?: string | null;
  /** Its corners from end to end, two or more. */
  path?: Array<PlanPoint> | null;
  /** What it lets through. */
  surface?: 'solid' | 'glass' | 'mesh' | null;
  /** Height of its upper edge above the floor; none where it reaches the ceiling. */
  top_m?: QuantityOrNone;
  /** Mesh: the share of what is behind it that can be seen through it. */
  transmission_pct?: Quantity;
}

/** A band of terminal voltage with one meaning, in volts or in percent of the source voltage. */
export interface Window {
  /** Upper end against the terminal's reference; none where it is open on that side. */
  max_V?: QuantityOrNone;
  /** Upper end as a share of the source voltage; none where it is open on that side. */
  max_pct?: QuantityOrNone;
  /** What the panel takes it for. */
  means: 'secure' | 'alarm' | 'tamper' | 'open' | 'shorted' | 'fault' | 'masked' | 'second_alarm' | 'both_alarm';
  /** Lower end against the terminal's reference; none where it is open on that side. */
  min_V?: QuantityOrNone;
  /** Lower end as a share of the source voltage; none where it is open on that side. */
  min_pct?: QuantityOrNone;
}

/** A zone of the panel. */
export interface Zone {
  /** The other zone on the same pair of wires; the loop is described there. */
  doubled_with?: string | null;
  /** The number of that input, counted from 1. */
  input?: number | null;
  /** The pair of wires, contacts and resistors of a wired zone. */
  loop?: Loop | null;
  /** How the zone reaches the panel. */
  medium?: 'wired' | 'wireless' | 'addressable' | null;
  /** The zone's name as the panel shows it. */
  name?: string | null;
  /** The zone's number as the panel shows it. */
  number?: number | null;
  /** The panel or expander whose input it is. */
  panel?: string | null;
  /** The partition that it belongs to. */
  partition?: string | null;
  /** How the panel treats the zone. */
  type?: 'intruder' | 'entry_exit' | 'follower' | 'twenty_four_hour' | 'tamper' | 'fire' | 'hold_up' | 'technical' | 'access' | null;
  /** What this input is electrically, where it differs from the panel's other inputs. */
  zone_terminal?: string | null;
}

/** A kind of zone terminal of a panel or expander. */
export interface ZoneTerminalSpec {
  /** Capacitance across the two screws inside the panel, which every pulse has to charge; none where it is negligible by data sheet. */
  capacitance_nF?: QuantityOrNone;
  /** Current source: the current that it drives. */
  current_A?: QuantityOrNone;
  /** How long a state must last to count. */
  debounce_s?: QuantityOrNone;
  /** Whether the terminal is driven all the time, in pulses of one polarity, in both, or by an alternating voltage. */
  drive?: 'steady' | 'scanned' | 'bipolar' | 'alternating' | null;
  /** Time constant of the input filter; none where there is no filter. */
  filter_s?: QuantityOrNone;
  /** Optocoupled: voltage across the LED, in series with the pull-up. */
  forward_V?: QuantityOrNone;
  /** Load of the measuring input to the reference; none where it is negligible by data sheet. */
  input_ohm?: QuantityOrNone;
  /** Pulsed terminals: when the panel looks, from the start of the pulse; alternating: from where the wave rises through the middle, of a full_wave from nothing. */
  look_s?: Quantity;
  /** Scanned and bipolar: open-circuit voltage between the pulses; none where the source then lets go. */
  off_V?: QuantityOrNone;
  /** Scanned and bipolar: how long the source is on. */
  on_s?: QuantityOrNone;
  /** Pulsed terminals: time from one pulse to the next; alternating: of one whole oscillation. */
  period_s?: QuantityOrNone;
  /** Source resistance seen at the terminal. */
  pullup_ohm?: QuantityOrNone;
  /** Meter readings at this terminal, by an id of your choice: they tell source_V and pullup_ohm where no papers do. */
  readings?: Record<string, TerminalReading> | null;
  /** What the terminal's voltage refers to, or what drives it. */
  refers_to?: 'negative' | 'positive' | 'floating' | 'matrix' | 'current_source' | 'optocoupled' | null;
  /** Bipolar: open-circuit voltage in the other polarity, with its sign. */
  reverse_V?: Quantity;
  /** Bipolar: how long the other polarity lasts; none where it lasts for all the rest of the period. */
  reverse_s?: QuantityOrNone;
  /** Alternating: open-circuit voltage as its root mean square, rectified halves included. */
  rms_V?: Quantity;
  /** Longest time between two looks at the input. */
  scan_s?: QuantityOrNone;
  /** Resistance between terminal and measuring point; none where there is none. */
  series_ohm?: QuantityOrNone;
  /** Whether its source is regulated or follows the raw supply rail. */
  source?: 'regulated' | 'raw_rail' | null;
  /** Open-circuit voltage of a regulated source; of a pulsed one, in the pulse. */
  source_V?: QuantityOrNone;
  /** Open-circuit voltage as a share of the raw rail. */
  source_pct?: QuantityOrNone;
  /** Alternating: its shape; half_wave and full_wave are a rectified sine. */
  wave?: 'sine' | 'square' | 'half_wave' | 'full_wave' | null;
  /** What the panel takes each voltage for, by an id of your choice. */
  windows?: Record<string, Window> | null;
}

/** What is installed on one site. Ids are unique in the site; those of parts and of rulebooks among themselves, those inside an object (contacts of a loop, outputs of a part) in that object. */
export interface Site {
  /** Addresses of the devices. */
  addresses?: Record<string, Address> | null;
  /** Areas with their temperatures. */
  areas?: Record<string, Area> | null;
  /** Supplies of mains voltage with their own battery. */
  backups?: Record<string, MainsBackup> | null;
  /** Batteries. */
  batteries?: Record<string, Battery> | null;
  /** Bodies with an outline: columns, racking, counters, shelves, machines. */
  blocks?: Record<string, Block> | null;
  /** What joins the negatives. */
  bonds?: Record<string, Bond> | null;
  /** Whether everything that joins negatives is in this file. */
  bonds_complete?: boolean | null;
  /** Runs of cable. */
  cables?: Record<string, Cable> | null;
  /** Cameras as they are mounted. */
  cameras?: Record<string, Camera> | null;
  /** Video channels of the units, and which camera is on each. */
  channels?: Record<string, Channel> | null;
  /** Runs of data cable between two ports. */
  data_links?: Record<string, DataLink> | null;
  /** Detectors, contacts and buttons. */
  detectors?: Record<string, Detector> | null;
  /**  */
  format: 'zoneproof-site';
  /** Boxes that add power to one data link. */
  injectors?: Record<string, Injector> | null;
  /** Points where several loads share one cable from the supply. */
  junctions?: Record<string, Junction> | null;
  /** Floors of the building. */
  levels?: Record<string, FloorLevel> | null;
  /** Other consumers on the supplies. */
  loads?: Record<string, Load> | null;
  /** Ways by which clips reach the operator. */
  monitoring_paths?: Record<string, MonitoringPath> | null;
  /** What people call this site. */
  name?: string | null;
  /** Networks in the sense of addresses. */
  networks?: Record<string, Network> | null;
  /** Anything worth knowing, in words. */
  note?: string | null;
  /** Doors, windows, shutters and gaps in the walls. */
  openings?: Record<string, Opening> | null;
  /** Where the numbers come from that state no origin and stand in no part with one. */
  origin?: 'measured' | 'data_sheet' | 'standard' | 'envelope' | 'typical' | 'assumed' | null;
  /** Programmable outputs that are used for the video. */
  outputs?: Record<string, Output> | null;
  /** Panels and expanders. */
  panels?: Record<string, Panel> | null;
  /** Partitions of the panel. */
  partitions?: Record<string, Partition> | null;
  /** The parts used, copied from the shelf with version and hash, or your own. */
  parts?: Record<string, Part> | null;
  /** Areas that no camera may show. */
  privacy_areas?: Record<string, PrivacyArea> | null;
  /** Areas and openings where somebody is to be detected. */
  protected_places?: Record<string, ProtectedPlace> | null;
  /** What keeps the pictures of several cameras. */
  recorders?: Record<string, Recorder> | null;
  /** Running number of this state of the site. */
  revision?: number | null;
  /** What joins the networks, and them with the outside. */
  routers?: Record<string, Router> | null;
  /** The rulebook that this site is judged by. */
  rulebook?: RulebookChoice | null;
  /** The rulebooks used, copied from the shelf with version and hash. */
  rulebooks?: Record<string, Rulebook> | null;
  /** Return conductors that several loops share. */
  shared_returns?: Record<string, SharedReturn> | null;
  /** Straight flights of stairs. */
  stairs?: Record<string, Stair> | null;
  /** Power supplies, panel auxiliary supplies included. */
  supplies?: Record<string, Supply> | null;
  /** Network switches. */
  switches?: Record<string, NetworkSwitch> | null;
  /** Trigger wires from zones to inputs of units. */
  triggers?: Record<string, Trigger> | null;
  /** Interface units. */
  units?: Record<string, Unit> | null;
  /** Ways out of the site. */
  uplinks?: Record<string, Uplink> | null;
  /** Version of the file format. */
  version: number;
  /** Upright screens along a path: walls, fences, glass partitions. */
  walls?: Record<string, Wall> | null;
  /** Zones of the panel. */
  zones?: Record<string, Zone> | null;
}
