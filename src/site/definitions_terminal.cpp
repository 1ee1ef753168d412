// Every field of a zone terminal: key (the member's name), plausible range, meaning. See field.hpp.
#include "site/definitions.hpp"
#include "site/site_record.hpp"

#define FIELD ZONEPROOF_FIELD

namespace zoneproof::site {

template <>
const Record& record_of<Window>() {
  using Here = Window;
  static const Record record = {
      "Window",
      "A band of terminal voltage with one meaning, in volts or in percent of the source voltage.",
      {FIELD(means).needed().means("What the panel takes it for."),
       FIELD(min_V)
           .range(-kMostVolts, kMostVolts)
           .or_none()
           .means("Lower end against the terminal's reference; none where it is open on that side."),
       FIELD(max_V)
           .range(-kMostVolts, kMostVolts)
           .or_none()
           .means("Upper end against the terminal's reference; none where it is open on that side."),
       FIELD(min_pct).range(-200, 200).or_none().means(
           "Lower end as a share of the source voltage; none where it is open on that side."),
       FIELD(max_pct).range(-200, 200).or_none().means(
           "Upper end as a share of the source voltage; none where it is open on that side.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<Meter>() {
  using Here = Meter;
  static const Record record = {
      "Meter",
      "What the sheet of a meter says of the range that was used.",
      {FIELD(name).means("What the meter is called, so that it can be found again."),
       FIELD(input_ohm)
           .range(1, kMostOhms)
           .or_none()
           .means("Input resistance on the voltage range; none where it draws nothing."),
       FIELD(burden_ohm)
           .range(0, 1e6)
           .or_none()
           .means("Resistance of the meter on the current range; none where it is negligible by data sheet."),
       FIELD(error_pct).range(0, 50).means("Error as a share of the reading: 0.5 of \"0.5 % + 3 digits\"."),
       FIELD(error_digits).range(0, 1000).means("Error in digits, in addition: 3 of \"0.5 % + 3 digits\"."),
       FIELD(digit_V).range(0, 10).means("What one step of the last digit is worth: 0.01 where it shows 13.62."),
       FIELD(digit_A).range(0, 1).means(
           "What one step of the last digit is worth on the current range: 0.00001 where it shows 2.41 mA.")},
      sizeof(Here),
      {}};
  return record;
}

template <>
const Record& record_of<TerminalReading>() {
  using Here = TerminalReading;
  static const Record record = {
      "TerminalReading",
      "A meter reading between the two screws of a terminal, with the loop taken off.",
      {FIELD(kind).means(
           "open: the voltage, with nothing on the screws but the meter; loaded: the voltage over a resistor across "
           "them; shorted: the current, with the ammeter as the short."),
       FIELD(supply).means("Whether the panel was on mains or on its battery."),
       FIELD(shown_V)
           .range(-kMostVolts, kMostVolts)
           .means("Voltage that the meter showed, counted as the windows are; min and max where its digits moved."),
       FIELD(shown_A).range(-10, 10).means("Current that the meter showed, counted as the windows are."),
       FIELD(resistor_ohm).range(1, 1e8).means("The resistor across the screws, with its tolerance or as measured."),
       FIELD(meter).means("The meter, on the range that was used."),
       FIELD(note).as(TextForm::lines, 1000).means("Anything worth knowing, in words.")},
      sizeof(Here),
      {}};
  return record;
}

namespace {

using Here = ZoneTerminalSpec;

std::vector<Field> terminal_fields() {
  return {
      FIELD(refers_to).means("What the terminal's voltage refers to, or what drives it."),
      FIELD(drive).means("Whether the terminal is driven all the time, in pulses of one polarity, in both, or by an "
                         "alternating voltage."),
      FIELD(source).means("Whether its source is regulated or follows the raw supply rail."),
      FIELD(source_V)
          .range(-kMostVolts, kMostVolts)
          .or_none()
          .means("Open-circuit voltage of a regulated source; of a pulsed one, in the pulse."),
      FIELD(source_pct).range(0, 200).or_none().means("Open-circuit voltage as a share of the raw rail."),
      FIELD(pullup_ohm).range(0, 1e8).or_none().means("Source resistance seen at the terminal."),
      FIELD(current_A).range(0, 1).or_none().means("Current source: the current that it drives."),
      FIELD(forward_V).range(0, 10).or_none().means("Optocoupled: voltage across the LED, in series with the pull-up."),
      FIELD(series_ohm)
          .range(0, 1e8)
          .or_none()
          .means("Resistance between terminal and measuring point; none where there is none."),
      FIELD(input_ohm)
          .range(0, kMostOhms)
          .or_none()
          .means("Load of the measuring input to the reference; none where it is negligible by data sheet."),
      FIELD(filter_s)
          .range(0, kMostSeconds)
          .or_none()
          .means("Time constant of the input filter; none where there is no filter.")};
}

std::vector<Field> pulse_fields() {
  return {
      FIELD(on_s).range(0, kMostSeconds).or_none().means("Scanned and bipolar: how long the source is on."),
      FIELD(period_s)
          .range(0, kMostSeconds)
          .or_none()
          .means("Pulsed terminals: time from one pulse to the next; alternating: of one whole oscillation."),
      FIELD(off_V)
          .range(-kMostVolts, kMostVolts)
          .or_none()
          .means("Scanned and bipolar: open-circuit voltage between the pulses; none where the source then lets go."),
      FIELD(reverse_V)
          .range(-kMostVolts, kMostVolts)
          .means("Bipolar: open-circuit voltage in the other polarity, with its sign."),
      FIELD(reverse_s)
          .range(0, kMostSeconds)
          .or_none()
          .means("Bipolar: how long the other polarity lasts; none where it lasts for all the rest of the period."),
      FIELD(rms_V)
          .range(0, kMostVolts)
          .means("Alternating: open-circuit voltage as its root mean square, rectified halves included."),
      FIELD(wave).means("Alternating: its shape; half_wave and full_wave are a rectified sine."),
      FIELD(look_s)
          .range(0, kMostSeconds)
          .means(
              "Pulsed terminals: when the panel looks, from the start of the pulse; alternating: from where the wave "
              "rises through the middle, of a full_wave from nothing."),
      FIELD(capacitance_nF)
          .range(0, 1e7)
          .or_none()
          .means(
              "Capacitance across the two screws inside the panel, which every pulse has to charge; none where it is "
              "negligible by data sheet.")};
}

std::vector<Field> reading_fields() {
  return {
      FIELD(scan_s).range(0, kMostSeconds).or_none().means("Longest time between two looks at the input."),
      FIELD(debounce_s).range(0, kMostSeconds).or_none().means("How long a state must last to count."),
      FIELD(windows).at_most(kMostWindows).means("What the panel takes each voltage for, by an id of your choice."),
      FIELD(readings)
          .at_most(kMostReadings)
          .means("Meter readings at this terminal, by an id of your choice: they tell source_V and pullup_ohm where no "
                 "papers do.")};
}

std::vector<Field> all_of(std::vector<Field> fields, const std::vector<std::vector<Field>>& more) {
  for (const std::vector<Field>& some : more) fields.insert(fields.end(), some.begin(), some.end());
  return fields;
}

}  // namespace

template <>
const Record& record_of<ZoneTerminalSpec>() {
  static const Record record = {"ZoneTerminalSpec",
                                "A kind of zone terminal of a panel or expander.",
                                all_of(terminal_fields(), {pulse_fields(), reading_fields()}),
                                sizeof(Here),
                                {}};
  return record;
}

}  // namespace zoneproof::site
