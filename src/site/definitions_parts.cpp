// Every field of a part: key (the member's name), plausible range, meaning. See field.hpp.
#include "site/definitions.hpp"
#include "site/site_record.hpp"

#define FIELD ZONEPROOF_FIELD

namespace zoneproof::site {

template <>
const Record& record_of<CableSpec>() {
  using Here = CableSpec;
  static const Record record = {
      "CableSpec",
      "A kind of cable.",
      {FIELD(conductor_mm2)
           .range(0.01, 100)
           .means("Cross-section of one core; for information, the resistance counts."),
       FIELD(conductor_awg).range(0, 40).means("AWG number of one core; for information, the resistance counts."),
       FIELD(resistance_ohm_per_km)
           .range(0.01, 100000)
           .means("Resistance of one core at 20 degrees Celsius, direct current."),
       FIELD(material).means("What the cores are made of."), FIELD(cores).range(1, 1000).means("Number of cores."),
       FIELD(insulation_Mohm_km).range(0, 1e7).means("Insulation between the cores when dry."),
       FIELD(capacitance_nF_per_km)
           .range(0, 1e5)
           .means("Capacitance of one core to what lies beside it: 100 is 100 pF a metre. It counts on pulsed "
                  "terminals.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<ResistorSpec>() {
  using Here = ResistorSpec;
  static const Record record = {
      "ResistorSpec",
      "A kind of resistor.",
      {FIELD(resistance_ohm).range(0, kMostOhms).means("Its resistance, with tolerance and temperature coefficient."),
       FIELD(power_W).range(0.001, 1000).means("Power that it stands.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<BatterySpec>() {
  using Here = BatterySpec;
  static const Record record = {
      "BatterySpec",
      "A kind of battery.",
      {FIELD(capacity_Ah).range(0.01, 10000).means("Capacity to the cut-off voltage at the rated time."),
       FIELD(rated_h).range(0.1, 1000).means("Discharge time that the capacity is stated for, e.g. 20 for C20."),
       FIELD(peukert_exponent).range(1, 2).means("Exponent k of Peukert's law, t = rated_h (C / (I rated_h))^k."),
       FIELD(full_V).range(0, kMostVolts).means("Open-circuit voltage, charged and rested."),
       FIELD(empty_V).range(0, kMostVolts).means("Open-circuit voltage at the end of the rated discharge."),
       FIELD(internal_ohm).range(0, 100).means("Internal resistance, new and charged."),
       FIELD(internal_aged_factor)
           .range(1, 100)
           .means("How many times the internal resistance has grown at the end of life."),
       FIELD(temperature_min_degC).range(kColdest, kHottest).means("Lowest temperature that it may be used at."),
       FIELD(temperature_max_degC).range(kColdest, kHottest).means("Highest temperature that it may be used at.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<SupplyOutputSpec>() {
  using Here = SupplyOutputSpec;
  static const Record record = {
      "SupplyOutputSpec",
      "One output of a supply.",
      {FIELD(name).means("What the data sheet calls it."),
       FIELD(rating_A).range(0, kMostAmperes).means("Current that may be drawn continuously."),
       FIELD(protection).means("What happens when more is drawn."),
       FIELD(limit_A).range(0, 1000).or_none().means("Current at which the protection acts."),
       FIELD(foldback_A).range(0, 1000).or_none().means("Current into a short, where the limit folds back."),
       FIELD(series_ohm).range(0, 1000).or_none().means("Resistance between the supply's rail and this output.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<SupplySpec>() {
  using Here = SupplySpec;
  static const Record record = {
      "SupplySpec",
      "A kind of power supply; the auxiliary supply of a panel is one too.",
      {FIELD(mains_V)
           .range(0, kMostVolts)
           .means("Output on mains with a charged battery, over tolerance and temperature compensation."),
       FIELD(mains_no_battery_V)
           .range(0, kMostVolts)
           .means("Output on mains without battery, the valleys of its ripple included."),
       FIELD(mains_flat_battery_V)
           .range(0, kMostVolts)
           .means("Output just after the mains return onto a flat battery."),
       FIELD(cutoff_V)
           .range(0, kMostVolts)
           .or_none()
           .means("Battery voltage at which it is disconnected; none where there is no such disconnect."),
       FIELD(battery_path_ohm).range(0, 100).means("Resistance between battery terminals and output."),
       FIELD(rating_A).range(0, kMostAmperes).means("Current of all outputs together."),
       FIELD(charge_A)
           .range(0, kMostAmperes)
           .or_none()
           .means("Limit of the charging current; none where it does not charge."),
       FIELD(own_A).range(0, kMostAmperes).means("The supply's own consumption from the battery."),
       FIELD(outputs).at_most(kMostOutputsOfSupply).means("Its outputs, by an id of your choice.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<OutputSpec>() {
  using Here = OutputSpec;
  static const Record record = {
      "OutputSpec",
      "A kind of programmable output.",
      {FIELD(kind).means("What the output is electrically."),
       FIELD(saturation_V).range(0, 10).or_none().means("Voltage lost across it when on; none for a relay."),
       FIELD(on_ohm).range(0, 1e6).or_none().means("Resistance in series when on; none where there is none to count."),
       FIELD(leakage_A).range(0, 1).or_none().means("Leakage when off; none for a relay."),
       FIELD(limit_A).range(0, kMostAmperes).means("Largest current that it may carry."),
       FIELD(clamp_forward_V)
           .range(0, 10)
           .or_none()
           .means("Forward voltage of an inner diode to its own positive; none where there is none."),
       FIELD(clamp_max_A)
           .range(0, kMostAmperes)
           .or_none()
           .means("Current that this inner diode may carry all the time; none where there is no diode.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PanelOutputSpec>() {
  using Here = PanelOutputSpec;
  static const Record record = {
      "PanelOutputSpec",
      "One of the programmable outputs of a panel or expander.",
      {FIELD(name).means("What the data sheet calls it."),
       FIELD(number).range(0, 2000).means("Its number, as the panel's programming counts it."),
       FIELD(follows_zone).means("Whether it can be programmed to follow the state of one zone."),
       FIELD(output).means("What it is electrically.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PanelSpec>() {
  using Here = PanelSpec;
  static const Record record = {
      "PanelSpec",
      "A kind of panel or expander: its inputs and its own consumption.",
      {FIELD(inputs).range(0, 2000).means("Hardwired zone inputs."),
       FIELD(outputs)
           .at_most(kMostOutputsOfPanel)
           .means("Its programmable outputs, by an id of your choice; those that are not listed are not known."),
       FIELD(supply_min_V).range(0, kMostVolts).means("Lowest voltage at which it works."),
       FIELD(supply_max_V).range(0, kMostVolts).means("Highest voltage that it may be fed with."),
       FIELD(current_A).range(0, kMostAmperes).means("Current at rest, without what it feeds."),
       FIELD(alarm_current_A).range(0, kMostAmperes).means("Current added in alarm."),
       FIELD(boot_s).range(0, kMostSeconds).means("How long it takes no alarm of a zone after its power came back.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PresetSpec>() {
  using Here = PresetSpec;
  static const Record record = {"PresetSpec",
                                "A preset of a unit's input.",
                                {FIELD(name).means("What the data sheet calls it."),
                                 FIELD(normal_min_V)
                                     .range(-kMostVolts, kMostVolts)
                                     .or_none()
                                     .means("Lower end of the normal range; none where it is open on that side."),
                                 FIELD(normal_max_V)
                                     .range(-kMostVolts, kMostVolts)
                                     .or_none()
                                     .means("Upper end of the normal range; none where it is open on that side.")},
                                sizeof(Here),
                                {}};
  return record;
}

template <>
const Record& record_of<UnitInputSpec>() {
  using Here = UnitInputSpec;
  static const Record record = {
      "UnitInputSpec",
      "The trigger inputs of a unit.",
      {FIELD(impedance_ohm)
           .range(0, kMostOhms)
           .or_none()
           .means("Resistance from the input to the unit's negative, unit powered; none where it is negligible by data "
                  "sheet."),
       FIELD(pullup_ohm).range(0, 1e9).or_none().means("Pull-up to the inner rail; none where there is none."),
       FIELD(inner_rail_V).range(0, kMostVolts).or_none().means("Voltage of the inner rail, unit powered."),
       FIELD(inner_rail_load_ohm)
           .range(0, 1e9)
           .or_none()
           .means("What loads the inner rail when the unit is unpowered."),
       FIELD(clamp_forward_V)
           .range(0, 10)
           .or_none()
           .means("Forward voltage of the clamp diodes to the inner rail and from the negative; none where there are "
                  "no clamps."),
       FIELD(clamp_on_ohm)
           .range(0, 1e7)
           .or_none()
           .means("Resistance in series with the clamps; none where there are no clamps."),
       FIELD(filter_s)
           .range(0, kMostSeconds)
           .or_none()
           .means("Time constant of the input filter; none where there is no filter."),
       FIELD(capacitance_nF)
           .range(0, 1e7)
           .or_none()
           .means(
               "Capacitance from the input to the unit's negative, which a pulsed terminal has to charge; none where "
               "it is negligible by data sheet."),
       FIELD(measuring_max_V).range(0, kMostVolts).means("Highest voltage that it can measure."),
       FIELD(error_V).range(0, kMostVolts).means("Error of measuring and of the threshold, as plus or minus volts."),
       FIELD(step_V)
           .range(0, kMostVolts)
           .or_none()
           .means("Step in which ranges and thresholds can be set; none where any value can be set."),
       FIELD(hysteresis_V)
           .range(0, kMostVolts)
           .or_none()
           .means("Hysteresis of the threshold; none where there is none."),
       FIELD(damage_min_V).range(-1000, 1000).means("Lowest voltage that the input survives."),
       FIELD(damage_max_V).range(-1000, 1000).means("Highest voltage that the input survives."),
       FIELD(sampling_s).range(0, kMostSeconds).or_none().means("Longest time between two looks at the input."),
       FIELD(debounce_s).range(0, kMostSeconds).or_none().means("How long a state must last to count."),
       FIELD(judging).means("How it tells normal from alarm."),
       FIELD(presets).at_most(kMostPresets).means("The presets that it offers, by an id of your choice.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<ArmingInputSpec>() {
  using Here = ArmingInputSpec;
  static const Record record = {
      "ArmingInputSpec",
      "The input by which a unit learns armed from disarmed.",
      {FIELD(impedance_ohm)
           .range(0, kMostOhms)
           .or_none()
           .means("Resistance to the unit's negative; none where it is negligible by data sheet."),
       FIELD(pullup_ohm).range(0, 1e9).or_none().means("Pull-up to the inner rail; none where there is none."),
       FIELD(low_max_V).range(-kMostVolts, kMostVolts).means("Up to here it is certainly the low level."),
       FIELD(high_min_V).range(-kMostVolts, kMostVolts).means("From here on it is certainly the high level."),
       FIELD(damage_max_V).range(0, 1000).means("Highest voltage that the input survives.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<UnitSpec>() {
  using Here = UnitSpec;
  static const Record record = {
      "UnitSpec",
      "A kind of interface unit.",
      {FIELD(supply_min_V).range(0, kMostVolts).means("Lowest voltage at which it works."),
       FIELD(supply_max_V).range(0, kMostVolts).means("Highest voltage that it may be fed with."),
       FIELD(power_W).range(0, 1000).or_none().means(
           "Power that it takes, where a switching regulator makes it constant; give this or current_A."),
       FIELD(current_A)
           .range(0, kMostAmperes)
           .or_none()
           .means("Current that it takes, where a linear regulator makes it constant; give this or power_W."),
       FIELD(lockout_V)
           .range(0, kMostVolts)
           .or_none()
           .means("Voltage below which it does not run; none where it has no lockout."),
       FIELD(startup_A).range(0, 1000).or_none().means(
           "Largest current while it starts; none where it is no larger than at work."),
       FIELD(boot_s).range(0, kMostSeconds).means("Time from power to the first trigger that it takes."),
       FIELD(reaction_s)
           .range(0, kMostSeconds)
           .means("Longest time from a trigger that it counts to the clip being asked for."),
       FIELD(inputs).range(0, 256).means("Number of trigger inputs."),
       FIELD(channels).range(0, 256).means("Number of video channels."),
       FIELD(network_triggers).means("Whether it takes triggers of a camera's own analytics over the network."),
       FIELD(channel_binding).means("fixed: input n shows channel n; free: any input may show any channel."),
       FIELD(input).means("Its trigger inputs."), FIELD(arming).means("Its arming input.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<ContactSpec>() {
  using Here = ContactSpec;
  static const Record record = {
      "ContactSpec",
      "A contact of a detector or relay.",
      {FIELD(kind).means("What kind of contact it is."),
       FIELD(reports).means(
           "Of a detector's contact, what it reports; programmable: what it is programmed to, as a receiver's relay."),
       FIELD(at_rest).means("Its position with the detector powered and no alarm; of a relay, with the coil dead."),
       FIELD(without_supply)
           .means(
               "Of a detector that needs a supply: its position while the detector has less than its lowest voltage, "
               "or none at all; unaffected: it needs no supply and goes on reporting, as a lid switch does."),
       FIELD(closed_ohm).range(0, 1e6).means("Resistance when closed, over its life."),
       FIELD(open_ohm)
           .range(0, kMostOhms)
           .or_none()
           .means("Leakage resistance when open; none where it is negligible by data sheet."),
       FIELD(max_V).range(0, 1000).means("Highest voltage that it may switch."),
       FIELD(max_A).range(0, kMostAmperes).means("Highest current that it may switch."),
       FIELD(hold_s)
           .range(0, kMostSeconds)
           .or_none()
           .means("Shortest time that it stays in alarm; none where it follows its cause.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<DetectorSpec>() {
  using Here = DetectorSpec;
  static const Record record = {
      "DetectorSpec",
      "A kind of detector, contact or button.",
      {FIELD(technology).means("How it detects."),
       FIELD(supply_min_V)
           .range(0, kMostVolts)
           .or_none()
           .means("Lowest voltage at which it works; none where it needs no supply."),
       FIELD(supply_max_V)
           .range(0, kMostVolts)
           .or_none()
           .means("Highest voltage that it may be fed with; none where it needs no supply."),
       FIELD(current_A)
           .range(0, kMostAmperes)
           .or_none()
           .means("Current that it takes, the larger of rest and alarm; none where it needs no supply."),
       FIELD(response_s)
           .range(0, kMostSeconds)
           .means(
               "Longest time from a person who moves in its pattern, or from what it guards being moved, to the alarm "
               "at its contacts."),
       FIELD(contacts)
           .at_most(kMostContactsOfPart)
           .means("Its contacts, by an id of your choice: alarm, tamper, spare and the like."),
       FIELD(pattern).means("Where it detects, mounted as its sheet says.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<RelaySpec>() {
  using Here = RelaySpec;
  static const Record record = {
      "RelaySpec",
      "A kind of relay.",
      {FIELD(coil_ohm).range(1, 1e6).means("Resistance of the coil."),
       FIELD(pull_in_V).range(0, kMostVolts).means("Voltage at which it certainly pulls in."),
       FIELD(drop_out_V).range(0, kMostVolts).means("Voltage at which it certainly drops out."),
       FIELD(coil_max_V).range(0, 1000).means("Highest voltage that the coil may be fed with."),
       FIELD(contacts).at_most(kMostContactsOfPart).means("Its contacts, by an id of your choice.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<OptocouplerSpec>() {
  using Here = OptocouplerSpec;
  static const Record record = {
      "OptocouplerSpec",
      "A kind of optocoupler.",
      {FIELD(forward_V).range(0, 10).means("Forward voltage of the LED."),
       FIELD(led_min_A).range(0, 1).means("Least current at which the LED switches for certain."),
       FIELD(led_max_A).range(0, 1).means("Largest current that the LED stands."),
       FIELD(transfer_pct).range(0, 100000).means("Output current as a share of the LED's current.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<BufferSpec>() {
  using Here = BufferSpec;
  static const Record record = {
      "BufferSpec",
      "A kind of high-impedance buffer: amplifiers of gain one, each between a trigger wire and an input of a unit.",
      {FIELD(channels).range(1, 256).means("Number of amplifiers."),
       FIELD(input_ohm).range(0, kMostOhms).means("Resistance of an input to its negative, powered or not."),
       FIELD(capacitance_nF)
           .range(0, 1e7)
           .or_none()
           .means("Capacitance of an input to its negative; none where it is negligible by data sheet."),
       FIELD(filter_s)
           .range(0, kMostSeconds)
           .or_none()
           .means("Time constant from input to output; none where it is negligible by data sheet."),
       FIELD(error_V)
           .range(0, kMostVolts)
           .means("Error of the output against the input, as plus or minus volts, at loads of load_min_ohm and more."),
       FIELD(output_max_V).range(0, kMostVolts).means("Highest voltage that an output reaches at the lowest supply."),
       FIELD(load_min_ohm).range(0, kMostOhms).means("Lowest resistance that an output may be loaded with."),
       FIELD(damage_min_V).range(-1000, 1000).means("Lowest voltage that an input survives."),
       FIELD(damage_max_V).range(-1000, 1000).means("Highest voltage that an input survives."),
       FIELD(supply_min_V).range(0, kMostVolts).means("Lowest voltage at which it works."),
       FIELD(supply_max_V).range(0, kMostVolts).means("Highest voltage that it may be fed with."),
       FIELD(current_A).range(0, kMostAmperes).means("Current of all its amplifiers together.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<LoadSpec>() {
  using Here = LoadSpec;
  static const Record record = {
      "LoadSpec",
      "Any other consumer: sounder, keypad, dialler.",
      {FIELD(supply_min_V).range(0, kMostVolts).means("Lowest voltage at which it works."),
       FIELD(supply_max_V).range(0, kMostVolts).means("Highest voltage that it may be fed with."),
       FIELD(current_A).range(0, kMostAmperes).means("Current at rest."),
       FIELD(alarm_current_A).range(0, kMostAmperes).means("Current added in alarm.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Part>() {
  using Here = Part;
  static const Record record = {
      "Part",
      "One kind of component, as its data sheet tells it. Exactly the object that is named like `kind` is present.",
      {FIELD(name).means("What it is, in the words of the trade."),
       FIELD(kind).needed().means("What kind of component it is."),
       FIELD(source)
           .as(TextForm::lines, 1000)
           .means("The data sheet, standard or table that the numbers are taken from."),
       FIELD(shelf_version).means("Version of the shelf that it was copied from; left out for a part of your own."),
       FIELD(shelf_hash).as(TextForm::sha256, 64).means("SHA-256 of the shelf's entry when it was copied."),
       FIELD(origin).means("Where its numbers come from that state no origin of their own."),
       FIELD(note).as(TextForm::lines, 4000).means("Anything worth knowing, in words."),
       FIELD(cable).means("What a cable is."),
       FIELD(resistor).means("What a resistor is."),
       FIELD(battery).means("What a battery is."),
       FIELD(supply).means("What a supply is."),
       FIELD(panel).means("What a panel is."),
       FIELD(expander).means("What an expander is."),
       FIELD(zone_terminal).means("What a zone terminal is."),
       FIELD(unit).means("What an interface unit is."),
       FIELD(detector).means("What a detector is."),
       FIELD(output).means("What a programmable output is."),
       FIELD(relay).means("What a relay is."),
       FIELD(optocoupler).means("What an optocoupler is."),
       FIELD(buffer).means("What a high-impedance buffer is."),
       FIELD(load).means("What another consumer is."),
       FIELD(camera).means("What a camera is."),
       FIELD(lens).means("What a lens is."),
       FIELD(network_switch).means("What a network switch is."),
       FIELD(injector).means("What an injector is."),
       FIELD(router).means("What a router is."),
       FIELD(recorder).means("What a recorder is."),
       FIELD(ups).means("What a mains supply with its own battery is.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<PartsFile>() {
  using Here = PartsFile;
  static const Record record = {
      "PartsFile",
      "A file of parts: the shelf's or a person's own.",
      {FIELD(version).range(kPartsVersion, kPartsVersion).needed().means("Version of the file format."),
       FIELD(name).means("What people call this collection of parts."),
       FIELD(shelf_version).means("Version of the parts shelf; left out in a file of your own."),
       FIELD(note).as(TextForm::lines, 4000).means("Anything worth knowing, in words."),
       FIELD(origin).means("Where the numbers of parts come from that state no origin of their own."),
       FIELD(parts).at_most(kMostParts).means("The parts, by id.")},
      sizeof(Here),
      {}};
  return record;
}

}  // namespace zoneproof::site
